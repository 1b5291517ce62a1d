"""Minutes from kind to kind of work, against what the decoder changes over."""

from __future__ import annotations

from dataclasses import replace

import pytest

from planner.schedule.compiled import compile_problem
from planner.schedule.decoder import decode
from planner.schedule.kinds import kinds_of
from planner.schedule.problem import Combine
from tests.benchmarks.weeks import a_week
from tests.schedule.test_chain import a_random_start


@pytest.mark.parametrize("combine", Combine)
@pytest.mark.parametrize("seed", range(5))
def test_minutes_from_kind_to_kind_are_those_of_the_decoder(seed: int, combine: Combine) -> None:
    week = a_week(8, seed, finishers=1 + seed % 2)
    bases = tuple(replace(base, combine=combine) for base in week.bases)
    compiled = compile_problem(replace(week, bases=bases))
    start = a_random_start(compiled, seed)
    _, steps = decode(compiled, start.order, list(start.modes))
    minutes = {step.operation: step.change for step in steps}
    for number in range(len(compiled.bases)):
        kinds = kinds_of(compiled, number)
        assert kinds is not None
        before = kinds.minutes.shape[0] - 1
        for op in start.order:
            kind = kinds.kind.get(start.modes[op])
            if kind is not None:
                assert kinds.minutes[before, kind] == minutes[op]
                before = kind


def test_no_table_where_an_operation_leaves_something_mounted() -> None:
    week = a_week(8, 1)
    first = next(op for op in week.operations if op.alternatives[0].station == "finisher 1")
    needs = {name: value for name, value in first.needs.items() if name != "rail"}
    operations = tuple(
        replace(op, needs=needs) if op.key == first.key else op for op in week.operations
    )
    compiled = compile_problem(replace(week, operations=operations))
    known = [kinds_of(compiled, base) is not None for base in range(len(compiled.bases))]
    assert known == [False, True, True, True]
