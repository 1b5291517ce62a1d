"""What parts are cut from, the whole can be cut from; and a search may begin with that."""

from __future__ import annotations

from dataclasses import replace

from planner.cutlist import Problem, Result, StockKind, joined, solve
from planner.cutlist.joined import Part
from tests.benchmarks.cutlist_weeks import a_week
from tests.cutlist.builders import a_problem, assert_plan_valid


def parts_of(whole: Problem) -> list[Part]:
    """Each second line in one part, the others in another, both cut from the same sticks."""
    halves = [replace(whole, demands=whole.demands[first::2]) for first in (0, 1)]
    return [(half, solve(half, work=0.5)) for half in halves]


def begun(whole: Problem, start: Result | None) -> Result:
    return solve(whole, work=0.0, before=start)


def test_a_search_that_begins_with_the_parts_costs_no_more_than_they_do() -> None:
    weeks = [
        replace(group, stock=tuple(replace(kind, count=None) for kind in group.stock))
        for group in a_week(6, 2)
    ]
    gained = 0
    for whole in weeks:
        parts = parts_of(whole)
        start = joined(whole, parts)
        assert start is not None
        assert start.cost_cents == sum(result.cost_cents for _, result in parts)
        found = begun(whole, start)
        assert_plan_valid(whole, found)
        assert found.cost_cents <= start.cost_cents
        gained += found.cost_cents < begun(whole, None).cost_cents
    assert gained


def test_sticks_that_both_parts_take_must_be_there_for_both() -> None:
    sticks = (StockKind("rack", 100, 1, count=1), StockKind("to buy", 100, 10))
    whole = a_problem((60, 1), (70, 1), stock=sticks)
    parts = parts_of(whole)
    assert [problem.stock[result.patterns[0].stock].label for problem, result in parts] == [
        "rack",
        "rack",
    ]
    assert joined(whole, parts) is None
    two = replace(whole, stock=(replace(sticks[0], count=2), sticks[1]))
    start = joined(two, parts)
    assert start is not None
    assert start.cost_cents == 2


def test_a_stick_that_the_whole_may_not_use_joins_nothing() -> None:
    whole = a_problem((60, 1), (70, 1), stock=(StockKind("other", 100, 10),))
    parts = parts_of(a_problem((60, 1), (70, 1)))
    assert joined(whole, parts) is None
