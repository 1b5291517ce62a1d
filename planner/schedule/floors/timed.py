"""Floor of changeover minutes among schedules that are late by no more than a limit.

One linear program of the whole shop: the visits of every group of bases (`visits`), in periods that
end when operations must have ended. The busiest group, the *driver*, works through its operations
in shares: what is done up to the end of a period, changeovers included, fits into the minutes that
its bases work until then, and no more of an operation is done by then than of those before it. An
operation of another group that waits for one of the driver cannot be done before it: as much of a
visit as the share still missing is entered or carried over later.

This is lot sizing with set-up times and carry-over (Trigeiro, Thomas and McClain, *Management
Science* 35, 1989), with the rows of its disaggregated form added where a solution breaks them
(Belvaux and Wolsey, *Management Science* 47, 2001).
"""

from __future__ import annotations

from bisect import bisect_left
from collections.abc import Sequence
from itertools import accumulate

from planner.schedule.compiled import Compiled
from planner.schedule.dispatch import topological
from planner.schedule.floors.alone import times_alone
from planner.schedule.floors.groups import BaseGroup, base_groups
from planner.schedule.floors.linear import Linear
from planner.schedule.floors.states import states_of
from planner.schedule.floors.visits import Place, Visits
from planner.schedule.floors.windows import Clock, latest_ends, period_ends

PERIODS = 6
MOST_ROUNDS = 40
BROKEN = 1e-2
"""By how much a row must be broken to be added."""


def timed_minutes(compiled: Compiled, within: int, always: Sequence[int], pivots: int) -> int:
    """Changeover minutes of every schedule that is late by at most `within` and violates nothing.

    `always` are the floors of the groups in all schedules, `pivots` the simplex steps to spend.
    """
    groups = base_groups(compiled)
    if not any(always):
        return 0
    return Timed(compiled, groups, within, always).floor(pivots)


class Timed:
    """The program of one shop; `ends` are the ends of its periods, the last one later than all."""

    def __init__(
        self,
        compiled: Compiled,
        groups: Sequence[BaseGroup],
        within: int,
        always: Sequence[int],
    ) -> None:
        self.compiled = compiled
        self.linear = Linear()
        _, earliest = times_alone(compiled)
        latest = latest_ends(compiled, within)
        self.driver = max(groups, key=lambda g: _load(compiled, g, latest))
        every = [i for group in groups for i in group.operations]
        ends = period_ends([latest[i] for i in self.driver.operations], PERIODS)
        self.ends = [*ends[:-1], max(latest[i] for i in every)]
        self.spans = {i: self._span(earliest[i], latest[i]) for i in every}
        self.share = {
            i: [self.linear.column(1) for _ in range(self.spans[i][0], self.spans[i][1] + 1)]
            for i in self.driver.operations
        }
        self.before = _drivers(compiled, set(self.share))
        self.visits: list[Visits] = []
        for group, floor in zip(groups, always, strict=True):
            self._add(group, floor)
        self._work()

    def _span(self, earliest: int, latest: int) -> tuple[int, int]:
        first = min(bisect_left(self.ends, earliest), len(self.ends) - 1)
        return first, max(first, bisect_left(self.ends, latest))

    def _add(self, group: BaseGroup, floor: int) -> None:
        states = states_of(self.compiled, group)
        if not floor:
            return
        visits = Visits(self.linear, states, states.telling(), len(self.ends))
        visits.cover(self.spans)
        visits.in_sequence(self.compiled)
        more = self.linear.column(floor, 1)
        self.linear.at_least([*(t for t in visits.total if t[1]), (more, 1)], floor)
        self.visits.append(visits)
        if group == self.driver:
            self._room(visits)

    def _room(self, visits: Visits) -> None:
        """A fixed operation takes no minutes here, and the changeover before it any it may need."""
        fixed = [i for i in self.share if self.compiled.ops[i].fixed_start >= 0]
        loose = sum(_most_change(self.compiled, i) for i in fixed)
        clock = Clock.of(self.compiled, self.driver)
        for k, end in enumerate(self.ends):
            done = [
                (column, _minutes(self.compiled, i))
                for i in self.share
                for column in self._until(i, k)
                if _minutes(self.compiled, i)
            ]
            changed = [term for cost in visits.cost[: k + 1] for term in cost if term[1]]
            self.linear.at_most([*done, *changed], clock.until(end) + loose)

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
        """Solve, add what is broken, and solve again while there are simplex steps left."""
        best = 0
        for _ in range(MOST_ROUNDS):
            floor, point, steps = self.linear.relaxed(pivots)
            best, pivots = max(best, floor), pivots - steps
            if not point or pivots <= 0 or not self._tighten(point):
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


def _load(compiled: Compiled, group: BaseGroup, latest: Sequence[int]) -> float:
    """The greatest share of its minutes that the group must have worked by some latest end."""
    clock = Clock.of(compiled, group)
    work, most = 0, 0.0
    for i in sorted(group.operations, key=lambda i: latest[i]):
        work += _minutes(compiled, i)
        most = max(most, work / max(1, clock.until(latest[i])))
    return most


def _minutes(compiled: Compiled, i: int) -> int:
    op = compiled.ops[i]
    return 0 if op.fixed_start >= 0 else min(compiled.modes[m].duration for m in op.modes)


def _most_change(compiled: Compiled, i: int) -> int:
    mode = compiled.modes[compiled.ops[i].modes[0]]
    base = compiled.bases[mode.base]
    return sum(max(base.slots[need.slot - base.first_slot].minutes) for need in mode.needs)


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
