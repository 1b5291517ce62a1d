"""By when each operation must end, in the kernel against plain Python."""

from __future__ import annotations

import numpy as np
import pytest

from planner.schedule.calendar import Calendar
from planner.schedule.chain import Chain
from planner.schedule.compiled import NOWHERE, Compiled, compile_problem
from planner.schedule.decoder import run
from planner.schedule.phases import energies
from tests.schedule.shops import DAY_MIN, a_random_shop
from tests.schedule.test_chain import a_random_start


def is_in_time(compiled: Compiled, number: int, end: int) -> bool:
    """Whether nothing is late when an operation ends then and the rest has the shop to itself."""
    op = compiled.ops[number]
    due = [compiled.due[job] for job in op.jobs if compiled.weight[job]]
    if end > min((op.latest_end, *due)):
        return False
    return all(
        _is_in_time_from(compiled, succ, end + pred.lag)
        for succ, after in enumerate(compiled.ops)
        for pred in after.preds
        if pred.operation == number and not pred.from_start
    )


def _is_in_time_from(compiled: Compiled, number: int, ready: int) -> bool:
    op = compiled.ops[number]
    if op.done or op.fixed_start >= 0:
        return op.done or ready <= op.fixed_start
    ends: list[int] = []
    for mode in (compiled.modes[m] for m in op.modes):
        if mode.base == NOWHERE:
            ends.append(ready + mode.duration)
            continue
        own = compiled.calendars[mode.calendar]
        for crew in mode.crews:
            hours = compiled.calendars[crew.calendar]
            ends.append(run(hours, own, max(ready, 0), mode, op.may_pause)[2])
    return is_in_time(compiled, number, min(ends))


def first_minute_after(calendar: Calendar, worked: int) -> int:
    return calendar.advance(calendar.fit(0, 1), worked) if worked else 0


@pytest.mark.parametrize("seed", range(30))
def test_the_latest_working_minute_is_in_time_and_the_next_is_not(seed: int) -> None:
    compiled = compile_problem(a_random_shop(seed, 10, people=seed % 2 == 0))
    chain = Chain(compiled)
    chain.begin(a_random_start(compiled, seed), 1, energies(compiled, 0.0))
    latest = chain.kernel.view(chain.at["latest_worked"], np.int32, len(compiled.modes))
    for mode, minutes in zip(compiled.modes, latest.tolist(), strict=True):
        if mode.base == NOWHERE or compiled.ops[mode.operation].done:
            continue
        calendar = compiled.calendars[mode.calendar]
        if minutes >= 0:
            assert is_in_time(compiled, mode.operation, first_minute_after(calendar, minutes))
        if minutes < 20 * DAY_MIN:
            late = first_minute_after(calendar, minutes + 1)
            assert not is_in_time(compiled, mode.operation, late)
