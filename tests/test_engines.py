"""The engines as a plan uses them: what they refuse is said in the words of the shop."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

import pytest

from planner import cutlist
from planner.cutlist import Result
from planner.engines import Engines
from planner.errors import NoPlanError
from planner.schedule import Alternative, Fixed, Interval, Operation, Problem, Station
from planner.stop import Status, Stop
from tests.benchmarks.cutlist_weeks import a_week
from tests.week import options


def refusal(*operations: Operation) -> list[str]:
    saw = Station("Saw", hours=(Interval(420, 720), Interval(750, 930)))
    problem = Problem(stations=(saw,), operations=operations, horizon_min=1440)
    with pytest.raises(NoPlanError) as refused:
        Engines().orderer(options()).whole(problem, 0.01)
    return [finding.message for finding in refused.value.findings]


def test_a_latest_end_that_cannot_be_kept_is_said_as_day_and_time() -> None:
    late = Operation("a", (Alternative("Saw", 100),), latest_end_min=500, name="saw of lot L01")
    assert refusal(late) == [
        "Saw of lot L01 ends at Mon 30 Nov 8:40, after its limit, Mon 30 Nov 8:20; "
        "give more hours, a later limit or less work."
    ]


def test_work_at_a_time_that_cannot_be_kept_is_not_told_as_a_full_week() -> None:
    way = (Alternative("Saw", 60),)
    first = Operation("a", way, fixed=Fixed(430, 490, "Saw"), name="saw of lot L01")
    second = Operation("b", way, fixed=Fixed(450, 510, "Saw"), name="saw of lot L02")
    (words,) = refusal(first, second)
    assert words.startswith("Saw of lot L0")
    assert "is fixed at Mon 30 Nov 7:" in words
    assert "are free only at Mon 30 Nov 8:10; move it" in words or "8:30; move it" in words


def test_a_full_week_is_told_by_its_days() -> None:
    (words,) = refusal(Operation("a", (Alternative("Saw", 500),), name="saw of lot L01"))
    assert words.startswith("The week does not fit into its")


def test_after_a_stop_request_no_more_work_goes_into_cut_lists(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    """A quick look leaves these open; on a big book there are hundreds of rounds of them."""
    deeper: list[int] = []

    def noted(problems: Sequence[cutlist.Problem], *_: object, **__: object) -> list[Result]:
        deeper.append(len(problems))
        return [cutlist.solve(problem, work=0.0) for problem in problems]

    monkeypatch.setattr("planner.cutlist.solve_all", noted)
    stop = Stop()
    stop.ask()
    problems = a_week(3, 5)
    for each, rounds in ((Stop(), 1), (stop, 0)):
        deeper.clear()
        results = Engines(each).cutter(options(seconds=8.0)).thorough(problems)
        assert any(result.status is not Status.PROVEN for result in results)
        assert len(deeper) == rounds


def test_a_lot_is_looked_at_once_more_where_its_parts_are_cheaper_than_it(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    """The look takes quick packings alone, so that what lots cost is left open."""
    monkeypatch.setattr("planner.engines.GLANCE", 0.0)
    apart_is_cheaper = 0
    for group in a_week(6, 2):
        endless = tuple(replace(kind, count=None) for kind in group.stock)
        whole = replace(group, stock=endless)
        halves = [replace(whole, demands=whole.demands[first::2]) for first in (0, 1)]
        cutter = Engines().cutter(options(seconds=8.0))
        (alone,) = cutter.quick([whole])
        apart = sum(result.cost_cents for result in cutter.thorough(halves))
        (again,) = cutter.quick([whole])
        assert again.cost_cents <= min(alone.cost_cents, apart)
        assert again.bound_cents >= alone.bound_cents
        apart_is_cheaper += apart < alone.cost_cents
    assert apart_is_cheaper


def test_a_cutter_apart_learns_for_itself_and_the_cheaper_of_two_cut_lists_is_kept(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    """Both know a look at the same lots; one spends its budget on them."""
    monkeypatch.setattr("planner.engines.GLANCE", 0.0)
    problems = a_week(6, 2)
    cutter = Engines().cutter(options(seconds=8.0))
    known = cutter.quick(problems)
    other = cutter.apart()
    assert other.quick(problems) == known
    cheaper = other.thorough(problems)
    assert sum(one.cost_cents for one in cheaper) < sum(one.cost_cents for one in known)
    assert cutter.quick(problems) == known
    cutter.learn(other)
    assert cutter.quick(problems) == cheaper
    other.learn(cutter)
    assert other.quick(problems) == cheaper
