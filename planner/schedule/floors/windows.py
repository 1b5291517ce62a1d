"""By when operations must end for lateness not to exceed a limit, and what can be done by then.

A job that weighs w can be later than alone in the shop by at most what the limit leaves, divided
by w. Latest ends are handed back along the arcs, less the least minutes of what follows, over the
hours of its stations.
"""

from __future__ import annotations

from bisect import bisect_left, bisect_right
from collections.abc import Iterable, Sequence
from itertools import accumulate

from planner.schedule.calendar import FAR_MIN, Calendar
from planner.schedule.compiled import NOWHERE, Compiled
from planner.schedule.dispatch import topological
from planner.schedule.floors.alone import completions_alone
from planner.schedule.floors.groups import BaseGroup

BEND = 1.25
"""Above 1, the first periods get fewer operations than the last."""


class Clock:
    """Minutes in which the bases of a group, or some people, can work, all of them together.

    `opens` has (from, until) of each stretch of each of them.
    """

    def __init__(self, opens: Iterable[tuple[int, int]]) -> None:
        self.opens = tuple(opens)
        self._starts, self._begun = _summed(start for start, _ in self.opens)
        self._ends, self._ended = _summed(end for _, end in self.opens)

    @staticmethod
    def of(compiled: Compiled, group: BaseGroup) -> Clock:
        """A base works whenever one of its stations does, from when it is free."""
        calendars: dict[int, set[int]] = {base: set() for base in group.bases}
        for mode in compiled.modes:
            if mode.base in calendars:
                calendars[mode.base].add(mode.calendar)
        return Clock.over(
            (compiled.bases[base].free_from, [compiled.calendars[n] for n in numbers])
            for base, numbers in calendars.items()
        )

    @staticmethod
    def over(each: Iterable[tuple[int, Sequence[Calendar]]]) -> Clock:
        """Of some bases or people, each with the minute from which it is free."""
        return Clock(
            (max(start, free_from, 0), end)
            for free_from, calendars in each
            for start, end in _union(calendars)
            if end > max(free_from, 0)
        )

    def until(self, minute: int) -> int:
        """Minutes worked before `minute` if nothing ever stands still."""
        begun, ended = bisect_left(self._starts, minute), bisect_left(self._ends, minute)
        since_begun = begun * minute - self._begun[begun]
        return since_begun - (ended * minute - self._ended[ended])


def _summed(minutes: Iterable[int]) -> tuple[list[int], list[int]]:
    """The minutes in rising order, and the sum of those before each and of all."""
    rising = sorted(minutes)
    return rising, [*accumulate(rising, initial=0)]


class Pace:
    """When bases or people can have worked so many minutes together, from `first` on."""

    def __init__(self, clock: Clock, first: int) -> None:
        changes: dict[int, int] = {}
        for start, end in clock.opens:
            if end > first:
                begin = max(start, first)
                changes[begin] = changes.get(begin, 0) + 1
                changes[end] = changes.get(end, 0) - 1
        self.minutes: list[int] = []
        self.worked: list[int] = []
        self.rates: list[int] = []
        rate = worked = before = 0
        for minute in sorted(changes):
            worked += rate * (minute - before)
            rate, before = rate + changes[minute], minute
            self.minutes.append(minute)
            self.worked.append(worked)
            self.rates.append(rate)

    def when(self, work: int) -> int:
        """The earliest minute at which `work` minutes may be done; nothing is done at once."""
        i = bisect_left(self.worked, work) - 1
        if i < 0:
            return 0
        return self.minutes[i] - (self.worked[i] - work) // max(1, self.rates[i])


def _union(calendars: Iterable[Calendar]) -> list[tuple[int, int]]:
    """Minutes in which any of the calendars works."""
    spans = sorted(span for each in calendars for span in zip(each.starts, each.ends, strict=True))
    joined: list[tuple[int, int]] = []
    for start, end in spans:
        if joined and start <= joined[-1][1]:
            joined[-1] = (joined[-1][0], max(end, joined[-1][1]))
        else:
            joined.append((start, end))
    return joined


def latest_ends(compiled: Compiled, within: int) -> list[int]:
    """By when each operation has ended in every schedule whose weighted lateness is at most
    `within` and in which nothing is violated."""
    alone = completions_alone(compiled)
    jobs = list(zip(alone, compiled.due, compiled.weight, strict=True))
    spare = within - sum(weight * max(0, end - due) for end, due, weight in jobs)
    last = [max(due, end) + spare // w if w else FAR_MIN for end, due, w in jobs]
    latest = [0] * len(compiled.ops)
    for i in reversed(topological(compiled)):
        op = compiled.ops[i]
        latest[i] = min(op.latest_end, *(last[job] for job in op.jobs), FAR_MIN)
        for after in op.succs:
            if compiled.ops[after].fixed_start >= 0 or compiled.ops[after].done:
                continue
            starts = [_latest_start(compiled, m, latest[after]) for m in compiled.ops[after].modes]
            arcs = [p for p in compiled.ops[after].preds if p.operation == i and not p.from_start]
            if arcs:
                latest[i] = min(latest[i], max(starts) - max(p.lag for p in arcs))
    return latest


def _latest_start(compiled: Compiled, number: int, end: int) -> int:
    """The station may stop and go on at will."""
    mode = compiled.modes[number]
    if mode.base == NOWHERE:
        return end - mode.duration
    calendar = compiled.calendars[mode.calendar]
    at = bisect_left(calendar.starts, end) - 1
    if at < 0:
        return end - mode.duration
    worked = calendar.worked[at] + min(end, calendar.ends[at]) - calendar.starts[at]
    left = worked - mode.duration
    if left < 0:
        return calendar.starts[0] + left
    at = bisect_right(calendar.worked, left) - 1
    return min(end - mode.duration, calendar.starts[at] + left - calendar.worked[at])


def period_ends(latest: Sequence[int], most: int) -> list[int]:
    """At most `most` ends of periods, where few operations have to end soon after; the first
    periods are the shortest, as there is least time in them to work ahead."""
    ranked = sorted(latest)
    count = len(ranked)
    ends = {ranked[-1]}
    for k in range(1, most):
        low, high = (int(count * ((k + side) / most) ** BEND) for side in (-0.5, 0.5))
        ranks = range(max(1, low), min(count - 1, max(1, high)) + 1)
        if ranks:
            ends.add(ranked[max(ranks, key=lambda rank: ranked[rank] - ranked[rank - 1]) - 1])
    return sorted(ends)
