"""The dispatch rules in plain Python, for comparison with those of the kernel."""

from __future__ import annotations

import math
import re
from collections.abc import Callable, Iterator, Sequence

from planner.schedule.compiled import NOWHERE, Compiled, Mode, Need
from planner.schedule.decoder import Decoder
from planner.schedule.dispatch import Start, Urgency

Priority = Callable[["Dispatcher", int, int], tuple[float, ...]]
"""Of (dispatcher, mode number, minute): the candidate with the smallest is taken."""


class Dispatcher:
    """Builds one schedule forward in time by one priority."""

    def __init__(self, compiled: Compiled, urgency: Urgency) -> None:
        self.compiled = compiled
        self.urgency = urgency
        self.decoder = Decoder(compiled)
        self.waits = [len({p.operation for p in op.preds}) for op in compiled.ops]
        self.ready = [0] * len(compiled.ops)
        self.pool: dict[int, dict[int, None]] = {b: {} for b in range(-1, len(compiled.bases))}
        """By base the modes whose predecessors are all placed."""
        self.placed: list[int] = []
        self.modes = [op.modes[0] for op in compiled.ops]
        self.changes: dict[int, dict[tuple[Need, ...], int]] = {b: {} for b in self.pool}
        fixed = [i for i, op in enumerate(compiled.ops) if op.fixed_start >= 0 and not op.done]
        self.fixed = sorted(fixed, key=lambda i: compiled.ops[i].fixed_start)
        for i, waits in enumerate(self.waits):
            if waits == 0:
                self._open(i)

    def build(self, priority: Priority, *, fixed_first: bool = False) -> Start:
        """Place everything."""
        for i in self.fixed if fixed_first else ():
            self._force(i)
        while len(self.placed) < len(self.compiled.ops):
            self._step(priority)
        return Start(tuple(self.placed), tuple(self.modes), tuple(self.decoder.terms))

    def change(self, number: int) -> int:
        """Changeover minutes that the mode would need now, remembered while nothing changes."""
        mode = self.compiled.modes[number]
        known = self.changes[mode.base]
        if mode.needs not in known:
            known[mode.needs] = self.decoder.changeover(mode)
        return known[mode.needs]

    def _open(self, i: int) -> None:
        op = self.compiled.ops[i]
        self.ready[i] = self.decoder.ready(op)
        for number in op.modes:
            self.pool[self.compiled.modes[number].base][number] = None

    def _force(self, i: int) -> None:
        """Place an operation now, all that it waits for before it."""
        if i in self.placed:
            return
        for pred in self.compiled.ops[i].preds:
            self._force(pred.operation)
        modes = self.compiled.ops[i].modes
        racks = [m for m in modes if self.compiled.modes[m].base == NOWHERE]
        self._place([*racks, *modes][0])

    def _step(self, priority: Priority) -> None:
        if self.pool[NOWHERE]:
            self._place(next(iter(self.pool[NOWHERE])))
            return
        of = self.compiled.modes
        minute, base = min(
            (max(self.decoder.base_free[b], min(self.ready[of[m].operation] for m in pool)), b)
            for b, pool in self.pool.items()
            if pool
        )
        free = [m for m in self.pool[base] if self.ready[of[m].operation] <= minute]
        best = min(free, key=lambda number: priority(self, number, minute))
        self._place(self._fixed_before(best))

    def _fixed_before(self, number: int) -> int:
        """The next fixed operation of the base, if it can go now and `number` would be in its
        way; else `number`."""
        base = self.compiled.modes[number].base
        for i in self.fixed:
            fixed = self.compiled.ops[i].modes[0]
            if fixed in self.pool[base]:
                end = self.decoder.look(self.compiled.modes[number].operation, number).end
                late = end + self.change(fixed) > self.compiled.ops[i].fixed_start
                return fixed if late else number
        return number

    def _place(self, number: int) -> None:
        mode = self.compiled.modes[number]
        i = mode.operation
        before = tuple(self.decoder.mounted)
        self.decoder.place(i, number)
        if before != tuple(self.decoder.mounted):
            self.changes[mode.base].clear()
        self.modes[i] = number
        self.placed.append(i)
        for other in self.compiled.ops[i].modes:
            self.pool[self.compiled.modes[other].base].pop(other, None)
        for after in self.compiled.ops[i].succs:
            self.waits[after] -= 1
            if self.waits[after] == 0:
                self._open(after)


def as_entered(shop: Dispatcher, number: int, _: int) -> tuple[float, ...]:
    return (shop.compiled.modes[number].operation,)


def due_date(shop: Dispatcher, number: int, _: int) -> tuple[float, ...]:
    i = shop.compiled.modes[number].operation
    return (shop.urgency.due[i], i)


def by_state(compiled: Compiled) -> Priority:
    """Stay with the first attribute (the OD) while there is work for it, then take the next."""
    ranks = [tuple(_ranks(compiled, mode)) for mode in compiled.modes]

    def priority(shop: Dispatcher, number: int, _: int) -> tuple[float, ...]:
        mode = compiled.modes[number]
        differs = any(shop.decoder.mounted[need.slot] != need.value for need in mode.needs[:1])
        return (differs, *ranks[number], mode.operation)

    return priority


def _ranks(compiled: Compiled, mode: Mode) -> Iterator[float]:
    """The numbers in the names of its needs, so that 38.1 comes before 101.6."""
    for need in mode.needs:
        base = compiled.bases[mode.base]
        name = base.slots[need.slot - base.first_slot].names[need.value]
        found = re.search(r"\d+(\.\d+)?", name)
        yield float(found[0]) if found else 0.0
        yield need.value


def atcs(
    compiled: Compiled, look_ahead: float, set_up: float, rank: Sequence[int] = ()
) -> Priority:
    """What has a rank below 0 goes first."""
    durations = [m.duration for m in compiled.modes if m.base != NOWHERE]
    mean = max(1.0, sum(durations) / max(1, len(durations)))
    slots = [slot for base in compiled.bases for slot in base.slots]
    changes = [sum(s.minutes) / len(s.minutes) for s in slots]
    mean_change = max(1.0, sum(changes) / max(1, len(compiled.bases)))

    def priority(shop: Dispatcher, number: int, minute: int) -> tuple[float, ...]:
        mode = compiled.modes[number]
        i = mode.operation
        if rank and rank[number] < 0:
            return (-math.inf, rank[number])
        slack = max(0, shop.urgency.due[i] - mode.duration - minute)
        exponent = slack / (look_ahead * mean) + shop.change(number) / (set_up * mean_change)
        value = math.log(max(shop.urgency.weight[i], 0.01) / max(1, mode.duration)) - exponent
        return (-value, shop.urgency.due[i], i)

    return priority
