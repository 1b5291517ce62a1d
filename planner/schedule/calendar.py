"""Working minutes of a station, or of a station and its people together.

A `Calendar` is a list of spans. Breaks lie between spans; touching intervals are one span, so
that overtime after a shift lengthens the shift. From the horizon on everything is open: work
that does not fit gets a place that the violation term condemns, instead of no place at all.
"""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Sequence
from dataclasses import dataclass

from planner.schedule.problem import Hours, Interval

DAY_MIN = 1440
FAR_MIN = 1 << 29
"""Later than any time that a schedule can reach."""


@dataclass(frozen=True, slots=True)
class Calendar:
    """Spans [`starts`[i], `ends`[i]) and, for each, the working minutes before it in `worked`.

    `priced` are the overtime intervals as (start, end, price a minute).
    """

    starts: tuple[int, ...]
    ends: tuple[int, ...]
    worked: tuple[int, ...]
    priced: tuple[tuple[int, int, int], ...]

    def fit(self, earliest: int, length: int) -> int:
        """Earliest start from `earliest` on of `length` minutes that no break splits."""
        span = bisect_right(self.ends, earliest)
        start = max(earliest, self.starts[span])
        while start + length > self.ends[span]:
            span += 1
            start = self.starts[span]
        return start

    def fit_before(self, latest_end: int, length: int, earliest: int) -> int:
        """Latest start, not before `earliest`, of unbroken `length` minutes that end in time."""
        span = bisect_right(self.starts, latest_end - 1) - 1
        start = min(self.ends[span], latest_end) - length
        while start < self.starts[span] and span > 0:
            span -= 1
            start = self.ends[span] - length
        return max(start, self.fit(earliest, length))

    def advance(self, start: int, length: int) -> int:
        """When `length` working minutes from `start` on are done; `start` must be working."""
        if length == 0:
            return start
        span = bisect_right(self.ends, start)
        target = self.worked[span] + max(start, self.starts[span]) - self.starts[span] + length
        while target > self.worked[span] + self.ends[span] - self.starts[span]:
            span += 1
        return self.starts[span] + target - self.worked[span]

    def until(self, minute: int) -> int:
        """Working minutes before a minute."""
        span = bisect_right(self.ends, minute)
        return self.worked[span] + max(minute, self.starts[span]) - self.starts[span]

    def pieces(self, start: int, end: int) -> tuple[tuple[int, int], ...]:
        """The working pieces of [start, end)."""
        found: list[tuple[int, int]] = []
        span = bisect_right(self.ends, start)
        while span < len(self.starts) and self.starts[span] < end:
            found.append((max(start, self.starts[span]), min(end, self.ends[span])))
            span += 1
        return tuple(found)

    def price(self, start: int, end: int) -> int:
        """What the overtime in [start, end) costs."""
        return sum(
            max(0, min(end, stop) - max(start, begin)) * price for begin, stop, price in self.priced
        )

    def longest(self, horizon_min: int) -> int:
        """Longest span that begins before the horizon."""
        spans = zip(self.starts, self.ends, strict=True)
        return max((min(b, horizon_min) - a for a, b in spans if a < horizon_min), default=0)


def make_calendar(hours: Sequence[Hours], horizon_min: int | None) -> Calendar:
    """The common working minutes of everything in `hours`; prices add up."""
    common: tuple[Interval, ...] = (Interval(0, FAR_MIN),)
    for each in hours:
        if each is not None:
            common = tuple(_cut(common, each))
    if horizon_min is not None:
        before = (Interval(i.start_min, min(i.end_min, horizon_min), i.overtime_price)
                  for i in common if i.start_min < horizon_min)  # fmt: skip
        common = (*before, Interval(horizon_min, FAR_MIN))
    return _from_intervals(common)


def _cut(a: tuple[Interval, ...], b: tuple[Interval, ...]) -> list[Interval]:
    """The intersection of two sorted lists of disjoint intervals."""
    found: list[Interval] = []
    i = j = 0
    while i < len(a) and j < len(b):
        start, end = max(a[i].start_min, b[j].start_min), min(a[i].end_min, b[j].end_min)
        if start < end:
            found.append(Interval(start, end, a[i].overtime_price + b[j].overtime_price))
        if a[i].end_min < b[j].end_min:
            i += 1
        else:
            j += 1
    return found


def _from_intervals(intervals: tuple[Interval, ...]) -> Calendar:
    spans: list[list[int]] = []
    for each in intervals:
        if spans and spans[-1][1] == each.start_min:
            spans[-1][1] = each.end_min
        else:
            spans.append([each.start_min, each.end_min])
    worked = [0]
    for start, end in spans:
        worked.append(worked[-1] + end - start)
    return Calendar(
        starts=tuple(start for start, _ in spans),
        ends=tuple(end for _, end in spans),
        worked=tuple(worked[:-1]),
        priced=tuple(
            (i.start_min, i.end_min, i.overtime_price) for i in intervals if i.overtime_price
        ),
    )
