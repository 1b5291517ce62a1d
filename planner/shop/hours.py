"""When work is done, and by whom."""

from __future__ import annotations

from datetime import date
from enum import StrEnum

from pydantic import Field

from planner.frozen import Frozen


class HoursKind(StrEnum):
    """What a row of the Hours sheet says."""

    WORK = "work"
    BREAK = "break"
    OVERTIME = "overtime"
    CLOSED = "closed"


class HoursRow(Frozen):
    """Hours of one day. Rows of a date replace the rows of its weekday; rows of a station or a
    person replace those of the shop."""

    who: str = "shop"
    """`shop`, or the name of a station or a person."""
    weekday: int | None = Field(default=None, ge=0, le=6)
    """0 for Monday to 6 for Sunday, or None when `day` is given."""
    day: date | None = None
    kind: HoursKind = HoursKind.WORK
    start_min: int = Field(default=0, ge=0, le=1440)
    """Minutes from midnight."""
    end_min: int = Field(default=1440, ge=0, le=1440)


class Person(Frozen):
    """Somebody who works in the shop."""

    name: str
    stations: tuple[str, ...]
    """Names of the stations that this person may run."""
