"""A run order that the kernel got wrong is refused, whatever it claims to come to."""

from __future__ import annotations

from dataclasses import replace

import pytest

from planner.errors import EngineError
from planner.schedule.compiled import Compiled, compile_problem
from planner.schedule.decoder import decode
from planner.schedule.dispatch import Start
from planner.schedule.report import Outcome, make_result
from planner.schedule.rules import make_rules
from planner.stop import Status
from tests.benchmarks.weeks import a_week


@pytest.fixture(scope="module")
def compiled() -> Compiled:
    return compile_problem(a_week(6, 3, finishers=2))


@pytest.fixture(scope="module")
def best(compiled: Compiled) -> Start:
    return make_rules(compiled).starts[0]


def outcome(best: Start, compiled: Compiled) -> Outcome:
    alone = tuple(0 for _ in compiled.due)
    return Outcome(best, {}, (), alone, Status.GAP, 0)


def counted(compiled: Compiled, best: Start) -> Start:
    """With what the plain decoder makes of it, so that only the order can be wrong."""
    decoder, _ = decode(compiled, best.order, list(best.modes))
    return replace(best, terms=tuple(decoder.terms))


def test_a_sound_order_is_described(compiled: Compiled, best: Start) -> None:
    result = make_result(compiled, outcome(best, compiled))
    assert len(result.placed) == len(compiled.problem.operations)


def test_other_figures_than_the_kernel_counted_are_refused(compiled: Compiled, best: Start) -> None:
    wrong = replace(best, terms=(*best.terms[:2], best.terms[2] - 1, *best.terms[3:]))
    with pytest.raises(EngineError, match="the kernel counted"):
        make_result(compiled, outcome(wrong, compiled))


def test_an_operation_done_as_another_one_is_refused(compiled: Compiled, best: Start) -> None:
    one, other = [i for i, op in enumerate(compiled.ops) if len(op.modes) == 2][:2]
    modes = list(best.modes)
    modes[one] = modes[other]
    wrong = counted(compiled, replace(best, modes=tuple(modes)))
    with pytest.raises(EngineError, match=f"does {compiled.ops[one].key} as another"):
        make_result(compiled, outcome(wrong, compiled))


def test_an_operation_before_what_it_waits_for_is_refused(compiled: Compiled, best: Start) -> None:
    wrong = counted(compiled, replace(best, order=best.order[::-1]))
    with pytest.raises(EngineError, match="before what it waits for"):
        make_result(compiled, outcome(wrong, compiled))


def test_an_operation_left_out_is_refused(compiled: Compiled, best: Start) -> None:
    wrong = counted(compiled, replace(best, order=(*best.order[:-1], best.order[0])))
    with pytest.raises(EngineError, match="twice, or not at all"):
        make_result(compiled, outcome(wrong, compiled))
