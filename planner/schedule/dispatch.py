"""Dispatch rules: what a shop does without a plan, and where the search starts.

Whenever a base is free, one of the operations that could start on it is taken: the first that
was entered, the one due first, one of the same mounted state, or the best by the apparent
tardiness cost with set-ups (ATCS: Lee, Bhaskaran and Pinedo, *IIE Transactions* 29, 1997).
"""

from __future__ import annotations

import math
import re
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from heapq import heapify, heappop, heappush

from planner.schedule.compiled import NOWHERE, Compiled, Mode, Need
from planner.schedule.decoder import Decoder

AS_ENTERED, DUE_DATE, BY_STATE, ATCS = "as entered", "due date", "by state", "ATCS"
GRID_OPERATIONS = 400
"""Up to this size ATCS is tried with nine pairs of look-ahead parameters, above with three."""


@dataclass(frozen=True, slots=True)
class Start:
    """A complete list: operations in an order that respects precedence, and their modes."""

    order: tuple[int, ...]
    modes: tuple[int, ...]
    """The mode of each operation, by operation number."""
    terms: tuple[int, ...]


@dataclass(frozen=True, slots=True)
class Urgency:
    """Per operation: when it should be done for its jobs, and what they weigh."""

    due: tuple[int, ...]
    weight: tuple[int, ...]


Priority = Callable[["Dispatcher", int, int], tuple[float, ...]]
"""Of (dispatcher, mode number, minute): the candidate with the smallest is taken."""


def urgencies(compiled: Compiled) -> Urgency:
    """Due dates and weights of jobs, handed back along the arcs less the work that follows."""
    n = len(compiled.ops)
    due, weight = [math.inf] * n, [0] * n
    for i in reversed(topological(compiled)):
        op = compiled.ops[i]
        for job in op.jobs:
            due[i] = min(due[i], compiled.due[job])
            weight[i] += compiled.weight[job]
        for after in op.succs:
            follows = min(compiled.modes[m].duration for m in compiled.ops[after].modes)
            due[i] = min(due[i], due[after] - follows)
            weight[i] = max(weight[i], weight[after])
    latest = 1 << 30
    return Urgency(tuple(latest if d == math.inf else int(d) for d in due), tuple(weight))


def topological(compiled: Compiled, priority: Sequence[int] | None = None) -> list[int]:
    """All operations, predecessors first, otherwise by `priority` or in the order entered."""
    waits = [len({p.operation for p in op.preds}) for op in compiled.ops]
    rank = range(len(waits)) if priority is None else priority
    ready = [(rank[i], i) for i, wait in enumerate(waits) if wait == 0]
    heapify(ready)
    order: list[int] = []
    while ready:
        _, i = heappop(ready)
        order.append(i)
        for after in compiled.ops[i].succs:
            waits[after] -= 1
            if waits[after] == 0:
                heappush(ready, (rank[after], after))
    return order


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
        self._place(self.compiled.ops[i].modes[0])

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


def _as_entered(shop: Dispatcher, number: int, _: int) -> tuple[float, ...]:
    return (shop.compiled.modes[number].operation,)


def _due_date(shop: Dispatcher, number: int, _: int) -> tuple[float, ...]:
    i = shop.compiled.modes[number].operation
    return (shop.urgency.due[i], i)


def _by_state(compiled: Compiled) -> Priority:
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


def _atcs(compiled: Compiled, look_ahead: float, set_up: float) -> Priority:
    durations = [m.duration for m in compiled.modes if m.base != NOWHERE]
    mean = max(1.0, sum(durations) / max(1, len(durations)))
    slots = [slot for base in compiled.bases for slot in base.slots]
    changes = [sum(s.minutes) / len(s.minutes) for s in slots]
    mean_change = max(1.0, sum(changes) / max(1, len(compiled.bases)))

    def priority(shop: Dispatcher, number: int, minute: int) -> tuple[float, ...]:
        mode = compiled.modes[number]
        i = mode.operation
        slack = max(0, shop.urgency.due[i] - mode.duration - minute)
        exponent = slack / (look_ahead * mean) + shop.change(number) / (set_up * mean_change)
        value = math.log(max(shop.urgency.weight[i], 0.01) / max(1, mode.duration)) - exponent
        return (-value, shop.urgency.due[i], i)

    return priority


def rules(compiled: Compiled) -> dict[str, Start]:
    """What each rule makes of the work; ATCS is its best over a few parameters."""
    urgency = urgencies(compiled)
    simple: dict[str, Priority] = {
        AS_ENTERED: _as_entered,
        DUE_DATE: _due_date,
        BY_STATE: _by_state(compiled),
    }
    found = {name: _build(compiled, urgency, rule) for name, rule in simple.items()}
    ahead = (0.5, 2.0, 6.0) if len(compiled.ops) <= GRID_OPERATIONS else (2.0,)
    tried = [
        _build(compiled, urgency, _atcs(compiled, k1, k2)) for k1 in ahead for k2 in (0.1, 0.4, 1.5)
    ]
    found[ATCS] = min(tried, key=lambda start: compiled.levels(start.terms))
    return found


def _build(compiled: Compiled, urgency: Urgency, rule: Priority) -> Start:
    """By the rule; when that runs into fixed work, with the fixed work put in first."""
    start = Dispatcher(compiled, urgency).build(rule)
    if start.terms[0] and any(op.fixed_start >= 0 and not op.done for op in compiled.ops):
        careful = Dispatcher(compiled, urgency).build(rule, fixed_first=True)
        return min((start, careful), key=lambda each: compiled.levels(each.terms))
    return start
