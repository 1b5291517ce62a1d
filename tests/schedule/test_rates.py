"""Seconds become moves by a table."""

from __future__ import annotations

from dataclasses import replace

import pytest

from planner.schedule import solve
from planner.schedule.compiled import compile_problem
from planner.schedule.rates import after_parts, after_preparing, after_telling, iterations_for
from planner.stop import Stop
from tests.benchmarks.weeks import a_week
from tests.schedule.shops import a_random_shop


@pytest.mark.parametrize("people", [False, True])
def test_moves_get_fewer_with_the_size_and_from_a_late_start(people: bool) -> None:
    small, large = (
        compile_problem(a_random_shop(1, operations, people=people)) for operations in (20, 60)
    )
    assert iterations_for(small, 2.0) > iterations_for(large, 2.0) > 0
    assert iterations_for(large, 2.0) > iterations_for(large, 2.0, late=True) > 0


@pytest.mark.parametrize(
    ("people", "expected"), [(False, [1.1, 1.6, 4.5]), (True, [1.5, 3.8, 5.5])]
)
def test_a_late_start_costs_more_the_more_there_is_to_do(
    people: bool, expected: list[float]
) -> None:
    times = [
        iterations_for(compiled, 2.0) / iterations_for(compiled, 2.0, late=True)
        for lots in (2, 12, 80)
        for compiled in [compile_problem(a_week(lots, 23, people=people))]
    ]
    assert [round(each, 1) for each in times] == expected


def test_rules_and_floors_leave_the_search_at_least_half_of_the_seconds() -> None:
    compiled = compile_problem(a_random_shop(1, 60))
    assert after_preparing(compiled, 0.1) == 0.05
    assert 58.0 < after_preparing(compiled, 60.0) < 60.0


def test_rules_between_parts_grow_with_the_work_and_leave_half() -> None:
    small, large = (compile_problem(a_week(lots, 24)) for lots in (200, 600))
    assert 57.0 < after_parts(large, 60.0) < after_parts(small, 60.0) < 60.0
    assert after_parts(large, 2.0) == 1.0


def test_what_is_told_of_a_late_plan_comes_out_of_its_seconds() -> None:
    taken = [
        60.0 - after_telling(compile_problem(a_week(lots, 24)), 60.0, 1.0)
        for lots in (30, 80, 200, 600)
    ]
    assert [round(each, 1) for each in taken] == [0.7, 1.9, 3.2, 5.4]
    compiled = compile_problem(a_week(80, 24))
    assert after_telling(compiled, 60.0, 0.5) == 60.0 - taken[1] / 2
    assert after_telling(compiled, 1.0, 1.0) == 0.5


def test_a_week_that_stays_late_is_searched_for_the_seconds_that_are_left_for_it() -> None:
    week = a_week(10, 3)
    problem = replace(week, jobs=tuple(replace(job, due_min=0) for job in week.jobs))
    compiled = compile_problem(problem)
    left = after_telling(compiled, after_preparing(compiled, 2.0), 1.0)
    made = solve(problem, Stop(), seconds=2.0).iterations
    assert made == pytest.approx(2 * iterations_for(compiled, left, late=True), rel=0.01)
