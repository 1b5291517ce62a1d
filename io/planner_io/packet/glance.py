"""The cover's timelines: as many days on a page as can be read."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from planner_io.drawing.ring import ring_scale
from planner_io.drawing.timeline import Day, day_height, timeline
from planner_io.views.glance import glance
from planner_io.views.index import Index
from planner_io.views.runs import stretches

FIGURES_MM = 20.0
"""Height of the cover's row of figures."""
SMALLEST_LANE_MM = 7.0
LARGEST_LANE_MM = 12.0
INSIDE_LANE_MM = 3.2
"""Of a lane's height, what is not for the ring: edges and lay."""


def timelines(index: Index, room: tuple[float, float]) -> Iterator[str]:
    """The pictures, one a page, for pages of `room` mm inside their margins."""
    width, height = room[0], room[1] - FIGURES_MM
    specs = [lot.spec.od_nm for lot in index.plan.lots]
    for days in pages(glance(index, stretches(index)), height):
        lane = lane_mm(days, height)
        yield timeline(days, width, lane, ring_scale(specs, lane - INSIDE_LANE_MM))


def pages(days: Sequence[Day], height: float) -> Iterator[list[Day]]:
    """The days shared out over pages, at the smallest lane that can be read."""
    page: list[Day] = []
    for day in days:
        if page and sum(day_height(d, SMALLEST_LANE_MM) for d in [*page, day]) > height:
            yield page
            page = []
        page.append(day)
    if page:
        yield page


def lane_mm(days: Sequence[Day], height: float) -> float:
    """The lane that fills the page, mm."""
    lanes = sum(len(day.lanes) for day in days)
    bare = sum(day_height(day, 0) for day in days)
    return min(LARGEST_LANE_MM, (height - bare) / max(1, lanes))
