"""The week at a glance: a lane for each station of a day, for the timeline."""

from __future__ import annotations

from collections.abc import Iterator

from planner.hours import DAY_MIN, SHOP, day_name, spans_of, working
from planner_io.drawing.gap import Gap
from planner_io.drawing.timeline import Box, Day, Lane
from planner_io.views.index import Index
from planner_io.views.ruler import day_of
from planner_io.views.runs import Run

Span = tuple[int, int]


def glance(index: Index, found: tuple[Run, ...]) -> tuple[Day, ...]:
    """The days on which something is done, with the lanes of the stations that work.

    `found` is `runs.stretches`, so that a box is work and never a wait.
    """
    last = max((day_of(run.end_min - 1) for run in found), default=-1)
    hours = spans_of(working(index.plan.shop, SHOP, index.start, last + 1))
    days: list[Day] = []
    for number in range(last + 1):
        begin, end = number * DAY_MIN, (number + 1) * DAY_MIN
        spans = [span for span in (_clip(h, (begin, end)) for h in hours) if span]
        times = [*_moments(found, begin, end), *(time for span in spans for time in span)]
        if times and (lanes := tuple(_lanes(found, (min(times), max(times))))):
            days.append(_day(day_name(index.day(number)), spans, times, lanes))
    return tuple(days)


def _moments(found: tuple[Run, ...], begin: int, end: int) -> Iterator[int]:
    """When runs and changeovers begin or end on a day; what merely goes on over it shows none."""
    for run in found:
        if begin <= run.setup_start_min < end:
            yield run.setup_start_min
        if begin < run.end_min <= end:
            yield run.end_min


def _day(name: str, spans: list[Span], times: list[int], lanes: tuple[Lane, ...]) -> Day:
    opens, closes = min(times) // 60 * 60, max(times)
    return Day(name, opens, closes, tuple(_rests(spans, opens, closes)), lanes)


def _rests(spans: list[Span], opens: int, closes: int) -> Iterator[Span]:
    """Where nobody works between the first and the last hour shown."""
    at = opens
    for start, end in spans:
        if at < start:
            yield at, start
        at = max(at, end)
    if at < closes:
        yield at, closes


def _clip(span: Span, to: Span) -> Span | None:
    start, end = max(span[0], to[0]), min(span[1], to[1])
    return (start, end) if start < end else None


def _lanes(found: tuple[Run, ...], day: Span) -> Iterator[Lane]:
    for station in dict.fromkeys(run.station for run in found):
        mine = [run for run in found if run.station == station]
        boxes = tuple(box for run in mine if (box := _box(run, day)))
        gaps = tuple(gap for run in mine if (gap := _gap(run, day)))
        if boxes or gaps:
            yield Lane(station, boxes, gaps)


def _box(run: Run, day: Span) -> Box | None:
    worked = [span for span in (_clip(piece, day) for piece in run.pieces) if span]
    if not worked:
        return None
    start, end = worked[0][0], worked[-1][1]
    return Box(
        start_min=start,
        end_min=end,
        title=run.short,
        below=" ".join(run.lots),
        od_nm=run.spec.od_nm if run.one_size else 0,
        wall_nm=run.spec.wall_nm,
        lay=run.lay,
        late=run.late if end == run.end_min else "",
    )


def _gap(run: Run, day: Span) -> Gap | None:
    if run.changeover is None or run.changeover.minutes <= 0:
        return None
    span = (run.setup_start_min, run.setup_start_min + run.changeover.minutes)
    if not day[0] <= span[0] < day[1]:
        return None
    return Gap(span[0], min(span[1], day[1]), " ".join(run.changeover.kinds))
