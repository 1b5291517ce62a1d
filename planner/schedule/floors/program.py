"""A linear program of the whole shop in periods: what is done, mounted and attended by when.

The program has the visits of groups of bases (`visits`) in periods. Some of the groups, the
*drivers*, work through their operations in shares: what is done up to the end of a period,
changeovers included, fits into the minutes that the bases work until then, and no more of an
operation is done by then than of those before it. An operation of another group that waits for one
of a driver cannot be done before it: as much of a visit as the share still missing is entered or
carried over later. What people attend until then fits into their hours (`people`).

This is lot sizing with set-up times and carry-over (Trigeiro, Thomas and McClain, *Management
Science* 35, 1989), with the rows of its disaggregated form added where a solution breaks them
(Belvaux and Wolsey, *Management Science* 47, 2001).
"""

from __future__ import annotations

from bisect import bisect_left
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import accumulate

from planner.schedule.compiled import Compiled
from planner.schedule.dispatch import topological
from planner.schedule.floors.groups import BaseGroup
from planner.schedule.floors.linear import Linear
from planner.schedule.floors.people import Staff
from planner.schedule.floors.states import states_of
from planner.schedule.floors.visits import Place, Visits
from planner.schedule.floors.windows import Clock

MOST_ROUNDS = 40
BROKEN = 1e-2
"""By how much a row must be broken to be added."""
LITTLE, IN_VAIN = 1e-3, 2
"""After so many rounds in a row that raise a floor by less than this share of it, it is left."""


@dataclass(frozen=True, slots=True)
class Frame:
    """What is shared out, over which periods, and when each operation may end."""

    groups: tuple[BaseGroup, ...]
    drivers: tuple[BaseGroup, ...]
    staffs: tuple[Staff, ...]
    earliest: Sequence[int]
    latest: Sequence[int]
    ends: Sequence[int]
    """The last one is later than all."""

    def span(self, i: int) -> tuple[int, int]:
        """The periods in which an operation may end."""
        first = min(bisect_left(self.ends, self.earliest[i]), len(self.ends) - 1)
        return first, max(first, bisect_left(self.ends, self.latest[i]))


class Program:
    """The columns and rows of one shop; `visits` are those of some of its groups."""

    def __init__(self, compiled: Compiled, frame: Frame) -> None:
        self.compiled = compiled
        self.frame = frame
        self.ends = frame.ends
        self.linear = Linear()
        self.spans = {i: frame.span(i) for group in frame.groups for i in group.operations}
        self.share = {
            i: [self.linear.column(1) for _ in range(self.spans[i][0], self.spans[i][1] + 1)]
            for group in frame.drivers
            for i in group.operations
        }
        self.before = _drivers(compiled, set(self.share))
        self.visits: list[Visits] = []

    def visit(self, group: BaseGroup, *, cells: bool = True) -> Visits:
        """Add the visits of a group; without cells there are few columns, and less is proven."""
        states = states_of(self.compiled, group)
        parts = states.telling() if cells else states.fewest()
        visits = Visits(self.linear, states, parts, len(self.ends))
        visits.cover(self.spans)
        visits.in_sequence(self.compiled)
        self.visits.append(visits)
        return visits

    def fit(self, visits: Sequence[Visits | None]) -> None:
        """What is done, changed and attended fits into hours and waits for what comes before; one
        entry of visits, or None, for each group."""
        for group, each in zip(self.frame.groups, visits, strict=True):
            if group in self.frame.drivers:
                self._room(group, each)
        for staff in self.frame.staffs:
            self._attend(staff, visits)
        self._work()

    def _room(self, group: BaseGroup, visits: Visits | None) -> None:
        """What a driver has done and changed by the end of each period fits into its minutes.

        A fixed operation takes no minutes here, and the changeover before it any it may need.
        """
        loose = sum(self._most_change(i) for i in group.operations)
        clock = Clock.of(self.compiled, group)
        for k, end in enumerate(self.ends):
            done = self._done({i: minutes_of(self.compiled, i) for i in group.operations}, k)
            changed = [] if visits is None else _changed(visits, k, 1)
            self.linear.at_most([*done, *changed], clock.until(end) + loose)

    def _attend(self, staff: Staff, visits: Sequence[Visits | None]) -> None:
        """What some people have attended by the end of each period fits into their hours."""
        loose = sum(
            changing * self._most_change(i)
            for changing, group in zip(staff.changing, self.frame.groups, strict=True)
            for i in group.operations
        )
        for k, end in enumerate(self.ends):
            terms = self._done({i: m for i, m in staff.work.items() if i in self.share}, k)
            for changing, each in zip(staff.changing, visits, strict=True):
                terms += [] if each is None or not changing else _changed(each, k, changing)
            sure = sum(
                minutes
                for i, minutes in staff.work.items()
                if i not in self.share and i in self.spans and self.spans[i][1] <= k
            )
            self.linear.at_most(terms, staff.clock.until(end) + loose - sure)

    def _most_change(self, i: int) -> int:
        """Minutes that the changeover before a fixed operation may take; of others nothing."""
        if self.compiled.ops[i].fixed_start < 0:
            return 0
        mode = self.compiled.modes[self.compiled.ops[i].modes[0]]
        base = self.compiled.bases[mode.base]
        return sum(max(base.slots[need.slot - base.first_slot].minutes) for need in mode.needs)

    def _done(self, minutes: dict[int, int], k: int) -> list[tuple[int, int]]:
        """Terms of the minutes that are done up to the end of period k."""
        return [(c, each) for i, each in minutes.items() if each for c in self._until(i, k)]

    def _until(self, i: int, k: int) -> list[int]:
        """Shares of a driver's operation in the periods up to k."""
        return self.share[i][: max(0, k + 1 - self.spans[i][0])]

    def _work(self) -> None:
        """All is done, in each period at most as much as of what must be done before."""
        for i, columns in self.share.items():
            self.linear.at_least([(column, 1) for column in columns], 1)
            for earlier in self.before[i]:
                for k in range(self.spans[i][0], self.spans[earlier][1]):
                    done = [(column, 1) for column in self._until(i, k)]
                    ready = [(column, -1) for column in self._until(earlier, k)]
                    self.linear.at_most([*done, *ready], 0)

    def floor(self, pivots: int) -> int:
        """Solve, add what is broken, and solve again while there are simplex steps left and the
        floor rises, or is nothing yet."""
        best = vain = 0
        for _ in range(MOST_ROUNDS):
            floor, point, steps = self.linear.relaxed(pivots)
            vain = vain + 1 if 0 < floor <= best * (1 + LITTLE) else 0
            best, pivots = max(best, floor), pivots - steps
            if not point or pivots <= 0 or vain == IN_VAIN or not self._tighten(point):
                break
        return best

    def _tighten(self, point: Sequence[float]) -> int:
        """Add the rows that the point breaks; how many."""
        rows = len(self.linear.rows)
        done = {
            i: [0.0] * self.spans[i][0] + list(accumulate(point[c] for c in columns))
            for i, columns in self.share.items()
        }
        for visits in self.visits:
            for place, operations in visits.members.items():
                mounted = Mounted(visits, place, point)
                for i in operations:
                    if i in self.share:
                        self._by_share(mounted, i, point)
                    else:
                        for source in self.before[i]:
                            self._by_source(mounted, i, source, done[source])
        return len(self.linear.rows) - rows

    def _by_share(self, mounted: Mounted, i: int, point: Sequence[float]) -> None:
        """The share done in a range of periods is at most what is entered in or carried into it:
        the range that breaks this most."""
        begin, worst, best = self.spans[i][0], BROKEN, (-1, -1)
        run, a = 0.0, -1
        for k, column in enumerate(self.share[i], start=begin):
            if a < 0 or run < -mounted.carried[k]:
                run, a = -mounted.carried[k], k
            run += point[column] - mounted.entered[k]
            if run > worst:
                worst, best = run, (a, k)
        if best[0] >= 0:
            first, last = best
            terms = [(column, -1) for column in self.share[i][first - begin : last + 1 - begin]]
            mounted.visits.mounted(mounted.place, first, last, terms, 0)

    def _by_source(self, mounted: Mounted, i: int, source: int, done: Sequence[float]) -> None:
        """From some period on at least the share is mounted that its source still misses then."""
        first, last = self.spans[i]
        worst, at, entered = BROKEN, -1, 0.0
        for k in range(last, first, -1):
            entered += mounted.entered[k]
            if k <= len(done):
                broken = 1 - done[k - 1] - mounted.carried[k] - entered
                if broken > worst:
                    worst, at = broken, k
        if at > 0:
            terms = [(column, 1) for column in self._until(source, at - 1)]
            mounted.visits.mounted(mounted.place, at, last, terms, 1)


class Mounted:
    """What a point says of one place: for each period, entries in it and visits carried into it."""

    def __init__(self, visits: Visits, place: Place, point: Sequence[float]) -> None:
        self.visits = visits
        self.place = place
        self.entered = [point[column] for column in visits.entry[place]]
        self.carried = [
            float(visits.standing(place)), *(point[column] for column in visits.carry[place])
        ]  # fmt: skip


def _changed(visits: Visits, k: int, factor: int) -> list[tuple[int, int]]:
    """Terms of the changeovers up to the end of period k."""
    return [(c, m * factor) for cost in visits.cost[: k + 1] for c, m in cost if m]


def minutes_of(compiled: Compiled, i: int) -> int:
    """The least that an operation occupies its base; what is fixed is counted as nothing."""
    op = compiled.ops[i]
    return 0 if op.fixed_start >= 0 else min(compiled.modes[m].duration for m in op.modes)


def _drivers(compiled: Compiled, driver: set[int]) -> list[tuple[int, ...]]:
    """For each operation the driver's operations nearest before it, which must have ended."""
    found: list[tuple[int, ...]] = [()] * len(compiled.ops)
    for i in topological(compiled):
        nearest: dict[int, None] = {}
        # Done work has its times, whatever was to be done before it.
        for pred in () if compiled.ops[i].done else compiled.ops[i].preds:
            if pred.lag >= 0 and not pred.from_start:
                each = (pred.operation,) if pred.operation in driver else found[pred.operation]
                nearest.update(dict.fromkeys(each))
        found[i] = tuple(nearest)
    return found
