"""Seconds become moves by a table."""

from __future__ import annotations

import pytest

from planner.schedule.compiled import compile_problem
from planner.schedule.rates import after_preparing, iterations_for
from tests.benchmarks.weeks import a_week
from tests.schedule.shops import a_random_shop


@pytest.mark.parametrize("people", [False, True])
def test_moves_get_fewer_with_the_size_and_from_a_late_start(people: bool) -> None:
    small, large = (
        compile_problem(a_random_shop(1, operations, people=people)) for operations in (20, 60)
    )
    assert iterations_for(small, 2.0) > iterations_for(large, 2.0) > 0
    assert iterations_for(large, 2.0) > iterations_for(large, 2.0, late=True) > 0


def test_a_late_start_with_people_costs_more_the_more_there_is_to_do() -> None:
    times = [
        iterations_for(compiled, 2.0) / iterations_for(compiled, 2.0, late=True)
        for lots in (2, 12, 80)
        for compiled in [compile_problem(a_week(lots, 23, people=True))]
    ]
    assert [round(each, 1) for each in times] == [1.5, 3.8, 5.5]


def test_rules_and_floors_leave_the_search_at_least_half_of_the_seconds() -> None:
    compiled = compile_problem(a_random_shop(1, 60))
    assert after_preparing(compiled, 0.1) == 0.05
    assert 58.0 < after_preparing(compiled, 60.0) < 60.0
