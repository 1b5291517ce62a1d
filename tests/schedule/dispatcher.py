"""The dispatch rules in plain Python, for comparison with those of the kernel."""

from __future__ import annotations

import math
import re
from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence

from planner.schedule.compiled import NOWHERE, Compiled, Mode, Need
from planner.schedule.decoder import Decoder, Step
from planner.schedule.dispatch import Start, Urgency

Priority = Callable[["Dispatcher", int, int], tuple[float, ...]]
"""Of (dispatcher, mode number, minute): the candidate with the smallest is taken."""


class Dispatcher:
    """Builds one schedule forward in time by one priority."""

    def __init__(
        self, compiled: Compiled, urgency: Urgency, lines: Mapping[int, Sequence[int]] | None = None
    ) -> None:
        self.compiled = compiled
        self.urgency = urgency
        self.lines = lines or {}
        """By base the modes that it takes in this order before all other."""
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
        minute, base = min((self._minute(b), b) for b, pool in self.pool.items() if pool)
        free = self._ready_at(minute, self.pool[base])
        line = self._ready_at(minute, self.lines.get(base, ()))
        best = line[0] if line else min(free, key=lambda number: priority(self, number, minute))
        self._place(self._fixed_before(self._leave_people(best)))

    def _minute(self, base: int) -> int:
        """When the base can take up something that is open."""
        of = self.compiled.modes
        first = min(self.ready[of[m].operation] for m in self.pool[base])
        return max(self.decoder.base_free[base], first)

    def _ready_at(self, minute: int, numbers: Iterable[int]) -> list[int]:
        of = self.compiled.modes
        return [
            m
            for m in numbers
            if m in self.pool[of[m].base] and self.ready[of[m].operation] <= minute
        ]

    def _leave_people(self, number: int) -> int:
        """What a line takes up next, if this mode would keep people from it that it needs."""
        i, base = self.compiled.modes[number].operation, self.compiled.modes[number].base
        if self.lines.get(base) or self.compiled.ops[i].fixed_start >= 0:
            return number
        mine = self.decoder.look(i, number)
        for b, line in sorted(self.lines.items()):
            free = self._minute(b) if self.pool[b] else mine.attended_end
            ready = self._ready_at(free, line)
            if free < mine.attended_end and ready and self._keeps_waiting(mine, ready[0]):
                return ready[0]
        return number

    def _keeps_waiting(self, mine: Step, number: int) -> bool:
        """Whether the mode starts later while the people of a step are busy with that."""
        i, free = self.compiled.modes[number].operation, self.decoder.people_free
        before, was = self.decoder.look(i, number).start, list(free)
        for person in mine.crew.people:
            free[person] = max(free[person], mine.attended_end)
        after = self.decoder.look(i, number).start
        free[:] = was
        return after > before

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
