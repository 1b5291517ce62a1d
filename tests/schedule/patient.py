"""The rule that takes the cheapest changeover in time, in plain Python, for comparison with that
of the kernel; sums are made in the same order, so that they come out the same to the last bit."""

from __future__ import annotations

import math
from bisect import bisect_right
from collections.abc import Sequence
from itertools import pairwise

from planner.schedule.calendar import FAR_MIN, Calendar
from planner.schedule.compiled import NOWHERE, Compiled
from planner.schedule.dispatch import Urgency
from planner.schedule.dispatcher import Patience, rank_by
from planner.schedule.states import NO_NODE, make_states
from tests.schedule.dispatcher import Dispatcher, Priority

PRESSED, OUTSIDE, NO_DUE = 1e5, 1e6, 1e6


class PatientDispatcher(Dispatcher):
    """Few enough due dates on every base that each has a bucket of its own."""

    def __init__(
        self, compiled: Compiled, urgency: Urgency, patience: Patience, rank: Sequence[int]
    ) -> None:
        self.patience = patience
        self.rank = rank
        self.clock = [0] * len(compiled.bases)
        self.last_rank = [0] * len(compiled.bases)
        due = [urgency.due[mode.operation] for mode in compiled.modes]
        clipped = [min(max(d, 0), FAR_MIN - 1) for d in due]
        on = [
            [m for m, of in enumerate(compiled.modes) if of.base == b]
            for b in self._bases(compiled)
        ]
        self.dues = [sorted({clipped[m] for m in mine}) for mine in on]
        self.bucket = [0] * len(compiled.modes)
        self.left = [[0.0] * len(dues) for dues in self.dues]
        for base, mine in enumerate(on):
            for m in mine:
                self.bucket[m] = max(0, bisect_right(self.dues[base], due[m]) - 1)
                self.left[base][self.bucket[m]] += self._share(compiled, m)
        self.hours = [
            compiled.calendars[compiled.modes[mine[0]].calendar if mine else 0] for mine in on
        ]
        self.fed = [2 * sum(self._is_fed(compiled, m) for m in mine) > len(mine) for mine in on]
        self.due_rank = rank_by([(urgency.due[m.operation], m.operation) for m in compiled.modes])
        self.states = make_states(compiled, self.due_rank)
        self.done: set[int] = set()
        super().__init__(compiled, urgency)

    @staticmethod
    def _bases(compiled: Compiled) -> range:
        return range(len(compiled.bases))

    @staticmethod
    def _share(compiled: Compiled, m: int) -> float:
        mode = compiled.modes[m]
        return mode.duration / len(compiled.ops[mode.operation].modes)

    @staticmethod
    def _is_fed(compiled: Compiled, m: int) -> bool:
        mode = compiled.modes[m]
        before = (p.operation for p in compiled.ops[mode.operation].preds)
        return any(
            compiled.modes[k].base != mode.base for i in before for k in compiled.ops[i].modes
        )

    def _open(self, i: int) -> None:
        super()._open(i)
        for m in self.compiled.ops[i].modes:
            base = self.compiled.modes[m].base
            if base != NOWHERE:
                self.clock[base] = min(self.clock[base], self.ready[i])

    def _place(self, number: int) -> None:
        i = self.compiled.modes[number].operation
        self.done.add(i)
        if self.compiled.modes[number].base != NOWHERE:
            for m in self.compiled.ops[i].modes:
                base = self.compiled.modes[m].base
                self.left[base][self.bucket[m]] -= self._share(self.compiled, m)
        super()._place(number)

    def _step(self, priority: Priority) -> None:
        if self.pool[NOWHERE]:
            super()._step(priority)
            return
        of = self.compiled.modes
        minute, base = min(
            (
                max(
                    self.decoder.base_free[b],
                    self.clock[b],
                    min(self.ready[of[m].operation] for m in pool),
                ),
                b,
            )
            for b, pool in self.pool.items()
            if pool
        )
        before, room, pressed = self._room(base, minute)
        keys = {
            m: self._key(base, m, minute, before, pressed) for m in self._eligible(base, minute)
        }
        best = min(keys, key=lambda m: keys[m])
        may_wait = self.patience.hold_min > 0 and self.fed[base]
        if may_wait and self.patience.hold_min < room < NO_DUE and self.change(best) > 0:
            hours = self.hours[base]
            later = max(1, int(room - self.patience.hold_min))
            self.clock[base] = hours.advance(minute, later)
            return
        self.last_rank[base] = self.rank[best]
        self._place(self._fixed_before(best))

    def _eligible(self, base: int, minute: int) -> list[int]:
        ready = {m: self.ready[self.compiled.modes[m].operation] for m in self.pool[base]}
        return [m for m in ready if self.patience.idle > 0 or ready[m] <= minute]

    def _key(
        self, base: int, m: int, minute: int, before: list[float], pressed: int
    ) -> tuple[float, int]:
        patience, mode = self.patience, self.compiled.modes[m]
        first = min(self.urgency.due[self.compiled.modes[k].operation] for k in self.pool[base])
        due, bucket, change = self.urgency.due[mode.operation], self.bucket[m], self.change(m)
        wait = max(0, self.ready[mode.operation] - minute - change)
        cost = change + patience.idle * wait
        horizon = max(first, minute) + patience.window_min + patience.growth * minute
        if due > horizon or before[bucket] < change + wait + mode.duration:
            may_go = bucket <= pressed or due <= first + patience.batch_min
            cost += patience.behind * PRESSED if may_go else OUTSIDE + 1e3 * bucket
        if not patience.cyclic:
            return cost, self.due_rank[m]
        turn = self.rank[m] - self.last_rank[base]
        return cost, turn + len(self.rank) if turn < 0 else turn

    def _tour(self, base: int) -> list[float]:
        """Minutes of the tour by the first due date for which they are needed."""
        tour = [0.0] * len(self.dues[base])
        states, needed = self.states, dict[int, int]()
        for state in range(states.state_first[base], states.state_first[base + 1]):
            buckets = [
                self.bucket[m]
                for m in states.members[state]
                if self.compiled.modes[m].operation not in self.done
            ]
            for node in states.nodes[state] if buckets else ():
                if node != NO_NODE:
                    needed[node] = min(needed.get(node, buckets[0]), buckets[0])
        for node in sorted(needed):
            tour[needed[node]] += states.node_minutes[node]
        return tour

    def _room(self, base: int, minute: int) -> tuple[list[float], float, int]:
        """Room before each due date and of all, and the first due date that has none left."""
        patience, left, tour = self.patience, self.left[base], self._tour(base)
        now = worked(self.hours[base], minute)
        until = [worked(self.hours[base], due) for due in self.dues[base]]
        first = min(self.bucket[m] for m in self.pool[base])
        counted = [k for k, minutes in enumerate(left) if minutes >= 0.5]
        work, extra, part = 0.0, patience.reserve_min, 1.0
        for k in counted:
            work += left[k]
            extra += left[k] * patience.share + patience.tour * tour[k]
            if k >= first:
                part = min(part, max(0.0, until[k] - now - work) / max(extra, 1.0))
        needed, rooms = now + part * patience.reserve_min, dict[int, float]()
        for k in counted:
            needed += left[k] + part * (left[k] * patience.share + patience.tour * tour[k])
            if k >= first:
                rooms[k] = until[k] - needed
        least = [math.inf]
        for k in range(len(left)):
            least.append(min(least[-1], rooms.get(k, math.inf)))
        tight = (k for k, (_, after) in enumerate(pairwise(least)) if k in rooms and after < 1)
        return least, least[-1], next(tight, -1)


def worked(calendar: Calendar, minute: int) -> int:
    """Working minutes before the minute."""
    span = bisect_right(calendar.ends, minute)
    return calendar.worked[span] + max(minute, calendar.starts[span]) - calendar.starts[span]
