"""The dispatch rules of the kernel (planner/kernel/dispatch.h), for one compiled problem.

`_work` writes the kernel's `Work` structure and `_put_rule` its `Rule`; their fields are four
bytes, but for the numbers of a rule.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field
from enum import IntEnum
from itertools import accumulate
from typing import Any

import numpy as np
from numpy.typing import NDArray

from planner.schedule.calendar import FAR_MIN, Calendar
from planner.schedule.chain import Chain
from planner.schedule.compiled import Compiled
from planner.schedule.dispatch import Start, Urgency
from planner.schedule.states import make_states

BUCKETS = 256
"""Most due dates that are told apart on one base."""
LEAST_WEIGHT = 0.01
"""Of an operation that no job waits for."""
FIELDS, NUMBERS = 6, 11
"""Fields of four bytes of a rule in the kernel, and the numbers after them."""


class Kind(IntEnum):
    """How a rule chooses, as in the kernel."""

    RANKED = 0
    ATCS = 1
    PATIENT = 2


@dataclass(frozen=True, slots=True)
class Patience:
    """The settings of PATIENT, as described in planner/kernel/dispatch.h; `cyclic` and `behind`
    are 0 or 1."""

    share: float = 0.0
    tour: float = 0.0
    reserve_min: float = 0.0
    window_min: float = math.inf
    growth: float = 0.0
    idle: float = 0.0
    batch_min: float = 0.0
    behind: float = 0.0
    hold_min: float = 0.0
    cyclic: float = 0.0


@dataclass(frozen=True, slots=True)
class DispatchRule:
    """One rule with its settings; those of other kinds do not matter.

    `rank` holds a place for each mode; ATCS takes what has one below 0 before all other. `stay`
    puts what the first attribute is mounted for first; `lines` are by base modes that it takes in
    this order before all other; the minutes are the scales of ATCS.
    """

    kind: Kind
    rank: Sequence[int]
    stay: bool = False
    lines: Mapping[int, Sequence[int]] = field(default_factory=dict[int, Sequence[int]])
    look_ahead_min: float = 1.0
    set_up_min: float = 1.0
    patience: Patience = Patience()


class Dispatcher:
    """Builds schedules by rules; deterministic."""

    def __init__(self, compiled: Compiled, urgency: Urgency) -> None:
        self.compiled = compiled
        self.chain = Chain(compiled)
        self.kernel = self.chain.kernel
        self.due_rank = rank_by([(urgency.due[m.operation], m.operation) for m in compiled.modes])
        self.rank = self.kernel.alloc(4 * len(compiled.modes))
        self.line_first = self.kernel.alloc(4 * len(compiled.bases) + 4)
        self.line = self.kernel.alloc(4 * len(compiled.modes))
        self.rule = self.kernel.alloc(4 * FIELDS + 8 * NUMBERS)
        self.first = self.kernel.alloc(4 * len(compiled.ops) + 4)
        fixed = [i for i, op in enumerate(compiled.ops) if op.fixed_start >= 0 and not op.done]
        by_start = sorted(fixed, key=lambda i: compiled.ops[i].fixed_start)
        self.fixed = tuple(compiled.ops[i].modes[0] for i in by_start)
        """Modes of the fixed work by its start."""
        self.work = self._work(urgency)

    def build(self, rule: DispatchRule, first: Sequence[int] = ()) -> Start:
        """What the rule makes of the work after the modes in `first`."""
        self.terms(rule, first)
        return self.chain.best()

    def terms(self, rule: DispatchRule, first: Sequence[int] = ()) -> tuple[int, ...]:
        """The terms of what `build` returns."""
        self._put_rule(rule)
        self.kernel.view(self.first, np.int32, len(first))[:] = first
        self.kernel.call("dispatch", self.work, self.rule, self.first, len(first))
        return self.chain.best_terms()

    def _put_rule(self, rule: DispatchRule) -> None:
        self.kernel.view(self.rank, np.int32, len(rule.rank))[:] = rule.rank
        self._put_lines(rule.lines)
        patience = rule.patience
        self.kernel.view(self.rule, np.int32, FIELDS)[:] = (
            int(rule.kind),
            int(rule.stay),
            self.rank,
            int(patience.cyclic),
            self.line_first,
            self.line,
        )
        self.kernel.view(self.rule + 4 * FIELDS, np.float64, NUMBERS)[:] = (
            rule.look_ahead_min,
            rule.set_up_min,
            patience.share,
            patience.tour,
            patience.reserve_min,
            patience.window_min,
            patience.growth,
            patience.idle,
            patience.batch_min,
            patience.behind,
            patience.hold_min,
        )

    def _put_lines(self, lines: Mapping[int, Sequence[int]]) -> None:
        bases = len(self.compiled.bases)
        firsts = self.kernel.view(self.line_first, np.int32, bases + 1)
        firsts[:] = list(accumulate((len(lines.get(b, ())) for b in range(bases)), initial=0))
        for base, modes in lines.items():
            self.kernel.view(self.line + 4 * int(firsts[base]), np.int32, len(modes))[:] = modes

    def _work(self, urgency: Urgency) -> int:
        c = self.compiled
        modes, bases = len(c.modes), len(c.bases)
        due = np.array([urgency.due[m.operation] for m in c.modes], np.int64)
        share = np.array([_share(c, number) for number in range(modes)])
        hours = [next((m.calendar for m in c.modes if m.base == b), 0) for b in range(bases)]
        bucket, until, work, used = _buckets(c, due, share, hours)
        fields = [
            BUCKETS,
            len(self.fixed),
            self._ints(urgency.due),
            self._floats(_value(c, urgency, number) for number in range(modes)),
            self._ints(self.due_rank),
            self._floats(share),
            self._ints(bucket),
            self._floats(until),
            self._floats(work),
            self._ints(used),
            self._ints(hours),
            self._ints(_is_fed(c, base) for base in range(bases)),
            self._ints(c.modes[mode].operation for mode in self.fixed),
            *self._states(),
        ]
        return self._ints(fields)

    def _states(self) -> list[int]:
        """The tree of states, and what the kernel works with."""
        c = self.compiled
        modes, ops, bases = len(c.modes), len(c.ops), len(c.bases)
        states = make_states(c, self.due_rank)
        firsts = [0, *np.cumsum([len(each) for each in states.members], dtype=int).tolist()]
        tree = [
            self._ints(states.state_first),
            self._ints(firsts),
            self._ints(number for of in states.members for number in of),
            self._ints(node for path in states.nodes for node in path),
            self._ints(states.node_first),
            self._floats(states.node_minutes),
            self._ints(_state_of(c, states.members)),
        ]
        count = len(states.members)
        sizes = (count, count, bases, bases, modes, bases, modes, ops, ops, *[bases] * 4)
        room = [4 * n + 4 for n in (*sizes, count, len(states.node_minutes))]
        room += [8 * BUCKETS * bases, 8 * BUCKETS + 8, 8 * BUCKETS]
        return [*tree, *(self.kernel.alloc(size) for size in room)]

    def _ints(self, values: Iterable[int]) -> int:
        return self._put(np.fromiter(values, np.int32))

    def _floats(self, values: Iterable[float] | NDArray[Any]) -> int:
        return self._put(np.fromiter(values, np.float64))

    def _put(self, values: NDArray[Any]) -> int:
        return self.kernel.put(values if values.size else np.zeros(1, values.dtype))


def rank_by(keys: Sequence[tuple[float, ...]]) -> tuple[int, ...]:
    """The place of each when all are sorted, equal ones in the order given."""
    rank = [0] * len(keys)
    for place, number in enumerate(sorted(range(len(keys)), key=keys.__getitem__)):
        rank[number] = place
    return tuple(rank)


def _state_of(c: Compiled, members: Sequence[Sequence[int]]) -> list[int]:
    """By mode its state."""
    state = [0] * len(c.modes)
    for number, of in enumerate(members):
        for mode in of:
            state[mode] = number
    return state


def _share(c: Compiled, number: int) -> float:
    """Minutes of the mode that its base has to expect: each alternative takes an equal part."""
    mode = c.modes[number]
    return mode.duration / len(c.ops[mode.operation].modes)


def _value(c: Compiled, urgency: Urgency, number: int) -> float:
    """Logarithm of weight over duration, as ATCS counts it."""
    mode = c.modes[number]
    weight = max(urgency.weight[mode.operation], LEAST_WEIGHT)
    return math.log(weight / max(1, mode.duration))


def _is_fed(c: Compiled, base: int) -> bool:
    """Whether most operations of the base wait for one of another base."""
    mine = [m.operation for m in c.modes if m.base == base]
    fed = sum(
        any(c.modes[m].base != base for pred in c.ops[i].preds for m in c.ops[pred.operation].modes)
        for i in mine
    )
    return 2 * fed > len(mine)


def _buckets(
    c: Compiled, due: NDArray[Any], share: NDArray[Any], hours: Sequence[int]
) -> tuple[NDArray[Any], NDArray[Any], NDArray[Any], list[int]]:
    """By mode the bucket of its due date; by base and bucket the working minutes until the first
    due date in it, and the work due in it; by base how many buckets it has."""
    base_of = np.array([m.base for m in c.modes], int)
    bucket = np.zeros(len(c.modes), int)
    until, work = np.zeros((2, len(c.bases), BUCKETS))
    used = [0] * len(c.bases)
    for base, calendar in enumerate(hours):
        mine = np.flatnonzero(base_of == base)
        if not mine.size:
            continue
        dues = np.clip(np.sort(due[mine]), 0, FAR_MIN - 1)
        firsts = np.unique(dues[np.arange(BUCKETS) * len(dues) // BUCKETS])
        bucket[mine] = np.maximum(0, np.searchsorted(firsts, due[mine], side="right") - 1)
        np.add.at(work[base], bucket[mine], share[mine])
        used[base] = len(firsts)
        until[base, : len(firsts)] = _worked(c.calendars[calendar], firsts)
    return bucket, until.reshape(-1), work.reshape(-1), used


def _worked(calendar: Calendar, minutes: NDArray[Any]) -> NDArray[Any]:
    """Working minutes before each of these minutes."""
    starts, ends, worked = (
        np.array(each) for each in (calendar.starts, calendar.ends, calendar.worked)
    )
    span = np.searchsorted(ends, minutes, side="right")
    found: NDArray[Any] = worked[span] + np.maximum(minutes, starts[span]) - starts[span]
    return found
