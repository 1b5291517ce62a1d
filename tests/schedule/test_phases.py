"""How a search divides its budget."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from itertools import pairwise

import pytest

from planner.schedule.compiled import Compiled, compile_problem
from planner.schedule.dispatch import Start
from planner.schedule.phases import (
    AFTERWARDS,
    AMPLE,
    HEAT,
    LOOSE,
    MELT,
    MILD,
    MILD_ROUNDS,
    MOVES_A_ROUND,
    SETTLED,
    plan_late_phases,
    plan_mild_phases,
    plan_phases,
    plan_staffed_phases,
    temperatures,
)
from planner.schedule.rules import make_rules
from tests.benchmarks.weeks import a_week


def late_week() -> tuple[Compiled, Start]:
    """A week that rules leave late, and the best of their schedules."""
    compiled = compile_problem(a_week(80, 1))
    return compiled, min(make_rules(compiled).starts, key=lambda s: compiled.levels(s.terms))


def punctual_week() -> tuple[Compiled, Start]:
    """A week that rules leave punctual, and the best of their schedules."""
    compiled = compile_problem(a_week(30, 5))
    best = min(make_rules(compiled).starts, key=lambda s: compiled.levels(s.terms))
    assert not best.terms[1]
    return compiled, best


@pytest.mark.parametrize("moves", [1_000, 10_000_000])
@pytest.mark.parametrize("week", [late_week, punctual_week])
def test_phases_use_the_whole_budget_and_cool(
    week: Callable[[], tuple[Compiled, Start]], moves: int
) -> None:
    compiled, best = week()
    for plan in (plan_phases, plan_late_phases, plan_mild_phases, plan_staffed_phases):
        phases = plan(compiled, best, moves)
        assert phases[-1].done == pytest.approx(1)
        assert sum(phase.share for phase in phases) == pytest.approx(1)
        assert all(hot >= phase.cold for phase in phases for hot in phase.hot)
        assert all(a.hot >= b.hot for a, b in pairwise(phases[1:]))


def test_late_work_planned_alone_is_annealed_where_jobs_take_turns_in_being_late() -> None:
    compiled, best = late_week()
    cool, _, cold = temperatures(compiled, best)
    first, *_, last = plan_late_phases(compiled, best, 1_000)
    assert min(first.hot) > 100 * cool
    assert first.cold > cool
    assert last.cold == cold


def test_a_punctual_start_gets_mild_rounds_where_there_is_time_for_two() -> None:
    compiled, best = punctual_week()
    each = temperatures(compiled, best)[0] / HEAT
    ample = round(AMPLE * MOVES_A_ROUND * len(compiled.ops))
    phases = plan_phases(compiled, best, ample)
    first, *milds, last = phases
    assert first.from_rule == 0
    assert first.hot == pytest.approx((MELT * each, MELT * each))
    assert len(milds) == MILD_ROUNDS
    assert all(mild.from_rule is None for mild in milds)
    assert all(mild.hot == pytest.approx((AFTERWARDS * each,) * 2) for mild in milds)
    assert [p.cold for p in (first, *milds)] == pytest.approx([SETTLED * each] * len(phases[:-1]))
    assert last.energy != first.energy
    alone, _ = plan_phases(compiled, best, ample - 1)
    assert alone.hot[0] == pytest.approx(HEAT * each)


def test_a_late_start_is_not_melted_however_much_time_there_is() -> None:
    compiled, best = late_week()
    cool, hot, cold = temperatures(compiled, best)
    first, again, *_ = plan_phases(compiled, best, 100 * MOVES_A_ROUND * len(compiled.ops))
    assert (first.hot, first.cold) == ((cool, hot), cold)
    assert again.hot[0] < cool


def test_a_mild_round_begins_at_a_share_of_a_mean_changeover_late_or_not() -> None:
    compiled, best = punctual_week()
    punctual_hot = plan_mild_phases(compiled, best, 1_000)[0].hot[0]
    assert punctual_hot == pytest.approx(MILD * temperatures(compiled, best)[0] / HEAT)
    late = replace(best, terms=(0, 500, *best.terms[2:]))
    assert plan_mild_phases(compiled, late, 1_000)[0].hot[0] == pytest.approx(punctual_hot)


def test_what_has_just_been_staffed_is_loosened_and_stays_what_it_is() -> None:
    compiled, best = punctual_week()
    each, _, cold = temperatures(compiled, best)
    each /= HEAT
    loose, mild, last = plan_staffed_phases(compiled, best, 1_000)
    assert [phase.hot[0] for phase in (loose, mild)] == pytest.approx([LOOSE * each, MILD * each])
    assert [phase.cold for phase in (loose, mild)] == pytest.approx([SETTLED * each] * 2)
    assert loose.cold > cold
    assert loose.from_rule is mild.from_rule is None
    assert last.energy != mild.energy
