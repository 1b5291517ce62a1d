"""Floor of lateness by the program of the shop in periods, changeovers counted as work.

What is done of an operation in a period makes the jobs that wait for it as late as they are if it
ends with the first working minute of the period and the shop does nothing else afterwards. The
program (`program`) says how much can be done by when, with the changeovers that this takes; its
least weighted lateness is a floor of all schedules that are no later than one that is known, and
so, up to the lateness of that one, of all schedules. This is the relaxation by time-indexed
variables (Dyer and Wolsey, *Discrete Applied Mathematics* 26, 1990) in coarse periods.
"""

from __future__ import annotations

from bisect import bisect_left
from collections.abc import Iterator, Sequence
from itertools import pairwise

from planner.schedule.compiled import Compiled
from planner.schedule.floors.alone import Following, completions_alone, times_alone
from planner.schedule.floors.groups import BaseGroup, base_groups
from planner.schedule.floors.program import Frame, Program
from planner.schedule.floors.timed import busiest
from planner.schedule.floors.windows import Clock, Pace, latest_ends
from planner.schedule.problem import Term
from planner.schedule.result import Floor

PERIODS = 10
"""In each about as much can be done."""
PIVOTS = 10_000
"""Simplex steps to spend: about two seconds for a week of 80 or 200 lots."""
KIND = "work and changeovers that fit in by the end of each period, in shares"


def lateness_in_periods(compiled: Compiled, within: int, always: Sequence[int]) -> Floor:
    """Weighted lateness of every schedule, up to `within`; `always` are the floors of changeovers
    of the groups."""
    groups = base_groups(compiled)
    value = 0
    if any(group.operations for group in groups):
        value = min(within, Late(compiled, groups, within, always).least(PIVOTS))
    return Floor(Term.LATENESS, value, KIND)


class Late(Program):
    """The program of one shop at the least lateness."""

    def __init__(
        self, compiled: Compiled, groups: Sequence[BaseGroup], within: int, always: Sequence[int]
    ) -> None:
        super().__init__(compiled, _frame(compiled, groups, within, always))
        asked = {
            g
            for staff in self.frame.staffs
            for g, changing in zip(groups, staff.changing, strict=True)
            if changing
        }
        every = [
            self.visit(group) if floor and (group in asked or group in self.frame.drivers) else None
            for group, floor in zip(groups, always, strict=True)
        ]
        self.fit(every)
        self.linear.costs = [0] * len(self.linear.costs)
        self.sure = 0
        """Weighted lateness of jobs that wait for no driver."""
        self.late: dict[int, int] = {}
        """The column of each other job's minutes late."""
        self._judge(within)

    def _judge(self, within: int) -> None:
        compiled = self.compiled
        rows = list(self._rows())
        alone = completions_alone(compiled)
        waiting = {job for job, _, _ in rows}
        for job, (due, weight) in enumerate(zip(compiled.due, compiled.weight, strict=True)):
            if job in waiting and weight:
                self.late[job] = self.linear.column(within // weight, weight)
                self.linear.at_least([(self.late[job], 1)], max(0, alone[job] - due))
            else:
                self.sure += weight * max(0, alone[job] - due)
        for job, i, late in rows:
            if job in self.late and any(late):
                terms = [(c, each) for c, each in zip(self.share[i], late, strict=True) if each]
                self.linear.at_most([*terms, (self.late[job], -1)], 0)

    def _rows(self) -> Iterator[tuple[int, int, list[int]]]:
        """A job, the last driver's operation that it waits for, and the minutes that it is late
        where that ends in each of its periods."""
        following = Following(self.compiled)
        due = self.compiled.due
        last = {i: set(following.completions(i, self.frame.earliest[i])) for i in self.share}
        for i in self.share:
            for earlier in self.before[i]:
                last[earlier] -= set(following.completions(i, self.frame.earliest[i]))
        for i, jobs in last.items():
            periods = range(self.spans[i][0], self.spans[i][1] + 1)
            by_period = [following.completions(i, self._first(i, k)) for k in periods]
            for job in sorted(jobs):
                yield job, i, [max(0, each[job] - due[job]) for each in by_period]

    def _first(self, i: int, k: int) -> int:
        """The first minute at which an operation can end in a period."""
        earliest = self.frame.earliest[i]
        if k == 0 or self.ends[k - 1] < earliest:
            return earliest
        end = self.ends[k - 1]
        op = self.compiled.ops[i]
        if op.fixed_start >= 0 or any(self.compiled.modes[m].duration == 0 for m in op.modes):
            return end + 1
        calendars = (self.compiled.calendars[self.compiled.modes[m].calendar] for m in op.modes)
        return min(calendar.fit(end, 1) + 1 for calendar in calendars)

    def least(self, pivots: int) -> int:
        """The floor; where no lateness is seen after six tenths of the steps, that is all."""
        some = self.floor(pivots * 3 // 5)
        return self.sure + (max(some, self.floor(pivots * 2 // 5)) if some else 0)


def _frame(
    compiled: Compiled, groups: Sequence[BaseGroup], within: int, always: Sequence[int]
) -> Frame:
    """Periods that end when much is due, and others over which the work is spread."""
    _, earliest = times_alone(compiled)
    jobs = zip(completions_alone(compiled), compiled.due, compiled.weight, strict=True)
    alone = sum(weight * max(0, end - due) for end, due, weight in jobs)
    wanted = latest_ends(compiled, alone)
    most, people = busiest(compiled, groups, wanted, always)
    latest = latest_ends(compiled, max(within, alone))
    last = max(latest[i] for group in groups for i in group.operations)
    targets = {wanted[i] for group in most.drivers for i in group.operations}
    ends = [end for end in _ends(targets, most.clock, most.minutes) if end < last]
    return Frame(tuple(groups), most.drivers, people, earliest, latest, [*ends, last])


def _ends(targets: set[int], clock: Clock, work: int) -> list[int]:
    """About where each share of the work can be done: where it is longest until more of it should
    have ended or work goes on, as what is not done by then is late by so much more."""
    pace = Pace(clock, 0)
    begins = sorted(start for start, _ in clock.opens)
    jumps = dict(pairwise(sorted(targets)))
    for _, end in clock.opens:
        after = bisect_left(begins, end)
        if after < len(begins):
            jumps[end] = max(jumps.get(end, end), begins[after])
    done = {end: clock.until(end) for end in jumps}

    def jump(end: int) -> int:
        return jumps[end] - end

    ends: set[int] = set()
    for k in range(1, PERIODS + 1):
        low, high = ((2 * k + side) * work // (2 * PERIODS) for side in (-1, 1))
        here = [end for end in jumps if low < done[end] <= high]
        ends.add(max(here, key=jump) if here else pace.when((low + high) // 2))
    return sorted(ends)
