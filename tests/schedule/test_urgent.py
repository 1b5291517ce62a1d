"""Starts for late weeks: the work that is due first, planned alone."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from typing import Any

import pytest

from planner.schedule import Fixed, Problem
from planner.schedule import urgent as module
from planner.schedule.compiled import TERMS, Compiled, compile_problem
from planner.schedule.decoder import decode
from planner.schedule.dispatch import Start
from planner.schedule.problem import Term
from planner.schedule.rules import make_rules
from planner.schedule.urgent import Urgent, start_with_urgent
from planner.stop import Stop
from tests.benchmarks.weeks import a_week

VIOLATION = TERMS.index(Term.VIOLATION)
LATENESS = TERMS.index(Term.LATENESS)
SECONDS = 0.1


def unheard(_done: float, _terms: tuple[int, ...]) -> None:
    """Nobody listens."""


def urgent(
    problem: Problem, *, stop: Stop | None = None, seconds: float = SECONDS, seed: int = 1
) -> tuple[list[Start], Urgent]:
    """The rules' starts, and those with the urgent work in front."""
    compiled = compile_problem(problem)
    starts = make_rules(compiled).starts
    asked = stop or Stop()
    return starts, start_with_urgent(compiled, starts, seconds, asked, seed, unheard)


def best(starts: list[Start]) -> int:
    """The least weighted lateness among them."""
    return min(start.terms[LATENESS] for start in starts)


def _hurried(week: Problem) -> Problem:
    """All of it due sooner."""
    hurried = tuple(replace(job, due_min=round(0.7 * job.due_min)) for job in week.jobs)
    return replace(week, jobs=hurried)


def test_a_late_week_is_less_late_when_the_urgent_work_is_planned_first() -> None:
    starts, found = urgent(a_week(80, 1))
    assert best(starts) > 0
    assert best([*found.starts]) < best(starts)
    assert 0 < found.seconds <= SECONDS
    assert found.tried > 0


def test_each_part_goes_on_from_the_lines_of_the_one_before_too() -> None:
    """From what annealing made of the part alone, these two together come to 2.07 of the rules."""
    shares: list[float] = []
    for number, seed in ((2, 0), (3, 2)):
        week = a_week(80, number, finishers=2, people=True)
        starts, found = urgent(_hurried(week), seconds=1.0, seed=seed)
        shares.append(best([*found.starts]) / best(starts))
    assert sum(shares) < 1.7


def test_the_better_of_two_tries_of_a_part_is_gone_on_from(monkeypatch: pytest.MonkeyPatch) -> None:
    """Where one of both finds nothing the other decides, whichever it is."""
    one, other, none = (_spoilt(monkeypatch, *tries) for tries in ((0,), (1,), (0, 1)))
    assert one.starts == other.starts
    assert best([*one.starts]) < best([*none.starts])


def _spoilt(monkeypatch: pytest.MonkeyPatch, *tries: int) -> Urgent:
    """What comes of a part when these of its tries end with the worst of what was known."""
    improve, seeds = vars(module)["_improved"], list[int]()

    def improved(part: Compiled, known: list[Start], seconds: float, stop: Stop, *more: Any) -> Any:
        seed, hear = more
        seeds.append(seed)
        better = improve(part, known, seconds, stop, 1, hear)
        worst = max(known, key=lambda start: part.levels(start.terms))
        return replace(better, starts=(worst,)) if len(seeds) - 1 in tries else better

    with monkeypatch.context() as patch:
        patch.setattr(module, "_improved", improved)
        patch.setattr(module, "PARTS", (0.65,))
        found = urgent(_hurried(a_week(80, 4)))[1]
    assert len(set(seeds)) == 2
    return found


Known = tuple[Start, ...]
Search = Callable[[Compiled, Known, float], tuple[Start, float]]


def _searched(monkeypatch: pytest.MonkeyPatch, search: Search, **settings: Any) -> Urgent:
    """What comes of the parts when each is searched so: a start, and the seconds that it took."""

    def improved(part: Compiled, known: Known, seconds: float, *_: Any) -> Any:
        start, took_s = search(part, known, seconds)
        return vars(module)["_Improved"]((start,), took_s, 1)

    monkeypatch.setattr(module, "_improved", improved)
    for name, value in settings.items():
        monkeypatch.setattr(module, name, value)
    return urgent(_hurried(a_week(80, 4)), seconds=1.0)[1]


def test_a_part_is_searched_from_each_of_the_better_half_of_what_the_one_before_came_to(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    """Of six searches of the first part the best three are gone on from in turn."""
    found: list[Start] = []
    begun: list[Known] = []

    def search(part: Compiled, known: Known, seconds: float) -> tuple[Start, float]:
        if len(found) == 6:
            begun.append(known)
            return known[0], seconds
        found.append(sorted(set(known), key=lambda start: part.levels(start.terms))[5 - len(found)])
        return found[-1], seconds

    _searched(monkeypatch, search, TRIES=6, PARTS=(0.4, 0.65))
    assert len(set(found)) == len(begun) == 6
    assert begun[:3] == begun[3:]
    assert len(set(begun)) == 3


def test_what_parts_leave_of_their_budget_is_spent_on_the_last_one(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    """Each search takes a quarter of what it may: three more of them begin within the budget."""
    late: list[int] = []

    def search(part: Compiled, known: Known, seconds: float) -> tuple[Start, float]:
        ordered = sorted(known, key=lambda start: part.levels(start.terms))
        start = ordered[0 if len(late) == 4 else -1]
        late.append(start.terms[LATENESS])
        return start, seconds / 4

    found = _searched(monkeypatch, search, PARTS=(0.65,))
    assert len(late) == found.tried == 5
    assert late[4] < late[3]
    assert best([*found.starts]) < _worst_of(monkeypatch)


def test_searches_that_take_nothing_come_to_an_end(monkeypatch: pytest.MonkeyPatch) -> None:
    def search(part: Compiled, known: Known, seconds: float) -> tuple[Start, float]:
        return max(known, key=lambda start: part.levels(start.terms)), 0.0

    assert _searched(monkeypatch, search, PARTS=(0.65,), MOST_SEARCHES=7).tried == 7


def _worst_of(monkeypatch: pytest.MonkeyPatch) -> int:
    """The same where the last search does not find more than those before."""

    def search(part: Compiled, known: Known, seconds: float) -> tuple[Start, float]:
        return max(known, key=lambda start: part.levels(start.terms)), seconds / 4

    return best([*_searched(monkeypatch, search, PARTS=(0.65,)).starts])


def test_every_start_has_all_the_work_in_an_order_that_can_be_done() -> None:
    problem = a_week(80, 1)
    compiled = compile_problem(problem)
    for start in urgent(problem)[1].starts:
        place = {op: i for i, op in enumerate(start.order)}
        assert sorted(place) == list(range(len(compiled.ops)))
        assert all(
            place[pred.operation] < place[i]
            for i, op in enumerate(compiled.ops)
            for pred in op.preds
        )
        assert all(mode in compiled.ops[i].modes for i, mode in enumerate(start.modes))
        assert tuple(decode(compiled, start.order, list(start.modes))[0].terms) == start.terms


def test_fixed_work_keeps_its_times() -> None:
    problem = a_week(80, 1)
    first, *others = problem.operations
    fixed = Fixed(7 * 1440 + 400, 7 * 1440 + 430, "finisher 1")
    held = replace(problem, operations=(replace(first, fixed=fixed), *others))
    starts = urgent(held)[1].starts
    assert starts
    assert min(start.terms[VIOLATION] for start in starts) == 0


def test_a_punctual_week_needs_none() -> None:
    starts, found = urgent(a_week(40, 2))
    assert best(starts) == 0
    assert found == Urgent((), 0.0, 0)


def test_a_stop_request_leaves_the_rules() -> None:
    stop = Stop()
    stop.ask()
    assert urgent(a_week(80, 1), stop=stop)[1].starts == ()


def test_work_that_has_no_place_before_its_end_is_not_a_late_week() -> None:
    week = a_week(8, 1)
    first, *others = week.operations
    problem = replace(week, jobs=(), operations=(replace(first, latest_end_min=1), *others))
    starts, found = urgent(problem)
    assert min(start.terms[VIOLATION] for start in starts) > 0
    assert found == Urgent((), 0.0, 0)
