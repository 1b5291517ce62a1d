"""Work that needs people, ordered as if nobody were needed at first."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import replace
from typing import Any

import pytest

from planner.schedule import Term, solve
from planner.schedule.budget import Budget
from planner.schedule.compiled import NOWHERE, TERMS, Compiled, compile_problem
from planner.schedule.decoder import decode, placed
from planner.schedule.dispatch import Start
from planner.schedule.lanes import LANES
from planner.schedule.overtime import punctual
from planner.schedule.phases import plan_melting_phases, plan_mild_phases
from planner.schedule.problem import Fixed, Issued, Problem
from planner.schedule.rates import iterations_for
from planner.schedule.rules import make_rules
from planner.schedule.search import search
from planner.schedule.unstaffed import (
    SLACKENING,
    is_worth_it,
    search_unstaffed,
    unstaffed,
    with_slack,
)
from planner.stop import Stop
from tests.benchmarks.weeks import a_week
from tests.schedule.audit import assert_schedule_valid


def changeovers(start: Start) -> int:
    return start.terms[TERMS.index(Term.CHANGEOVER)]


def rules_of(problem: Problem) -> tuple[Compiled, Sequence[Start]]:
    compiled = compile_problem(problem)
    return compiled, make_rules(compiled).starts


def never(_: Sequence[int]) -> bool:
    return False


def quiet(_: float, __: Sequence[int]) -> None:
    pass


def a_budget(seconds: float, hear: Callable[[float, tuple[int, ...]], None] = quiet) -> Budget:
    return Budget(seconds, Stop(), 1, hear, never)


def test_with_nobody_needed_a_list_takes_no_longer() -> None:
    compiled, starts = rules_of(a_week(30, 5, people=True))
    free = unstaffed(compiled)
    for start in starts:
        placed, steps = decode(free, start.order, list(start.modes))
        staffed, manned = decode(compiled, start.order, list(start.modes))
        ends = {step.operation: step.end for step in manned}
        assert all(step.end <= ends[step.operation] for step in steps)
        assert placed.terms[TERMS.index(Term.CHANGEOVER)] == changeovers(
            replace(start, terms=tuple(staffed.terms))
        )


def test_people_get_time_in_which_nobody_is_needed() -> None:
    """Work that may pause takes longer and all is due earlier; a shift still holds the rest."""
    problem = a_week(8, 5, people=True)
    rigid = replace(problem.operations[0], may_pause=False)
    compiled = compile_problem(replace(problem, operations=(rigid, *problem.operations[1:])))
    free = unstaffed(compiled, 1.5, 90)
    assert [due + 90 for due in free.due] == list(compiled.due)
    assert [aim + 90 for aim in free.aim] == list(compiled.aim)
    for mode, usual in zip(free.modes, compiled.modes, strict=True):
        times = 1.5 if compiled.ops[mode.operation].may_pause and usual.base != NOWHERE else 1.0
        assert mode.duration == round(times * usual.duration)
    assert free.modes[0].duration == compiled.modes[0].duration > 0


def test_less_is_late_with_people_where_they_were_given_time() -> None:
    """Orders of the same number of moves, one after another for four people at two finishers."""
    week = a_week(80, 82, finishers=2, people=True)
    compiled, starts = rules_of(replace(week, people=week.people[:4]))
    best = min(starts, key=lambda start: compiled.levels(start.terms))

    def late_with(free: Compiled) -> int:
        begin = placed(free, best.order, best.modes)
        found = a_budget(0.3).search(free, [begin], 0.3, plan_melting_phases)
        assert punctual(found)
        staffed = placed(compiled, found.order, found.modes)
        return staffed.terms[TERMS.index(Term.LATENESS)]

    assert 2 * late_with(unstaffed(compiled, 1.2, 60)) < late_with(unstaffed(compiled))


def test_less_is_late_with_people_where_time_to_spare_was_worth_changeovers() -> None:
    compiled, starts = rules_of(a_week(80, 82, finishers=2, people=True))
    best = min(starts, key=lambda start: compiled.levels(start.terms))
    free = unstaffed(compiled)
    begin = a_budget(0.3).search(free, [best], 0.3, plan_melting_phases)

    def late_with(problem: Compiled) -> int:
        start = placed(problem, begin.order, begin.modes)
        found = a_budget(0.2).search(problem, [start], 0.2, plan_mild_phases)
        assert punctual(found)
        staffed = placed(compiled, found.order, found.modes)
        return staffed.terms[TERMS.index(Term.LATENESS)]

    assert 2 * late_with(with_slack(free)) < late_with(free)


def test_time_to_spare_has_its_price() -> None:
    """A line of weight 1 that ends when it is due has a tightness of 100."""
    compiled, _ = rules_of(a_week(8, 5))
    slack = with_slack(compiled)
    assert slack.due == compiled.due
    assert slack.aim == tuple(due - 720 for due in compiled.due)
    assert set(slack.spare) == {720}
    for before, after in zip(compiled.weights, slack.weights, strict=True):
        prices = dict(zip(TERMS, after, strict=True))
        if not before[TERMS.index(Term.CHANGEOVER)]:
            assert after == before
        else:
            assert prices[Term.CHANGEOVER] == 8 * prices[Term.TIGHTNESS]


class Noted(Budget):
    """A budget that keeps what is searched."""

    def __init__(self, seconds: float) -> None:
        super().__init__(seconds, Stop(), 1, quiet, never)
        self.searched: list[Compiled] = []

    def search(self, compiled: Compiled, *how: Any, **more: Any) -> Start:
        self.searched.append(compiled)
        return super().search(compiled, *how, **more)


def four_people(seed: int) -> tuple[Compiled, Sequence[Start]]:
    week = a_week(80, seed, finishers=2, people=True)
    return rules_of(replace(week, people=week.people[:4]))


@pytest.mark.parametrize(
    ("seed", "with_people"),
    [
        (72, 1),  # in time when it is staffed, once there is time to spare
        (60, 2),  # nearly, and mended
        (67, 4),  # tried too early, twice
    ],
)
def test_what_cannot_be_staffed_is_ordered_again_with_more_time(
    seed: int, with_people: int
) -> None:
    compiled, starts = four_people(seed)
    budget = Noted(0.3)
    found = search_unstaffed(compiled, starts, budget)
    assert punctual(found)
    assert changeovers(found) < changeovers(a_budget(0.3).search(compiled, starts, 0.3))
    free = [problem for problem in budget.searched if not problem.people_free]
    assert len(budget.searched) - len(free) == with_people
    assert budget.searched[-1] is compiled
    dues = [problem.due for problem in free[1:]]
    assert dues == sorted(dues, reverse=True)
    assert free[-1].due < free[2].due
    longest = [sum(mode.duration for mode in problem.modes) for problem in free[1:]]
    assert longest == sorted(longest)
    assert longest[-1] > longest[1]


def test_what_no_time_to_spare_makes_punctual_begins_again_from_the_rules() -> None:
    """Where a budget is so short that the mending is too."""
    compiled, starts = four_people(71)
    budget = Noted(0.12)
    found = search_unstaffed(compiled, starts, budget)
    best = min(starts, key=lambda start: compiled.levels(start.terms))
    assert len(budget.searched) == 2 + len(SLACKENING) + 2
    assert punctual(found)
    assert changeovers(found) < changeovers(best)


def test_a_week_that_is_easily_staffed_is_not_given_more_time_than_its_price() -> None:
    compiled, starts = rules_of(a_week(30, 5, people=True))
    budget = Noted(0.3)
    assert punctual(search_unstaffed(compiled, starts, budget))
    free = [problem for problem in budget.searched if not problem.people_free]
    assert {problem.due for problem in free} == {compiled.due}


@pytest.mark.parametrize("finishers", [1, 2])
def test_it_beats_a_search_with_people_from_the_beginning(finishers: int) -> None:
    """With the same seconds by the table of rates; two weeks, so that one seed decides nothing."""
    free_min = manned_min = 0
    for seed in (81, 82):
        compiled, starts = rules_of(a_week(80, seed, finishers=finishers, people=True))
        budget = a_budget(1.0)
        found = search_unstaffed(compiled, starts, budget)
        moves = iterations_for(compiled, 1.0)
        other = search(compiled, starts, moves, Stop(), 1, quiet, never)
        assert punctual(found)
        assert budget.spent_s == pytest.approx(1.0, rel=0.01)
        free_min += changeovers(found)
        manned_min += changeovers(other.best)
    assert free_min < manned_min


def test_where_two_people_run_all_stations_it_is_given_up_after_a_look() -> None:
    week = a_week(80, 83, people=True)
    every = tuple(station.key for station in week.stations)
    two = tuple(replace(person, stations=every) for person in week.people[:2])
    compiled, starts = rules_of(replace(week, people=two))
    budget = a_budget(0.4)
    found = search_unstaffed(compiled, starts, budget)
    assert budget.searches == 2
    assert compiled.levels(found.terms) < min(compiled.levels(start.terms) for start in starts)


def test_what_is_told_are_plans_with_people() -> None:
    compiled, starts = rules_of(a_week(30, 5, people=True))
    heard: list[tuple[float, tuple[int, ...]]] = []
    best = min(starts, key=lambda start: compiled.levels(start.terms))

    def hear(share: float, terms: tuple[int, ...]) -> None:
        heard.append((share, terms))

    found = search_unstaffed(compiled, starts, a_budget(0.3, hear))
    shares = [share for share, _ in heard]
    assert shares == sorted(shares)
    assert shares[-1] == pytest.approx(1.0)
    least = min(terms for _, terms in heard if not terms[TERMS.index(Term.LATENESS)])
    assert compiled.levels(least) >= compiled.levels(found.terms)
    assert heard[0][1] == best.terms


def test_work_that_is_fixed_with_people_keeps_them() -> None:
    problem = a_week(12, 4, people=True)
    result = solve(problem, Stop(), seconds=0.2)
    first = min(result.placed, key=lambda one: one.start_min)
    fixed = Fixed(first.start_min, first.end_min, first.station, first.people)
    operations = tuple(
        replace(op, fixed=fixed) if op.key == first.operation else op for op in problem.operations
    )
    again = replace(problem, operations=operations)
    found = solve(again, Stop(), seconds=0.2)
    assert_schedule_valid(again, found)
    kept = next(one for one in found.placed if one.operation == first.operation)
    assert (kept.start_min, kept.people) == (first.start_min, first.people)


def test_an_order_that_was_issued_is_not_left_for_another() -> None:
    problem = a_week(8, 4, people=True)
    op = problem.operations[0]
    issued = Issued(op.alternatives[0].station, 400)
    again = replace(problem, operations=(replace(op, issued=issued), *problem.operations[1:]))
    assert is_worth_it(compile_problem(problem))
    assert not is_worth_it(compile_problem(again))
    assert not is_worth_it(compile_problem(a_week(8, 4)))


def test_what_is_punctual_after_a_short_trial_gets_the_moves_of_punctual_work() -> None:
    """Moves from late starts cost several times as much, and so there are fewer of them."""
    week = a_week(80, 84, finishers=2, people=True)
    every = tuple(station.key for station in week.stations)
    three = tuple(replace(person, stations=every) for person in week.people[:3])
    problem = replace(week, people=three)
    compiled, starts = rules_of(problem)
    assert not any(punctual(start) for start in starts)
    result = solve(problem, Stop(), 1, seconds=4.0)
    assert result.figures.terms[Term.LATENESS] == 0
    assert result.iterations > 2 * LANES * iterations_for(compiled, 4.0, late=True)


def test_a_search_that_ends_early_leaves_its_rest() -> None:
    compiled, starts = rules_of(a_week(12, 4))
    budget = a_budget(1.0)
    budget.search(compiled, starts, 0.5, enough=lambda _: True)
    assert budget.left_s == pytest.approx(1.0)
    budget.search(compiled, starts, 0.01)
    assert budget.spent_s == pytest.approx(0.01, rel=0.01)
    assert budget.tried == LANES * iterations_for(compiled, 0.01)
