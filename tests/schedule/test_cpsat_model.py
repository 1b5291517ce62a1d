"""The direct model that the engine is compared with means what the shop means."""

from __future__ import annotations

import pytest

from planner.schedule import Figures, Term, solve
from planner.stop import Stop
from tests.benchmarks.cpsat import LATE, cpsat_answer, value_of_hint
from tests.benchmarks.weeks import a_week


def own_value(figures: Figures) -> int:
    return LATE * figures.terms[Term.LATENESS] + figures.terms[Term.CHANGEOVER]


@pytest.mark.parametrize("finishers", [1, 2])
def test_a_complete_hint_fits_in_and_has_the_value_of_its_plan(finishers: int) -> None:
    problem = a_week(12, 3, finishers=finishers)
    result = solve(problem, Stop(), seconds=0.2)
    assert result.figures.terms[Term.LATENESS] == 0
    assert value_of_hint(problem, result.placed) == own_value(result.figures)
    for rule, placed in result.rule_orders.items():
        value = value_of_hint(problem, placed)
        assert value is not None
        late = result.rules[rule].terms[Term.LATENESS]
        assert late or value == own_value(result.rules[rule])


def test_what_the_model_proves_the_engine_finds() -> None:
    problem = a_week(3, 5)
    answer = cpsat_answer(problem, 5.0)
    result = solve(problem, Stop(), seconds=0.2)
    assert answer is not None
    assert answer.own == answer.bound == own_value(result.figures)
    assert answer.levels[:3] == result.figures.levels[:3]
