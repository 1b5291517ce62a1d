"""The week's timeline: a lane for each station of a day, runs as boxes with ring and lay."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from planner_io.drawing.gap import Gap, gap_marks
from planner_io.drawing.ink import (
    INK,
    PALE,
    RED,
    SHADE,
    fit,
    line,
    rect,
    svg,
    text,
    text_width,
    true_fractions,
)
from planner_io.drawing.lay import Lay, lay_marks
from planner_io.drawing.ring import ring_marks

NAME_MM = 24.0
"""Width kept for the stations' names."""
AXIS_MM = 5.0
"""Height of a day's row of hours."""
_EDGE = f'fill="#fff" stroke="{INK}" stroke-width="0.25"'
_HOUR = 'stroke="#d9d6cc" stroke-width="0.2"'


@dataclass(frozen=True)
class Box:
    """A run: what is worked on, from when to when, and how late it makes an order line."""

    start_min: int
    end_min: int
    title: str
    below: str = ""
    od_nm: int = 0
    """0 draws no ring: the run is on tubes of several sizes."""
    wall_nm: int = 0
    lay: Lay | None = None
    late: str = ""
    """Such as `LATE 2 h 10`; empty when nothing is."""


@dataclass(frozen=True)
class Lane:
    """One station on one day."""

    name: str
    boxes: tuple[Box, ...]
    gaps: tuple[Gap, ...]


@dataclass(frozen=True)
class Day:
    """One day: its name, its hours, when the shop rests, and its lanes."""

    name: str
    open_min: int
    close_min: int
    rests: tuple[tuple[int, int], ...]
    lanes: tuple[Lane, ...]


@dataclass(frozen=True)
class _Scale:
    """Where a minute of a day lies on paper; all days of a picture share hours and width."""

    first_min: int
    """Minute of the day at the left edge."""
    last_min: int
    width: float

    def x(self, minute_of_day: float) -> float:
        share = (minute_of_day - self.first_min) / (self.last_min - self.first_min)
        return NAME_MM + share * (self.width - NAME_MM)


def timeline(days: Sequence[Day], width: float, lane_mm: float, ring_scale: float) -> str:
    """All days of a picture below each other, one hour as wide in each."""
    scale = _Scale(
        min((day.open_min % 1440 for day in days), default=0),
        max(((day.close_min - 1) % 1440 + 1 for day in days), default=1440),
        width,
    )
    parts: list[str] = []
    y = 0.0
    for day in days:
        parts.extend(_day(day, scale, y, lane_mm, ring_scale))
        y += day_height(day, lane_mm)
    return svg(width, y, parts, title="Run order by station and day")


def day_height(day: Day, lane_mm: float) -> float:
    """Millimetres that a day takes."""
    return AXIS_MM + len(day.lanes) * lane_mm + 2.0


def _day(day: Day, scale: _Scale, y: float, lane_mm: float, ring_scale: float) -> Iterator[str]:
    midnight = day.open_min // 1440 * 1440
    bottom = y + AXIS_MM + len(day.lanes) * lane_mm
    yield from _rests(day, scale, midnight, y, bottom)
    yield from _hours(day, scale, midnight, y, bottom)
    yield text(0, y + 3.6, day.name, 3.4, bold=True)
    for row, lane in enumerate(day.lanes):
        yield from _lane(lane, scale, midnight, y + AXIS_MM + row * lane_mm, lane_mm, ring_scale)


def _rests(day: Day, scale: _Scale, midnight: int, y: float, bottom: float) -> Iterator[str]:
    for start, end in day.rests:
        x, right = scale.x(start - midnight), scale.x(end - midnight)
        yield rect(x, y + AXIS_MM - 1, right - x, bottom - y - AXIS_MM + 1, f'fill="{SHADE}"')
        if right - x - 7 >= text_width("break", 2.3):
            yield text(right - 0.4, y + 3.4, "break", 2.3, anchor="end", fill=PALE)


def _hours(day: Day, scale: _Scale, midnight: int, y: float, bottom: float) -> Iterator[str]:
    first = -(-(day.open_min - midnight) // 60)
    for hour in range(first, (day.close_min - midnight) // 60 + 1):
        x = scale.x(hour * 60)
        yield line(x, y + 1, x, bottom, _HOUR)
        if x < scale.width - 8:
            yield text(x + 0.6, y + 3.4, f"{hour}:00", 2.3, fill=PALE)


def _lane(
    lane: Lane, scale: _Scale, midnight: int, y: float, height: float, ring_scale: float
) -> Iterator[str]:
    size = 2.5
    middle = y + height / 2
    yield text(
        0, middle + 0.9, fit(lane.name, NAME_MM - 2, size + 0.3, bold=True), size + 0.3, bold=True
    )
    for box in lane.boxes:
        x = scale.x(box.start_min - midnight)
        yield from _box(box, x, scale.x(box.end_min - midnight) - x, y, height, ring_scale)
    for gap in lane.gaps:
        x = scale.x(gap.start_min - midnight)
        yield gap_marks(gap, x, scale.x(gap.end_min - midnight) - x, middle, 1.9)


def _box(
    box: Box, x: float, width: float, y: float, height: float, ring_scale: float
) -> Iterator[str]:
    top, strip, size = y + 0.6, 1.7, 2.4
    tall = height - 1.2
    yield rect(x, top, width, tall, _EDGE)
    if box.lay:
        yield lay_marks(box.lay, x, top + tall - strip, width, strip)
    else:
        strip = 0.0
    if box.late:
        yield rect(x, top - 0.5, width, 0.9, f'fill="{RED}"')
    room = tall - strip
    left = x + 1.0
    if box.od_nm:
        ring = max(1.6, box.od_nm / 1e6 * ring_scale)
        if ring + 0.6 <= width:
            centre = x + min(0.7 + ring / 2, width / 2)
            yield ring_marks(box.od_nm, box.wall_nm, ring_scale, centre, top + room / 2)
            left = centre + ring / 2 + 0.8
    yield from _labels(box, left, x + width - left - 0.4, top, room, size)


def _labels(
    box: Box, left: float, width: float, top: float, room: float, size: float
) -> Iterator[str]:
    title = _first_that_fits((box.title, _size_of(box.title)), width, size)
    late = _first_that_fits((box.late, box.late.partition(" ")[0]), width, size)
    below = fit(box.below, width, size * 0.85)
    lines = [(late, RED, True), (title, INK, True), (below, PALE, False)]
    lines = [row for row in lines if row[0]][: 2 if room >= 2.1 * size else 1]
    y = top + room / 2 + 0.36 * size - (len(lines) - 1) * 0.5 * size
    for words, fill, bold in lines:
        yield text(
            left, y, true_fractions(words), size if bold else size * 0.85, bold=bold, fill=fill
        )
        y += size * 1.05


def _size_of(title: str) -> str:
    """The size that a title begins with; pipe keeps its schedule, as 1-1/2" is another tube."""
    size, of_pipe, rest = title.partition(" sch ")
    return f"{size}{of_pipe}{rest.partition(' ')[0]}" if of_pipe else title.partition(" ")[0]


def _first_that_fits(texts: Sequence[str], width: float, size: float) -> str:
    return next((words for words in texts if text_width(words, size, bold=True) <= width), "")
