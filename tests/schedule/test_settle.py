"""Short searches near a known order."""

from __future__ import annotations

import itertools

import pytest

from planner.schedule import (
    Alternative,
    Arc,
    Base,
    Interval,
    Job,
    Operation,
    Problem,
    Rule,
    Station,
    Term,
    Turn,
    settle,
    solve,
    turns_of,
)
from planner.schedule.chain import Chain
from planner.stop import Stop
from tests.schedule.audit import assert_schedule_valid
from tests.schedule.shops import a_random_shop


def a_problem(hours: tuple[Interval, ...] = (Interval(0, 480),), due: int = 400) -> Problem:
    """Three operations on two saws, `b` of another OD than `a` and `c`; `c` waits for `a`."""
    ways = (Alternative("saw", 60), Alternative("old saw", 90))
    rule = Rule("od", 30, from_nothing=0)
    return Problem(
        bases=(Base("saw", (rule,)), Base("old saw", (rule,))),
        stations=(Station("saw", hours=hours), Station("old saw", hours=hours)),
        operations=tuple(
            Operation(key, ways, {"od": od}) for key, od in (("a", "1"), ("b", "2"), ("c", "1"))
        ),
        arcs=(Arc("a", "c"),),
        jobs=(Job("c", due, ("c",)), Job("b", due, ("b",))),
        horizon_min=2 * 1440,
    )


def turns(*words: str) -> tuple[Turn, ...]:
    split = [word.split("@") for word in words]
    return tuple(Turn(operation, station) for operation, station in split)


def keys(found: tuple[Turn, ...]) -> list[str]:
    return [f"{turn.operation}@{turn.station}" for turn in found]


def test_a_given_order_is_kept_as_it_is_without_a_search() -> None:
    given = turns("b@old saw", "a@saw", "c@saw")
    settled = settle(a_problem(), [given], Stop(), 1, 0.0)
    assert keys(settled.turns) == ["b@old saw", "a@saw", "c@saw"]
    assert [turn.end_min for turn in settled.turns] == [90, 60, 120]
    assert settled.figures.terms[Term.CHANGEOVER] == 0


def test_what_must_wait_comes_later_and_what_is_not_listed_comes_last() -> None:
    settled = settle(a_problem(), [turns("c@saw", "a@saw")], Stop(), 1, 0.0)
    assert keys(settled.turns) == ["a@saw", "c@saw", "b@saw"]


def test_a_station_that_cannot_do_it_is_passed_over() -> None:
    settled = settle(a_problem(), [turns("a@mill", "c@saw", "b@saw")], Stop(), 1, 0.0)
    assert keys(settled.turns) == ["a@saw", "c@saw", "b@saw"]


def test_of_several_orders_the_best_is_taken() -> None:
    poor, good = turns("a@saw", "b@saw", "c@saw"), turns("a@saw", "c@saw", "b@old saw")
    settled = settle(a_problem(), [poor, good], Stop(), 1, 0.0)
    assert keys(settled.turns) == keys(good)


def test_a_short_search_mends_a_poor_order() -> None:
    settled = settle(a_problem(), [turns("a@saw", "b@saw", "c@saw")], Stop(), 1, 0.01)
    assert settled.figures.terms[Term.CHANGEOVER] == 0


def test_a_short_search_mends_two_operations_too() -> None:
    rule = Rule("od", 30, from_nothing=0)
    problem = Problem(
        bases=(Base("saw", (rule,), mounted={"od": "1"}),),
        stations=(Station("saw"),),
        operations=tuple(
            Operation(key, (Alternative("saw", 10),), {"od": od})
            for key, od in (("a", "1"), ("b", "2"))
        ),
    )
    settled = settle(problem, [turns("b@saw", "a@saw")], Stop(), 1, 0.01)
    assert keys(settled.turns) == ["a@saw", "b@saw"]


def test_overtime_is_left_alone_where_the_work_fits_without() -> None:
    hours = (Interval(0, 60), Interval(60, 480, overtime_price=1), Interval(1440, 1920))
    settled = settle(a_problem(hours, due=2000), [turns("a@saw", "c@saw")], Stop(), 1, 0.0)
    assert settled.figures.terms[Term.OVERTIME] == 0


def test_the_best_is_never_worse_than_the_order_given() -> None:
    for seed in range(8):
        problem = a_random_shop(seed, 10, fixed=False)
        start = turns_of(solve(problem, Stop(), 0, seconds=0.0).placed)
        before = settle(problem, [start], Stop(), seed, 0.0).figures
        assert settle(problem, [start], Stop(), seed, 0.005).figures.levels <= before.levels


def test_a_full_search_goes_on_from_a_known_order() -> None:
    problem = a_random_shop(3, 12, fixed=False)
    start = turns_of(solve(problem, Stop(), 0, seconds=0.05).placed)
    best = settle(problem, [start], Stop(), 1, 0.05)
    again = solve(problem, Stop(), 1, seconds=0.0, start=best.turns)
    assert again.figures.levels <= best.figures.levels
    assert_schedule_valid(problem, again)


def test_the_same_seed_gives_the_same_order() -> None:
    problem = a_random_shop(5, 15, fixed=False)
    start = turns_of(solve(problem, Stop(), 0, seconds=0.0).placed)
    assert settle(problem, [start], Stop(), 7, 0.01) == settle(problem, [start], Stop(), 7, 0.01)


def test_a_list_gives_the_same_schedule_when_it_is_given_again() -> None:
    problem = a_random_shop(8, 15, fixed=False)
    start = turns_of(solve(problem, Stop(), 0, seconds=0.0).placed)
    found = settle(problem, [start], Stop(), 1, 0.01)
    assert settle(problem, [found.turns], Stop(), 1, 0.0) == found


def moves_of(
    problem: Problem, stop: Stop, seconds: float, monkeypatch: pytest.MonkeyPatch
) -> list[int]:
    """Moves of each call of the kernel in a short search from the order as entered."""
    called: list[int] = []
    anneal = Chain.anneal

    def note(chain: Chain, moves: int, hot: float, cold: float, merges: int) -> int:
        called.append(moves)
        return anneal(chain, moves, hot, cold, merges)

    with monkeypatch.context() as patch:
        patch.setattr(Chain, "anneal", note)
        settle(problem, [turns("a@saw", "b@saw", "c@saw")], stop, 1, seconds)
    return called


def test_a_late_order_is_searched_with_fewer_moves_as_each_takes_longer(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    punctual, late = (
        sum(moves_of(a_problem(due=due), Stop(), 0.01, monkeypatch)) for due in (400, 100)
    )
    assert late < punctual


def test_a_stop_request_ends_a_long_search_after_a_slice(monkeypatch: pytest.MonkeyPatch) -> None:
    whole = moves_of(a_problem(), Stop(), 1.0, monkeypatch)
    ticks = itertools.count()
    stopped = moves_of(a_problem(), Stop(3, lambda: float(next(ticks))), 1.0, monkeypatch)
    assert len(whole) == 2 * 4
    assert 0 < len(stopped) < len(whole)
