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
from dataclasses import replace
from itertools import pairwise

from planner.schedule.compiled import Compiled
from planner.schedule.dispatch import topological
from planner.schedule.floors.alone import Following, completions_alone, times_alone
from planner.schedule.floors.groups import BaseGroup, base_groups
from planner.schedule.floors.program import Frame, Program
from planner.schedule.floors.timed import busiest
from planner.schedule.floors.windows import Clock, Pace, latest_ends
from planner.schedule.problem import Term
from planner.schedule.result import Floor

PERIODS = 14
"""At most, before the last one."""
BEYOND = 1.25
"""Up to how many times the minutes of work and changeovers there are periods: shares leave out
some of the changeovers."""
SHARES = 10
"""Of the work, each with the end of a period in it."""
LONG = 0.1
"""Waits that are shorter than this share of the longest end no period."""
PIVOTS = 12_000
"""Simplex steps to spend: about four seconds for a week of 80 or 200 lots."""
KIND = "work and changeovers that fit in by the end of each period, in shares"


def lateness_in_periods(
    compiled: Compiled, within: int, always: Sequence[int], due_by: int
) -> Floor:
    """Weighted lateness of every schedule, up to `within`; `always` are the floors of changeovers
    of the groups. Only work is looked at that jobs due by `due_by` wait for: the rest can only be
    in its way."""
    groups, changes = needed_by(compiled, due_by, always)
    value = 0
    if any(group.operations for group in groups):
        value = min(within, Late(compiled, groups, changes, within).least(PIVOTS))
    return Floor(Term.LATENESS, value, KIND)


def needed_by(
    compiled: Compiled, due_by: int, always: Sequence[int]
) -> tuple[tuple[BaseGroup, ...], list[int]]:
    """The groups of bases with what jobs due by then wait for, and about the changeovers that it
    takes."""
    groups = base_groups(compiled)
    needed = [False] * len(compiled.ops)
    for i in reversed(topological(compiled)):
        op = compiled.ops[i]
        due = any(compiled.due[job] <= due_by for job in op.jobs)
        needed[i] = due or any(needed[after] for after in op.succs)
    fewer = tuple(
        replace(group, operations=tuple(i for i in group.operations if needed[i]))
        for group in groups
    )
    shares = [
        floor * len(few.operations) // max(1, len(group.operations))
        for floor, few, group in zip(always, fewer, groups, strict=True)
    ]
    return fewer, shares


class Late(Program):
    """The program of one shop at the least lateness."""

    def __init__(
        self, compiled: Compiled, groups: Sequence[BaseGroup], always: Sequence[int], within: int
    ) -> None:
        super().__init__(compiled, _frame(compiled, groups, always, within))
        asked = {
            g
            for staff in self.frame.staffs
            for g, changing in zip(groups, staff.changing, strict=True)
            if changing
        }
        every = [
            self.visit(group, cells=False)
            if floor and (group in asked or group in self.frame.drivers)
            else None
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
    compiled: Compiled, groups: Sequence[BaseGroup], always: Sequence[int], within: int
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
    """Where it is longest until more of the work should have ended or work goes on, as what is not
    done by then is late by so much more; no two of these waits overlap. Where long waits leave out
    a share of the work, its end."""
    begins = sorted(start for start, _ in clock.opens)
    until = dict(pairwise(sorted(targets)))
    for _, end in clock.opens:
        after = bisect_left(begins, end)
        if after < len(begins):
            until[end] = max(until.get(end, end), begins[after])
    waits = [end for end in until if clock.until(end) <= BEYOND * work]
    waits.sort(key=lambda end: (end - until[end], end))
    least = LONG * max((until[end] - end for end in waits), default=0)
    ends: list[int] = []
    for end in waits:
        if len(ends) == PERIODS or until[end] - end < least:
            break
        if all(until[end] <= other or until[other] <= end for other in ends):
            ends.append(end)
    return sorted({*ends, *_between(ends, clock, work)})


def _between(ends: Sequence[int], clock: Clock, work: int) -> Iterator[int]:
    """Ends of shares of the work in which there is none yet."""
    pace, done = Pace(clock, 0), [clock.until(end) for end in ends]
    for k in range(SHARES):
        low, high = k * work // SHARES, (k + 1) * work // SHARES
        if not any(low < each <= high for each in done):
            yield pace.when(high)
