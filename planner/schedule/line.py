"""One line: work on a single base that is always open, needs nobody, and changes over by a table.

`as_line` tells whether a compiled problem is one, and gives it as a table of changeovers from
operation to operation; `LineChain` is such a problem inside one instance of the kernel
(planner/kernel/line.c). `_line` writes the kernel's `Line` structure field by field; every field
there is four bytes.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from typing import Any

import numpy as np
from numpy.typing import NDArray

from planner.kernel import Kernel
from planner.schedule.calendar import FAR_MIN
from planner.schedule.compiled import NOWHERE, TERMS, Compiled, Mode, Op
from planner.schedule.dispatch import Start, topological
from planner.schedule.phases import FLOW, energies
from planner.schedule.problem import Term

COUNTED: tuple[Term, ...] = (Term.LATENESS, Term.CHANGEOVER, Term.COMPLETION)
"""The terms that an order of the line can change."""
NEVER = 1 << 40
"""Minutes of a changeover that no order can have."""
LARGEST = 1 << 30
"""Of a sum in the kernel."""
BLOCK = 10
"""Operations in the shorter of two blocks that change places, at most."""
REACH, REACHES = 60, 40_000
"""A move spans at most so many places, or `REACHES` over the number of operations if more."""
CHEAP = 10
"""Where only changeovers count, as many neighbours of each operation as moves are led by."""
DISTURBED, LONGEST, FARTHEST = 1, 4, 30
"""Most moves that leave a local optimum, and how many operations and places each takes."""
NEAR = 8
"""A hop goes down with moves within so many places of what has moved."""
WARMTH, PATIENCE = 0.4, 5
"""Temperature in the mean energy of an operation; rounds without a gain, for each operation,
before going back to the best."""
COOLING = (1.0, 0.7, 0.05)
"""Where only changeovers count: at the beginning of the first round, of later ones, at the end."""


@dataclass(frozen=True, slots=True)
class Line:
    """The problem by operation; `change[i + 1, j]` are the minutes from i to j, row 0 the start."""

    begin: int
    change: NDArray[np.int32]
    minutes: tuple[int, ...]
    due: tuple[int, ...]
    weight: tuple[int, ...]
    counted: tuple[int, ...]
    """1 where a job ends with the operation."""
    timed: bool
    """Whether anything but changeovers counts."""


def as_line(c: Compiled) -> Line | None:
    """The problem as one line, or None where it is more than that."""
    modes = [c.modes[op.modes[0]] for op in c.ops]
    if len(c.ops) < 2 or len(c.bases) != 1 or c.people_free or c.aims:
        return None
    if not all(_plain(c, op, mode) for op, mode in zip(c.ops, modes, strict=True)):
        return None
    if len({tuple(need.slot for need in mode.needs) for mode in modes}) > 1:
        return None
    jobs = [op.jobs[0] if op.jobs else -1 for op in c.ops]
    line = Line(
        begin=c.bases[0].free_from,
        change=_changes(c, modes),
        minutes=tuple(mode.duration for mode in modes),
        due=tuple(0 if job < 0 else c.due[job] for job in jobs),
        weight=tuple(0 if job < 0 else c.weight[job] for job in jobs),
        counted=tuple(int(job >= 0) for job in jobs),
        timed=any(
            row[TERMS.index(t)] for row in c.weights for t in COUNTED if t != Term.CHANGEOVER
        ),
    )
    return line if _fits(line) else None


def _plain(c: Compiled, op: Op, mode: Mode) -> bool:
    """Whether the operation only waits for its turn."""
    if len(op.modes) > 1 or mode.base == NOWHERE or op.fixed_start >= 0 or op.issued_start >= 0:
        return False
    calendar = c.calendars[mode.calendar]
    begin = c.bases[0].free_from
    return (
        calendar.starts == (0,)
        and not calendar.priced
        and max(op.release, 0) <= begin
        and op.latest_end >= FAR_MIN
        and len(op.jobs) <= 1
        and all(p.lag <= 0 and not p.from_start and not p.holding for p in op.preds)
    )


def _changes(c: Compiled, modes: Sequence[Mode]) -> NDArray[np.int32]:
    """Changeover minutes by what was done before (a row for the start first) and what comes."""
    base = c.bases[0]
    n = len(modes)
    total = np.zeros((n + 1, n), np.int64)
    for number, need in enumerate(modes[0].needs):
        slot = base.slots[need.slot - base.first_slot]
        values = [mode.needs[number].value for mode in modes]
        table = np.array(slot.minutes, np.int64).reshape(slot.values, slot.values)
        minutes = table[np.ix_([slot.mounted, *values], values)]
        total = np.maximum(total, minutes) if base.longest_counts else total + minutes
    return total.astype(np.int32)


def _fits(line: Line) -> bool:
    """Whether no sum in the kernel can overflow."""
    n = len(line.minutes)
    last = line.begin + sum(line.minutes) + n * int(line.change.max())
    latest = last - min(0, *line.due)
    return latest * (max(sum(line.weight), n) + 1 if line.timed else 1) < LARGEST


class LineChain:
    """A current and a best order in the kernel; deterministic for its seed."""

    def __init__(self, compiled: Compiled, line: Line) -> None:
        self.compiled = compiled
        self.timed = line.timed
        self.hot = COOLING[0]
        self.kernel = Kernel("line")
        self.at: dict[str, int] = {}
        self.at["ops"] = self._line(line)
        self.kernel.call("load", self.at["ops"])

    def begin(self, order: Sequence[int], seed: int) -> None:
        """Put an order in; it is the best so far."""
        self._put_order(order)
        self.kernel.call("restart", seed)

    def descend(self) -> None:
        """Go down to an order that no move improves."""
        self.kernel.call("descend")

    def hop(self, order: Sequence[int]) -> tuple[tuple[int, ...], int]:
        """An order near this one where times count, and how many moves were judged for it."""
        self._put_order(order)
        moves = int(self.kernel.call("hop", DISTURBED, LONGEST, FARTHEST, NEAR))
        return self._order(len(order)), moves

    def close_up(self, order: Sequence[int], begin: int, end: int) -> tuple[tuple[int, ...], int]:
        """What becomes of the order when something has come or gone between two of its places,
        where times count, and how many moves were judged for it."""
        self._put_order(order)
        moves = int(self.kernel.call("close_up", begin, end, NEAR))
        return self._order(len(order)), moves

    def _put_order(self, order: Sequence[int]) -> None:
        """Of all work or, where the rest is done elsewhere, of some."""
        n = len(self.compiled.ops)
        self.kernel.view(self.at["ops"], np.int32, 1)[0] = len(order)
        if len(order) < n:
            self.kernel.view(self.at["pos"], np.int32, n)[:] = -1
        self.kernel.view(self.at["seq"], np.int32, len(order))[:] = order

    def _order(self, count: int) -> tuple[int, ...]:
        return tuple(self.kernel.view(self.at["seq"], np.int32, count).tolist())

    def heat(self, number: int) -> None:
        """Take the temperatures of the round of this number."""
        self.hot = COOLING[min(number, 1)]

    def improve(self, moves: int, done: float = 1.0) -> int:
        """Search until about so many moves have been judged; their number comes back.

        `done` is the share of the round that is over.
        """
        n = len(self.compiled.ops)
        how = (DISTURBED, LONGEST, FARTHEST)
        if self.timed:
            return int(self.kernel.call("improve", moves, *how, WARMTH / n, PATIENCE * n))
        warmth = self.hot * math.pow(COOLING[-1] / self.hot, done)
        return int(self.kernel.call("improve_arcs", moves, *how, warmth / n))

    def best(self) -> Start:
        """The best order since `begin`."""
        order = self.kernel.view(self.at["best_seq"], np.int32, len(self.compiled.ops)).tolist()
        modes = tuple(op.modes[0] for op in self.compiled.ops)
        return Start(tuple(order), modes, self.best_terms())

    def best_terms(self) -> tuple[int, ...]:
        """Its terms."""
        found = self.kernel.view(self.at["best_terms"], np.int64, len(COUNTED)).tolist()
        terms = dict(zip(COUNTED, found, strict=True))
        return tuple(int(terms.get(term, 0)) for term in TERMS)

    def _put(self, values: Iterable[int], dtype: Any = np.int32) -> int:
        flat = np.fromiter(values, dtype=dtype)
        return self.kernel.put(flat if flat.size else np.zeros(1, dtype))

    def _lists(self, lists: Sequence[Sequence[int]]) -> list[int]:
        """Addresses of where each list begins when they are laid end to end, and of them all."""
        firsts = [0, *np.cumsum([len(each) for each in lists]).tolist()]
        return [self._put(firsts), self._put(value for each in lists for value in each)]

    def _line(self, line: Line) -> int:
        c = self.compiled
        n = len(c.ops)
        index = [TERMS.index(term) for term in COUNTED]
        after = _after(c)
        fields = [
            n, n, int(line.timed), line.begin, BLOCK,
            max(REACH, REACHES // n), CHEAP, len(c.weights),
            self.kernel.put(line.change),
            *(self._put(each) for each in (line.minutes, line.due, line.weight, line.counted)),
            *self._lists([[pred.operation for pred in op.preds] for op in c.ops]),
            *self._lists([op.succs for op in c.ops]),
            self._put(each.bit_count() for each in after),
            *(self.kernel.put(each) for each in _cheap(c, line, after)),
            self._put((row[i] for row in c.weights for i in index), np.int64),
            self.kernel.put(np.array(line_energy(c), np.float64)),
        ]  # fmt: skip
        names = ["seq", "pos", "setup", "late", "heavy", "free", "slope", "count"]
        names += ["late_before", "second", "longer", "early", "worth", "order", "awake", "queue"]
        names += ["mark", "heir", "moved", "kept_seq", "best_seq", "terms", "best_terms"]
        for name in names:
            wide = name == "worth" or name.endswith("terms")
            self.at[name] = self.kernel.alloc((n + len(COUNTED)) * (8 if wide else 4))
        return self._put([*fields, *(self.at[name] for name in names)])


def _after(c: Compiled) -> list[int]:
    """What waits for each operation, whether for itself or for others that do, one bit each."""
    after = [0] * len(c.ops)
    for i in reversed(topological(c)):
        for succ in c.ops[i].succs:
            after[i] |= after[succ] | 1 << succ
    return after


def _cheap(c: Compiled, line: Line, after: Sequence[int]) -> tuple[NDArray[np.int32], ...]:
    """The `CHEAP` operations that can come right after each (row 0: the start), and before it.

    They are in the order of their changeovers, with -1 where there are fewer; empty where times
    count.
    """
    n = len(c.ops)
    if line.timed:
        return np.zeros(1, np.int32), np.zeros(1, np.int32)
    barred = np.zeros((n + 1, n), np.bool_)
    for i, op in enumerate(c.ops):
        far = 0
        for succ in op.succs:
            far |= after[succ]
        barred[i + 1, i] = True
        barred[i + 1, _bits(far)] = True
        barred[[j + 1 for j in _bits(after[i])], i] = True
        barred[0, i] = bool(op.preds)
    cost = np.where(barred, NEVER, line.change.astype(np.int64))
    return _cheapest(cost), _cheapest(cost[1:].T)


def _bits(number: int) -> list[int]:
    return [i for i, bit in enumerate(reversed(f"{number:b}")) if bit == "1"]


def _cheapest(cost: NDArray[np.int64]) -> NDArray[np.int32]:
    """By row, the columns of the least entries."""
    found = np.full((len(cost), CHEAP), -1, np.int32)
    nearest = np.argsort(cost, axis=1, kind="stable")[:, :CHEAP]
    least = np.take_along_axis(cost, nearest, axis=1)
    found[:, : nearest.shape[1]] = np.where(least == NEVER, -1, nearest)
    return found


def line_energy(c: Compiled) -> tuple[float, ...]:
    """Energy of one minute of each counted term; a term that no level counts has none."""
    energy = energies(c, FLOW)
    index = [TERMS.index(term) for term in COUNTED]
    return tuple(energy[i] if any(row[i] for row in c.weights) else 0.0 for i in index)
