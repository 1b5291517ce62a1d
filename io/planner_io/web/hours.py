"""Minutes between taps, within the hours of the shop."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import datetime

from planner.hours import DAY_MIN, SHOP, due_minute, spans_of, working
from planner_io.views.index import Index


def minutes_in(index: Index, spans: Sequence[tuple[datetime, datetime]]) -> int:
    """Minutes of some spans of time within the hours of the shop.

    All of them where the shop is closed all the time, as somebody has worked.
    """
    inside = sum(minutes_open(index, start, end) for start, end in spans)
    return inside or sum(int((end - start).total_seconds()) // 60 for start, end in spans)


def minutes_open(index: Index, start: datetime, end: datetime) -> int:
    """Minutes from one time to another in which the shop works."""
    if end <= start:
        return 0
    day = start.date()
    first, last = due_minute(start, day), due_minute(end, day)
    hours = spans_of(working(index.plan.shop, SHOP, day, last // DAY_MIN + 1))
    return sum(max(0, min(last, closes) - max(first, opens)) for opens, closes in hours)
