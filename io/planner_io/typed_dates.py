"""Dates and times on the command line, written as people write them."""

from __future__ import annotations

from datetime import date, datetime, time, timedelta
from typing import TYPE_CHECKING

from planner.errors import InputError
from planner_io.typed_values import refused

if TYPE_CHECKING:
    from planner_io.workbook.dates import Moment


def first_day(words: str) -> date:
    """A date without a time that can be read in one way only.

    Raises typer.BadParameter, which names what was read and what would do.
    """
    found = _moment(words)
    if found is None or found.minute is not None:
        raise refused(words, "a date such as 2026-11-30 or 30 Nov 2026")
    return found.day


def time_of_day(words: str) -> datetime:
    """A date with a time of day; raises as `first_day` does."""
    found = _moment(words)
    if found is None or found.minute is None:
        raise refused(words, 'a date and time such as "2026-12-02 10:30" or "2 Dec 2026 10:30"')
    return datetime.combine(found.day, time()) + timedelta(minutes=found.minute)


def _moment(words: str) -> Moment | None:
    from planner_io.workbook.dates import DateHabit, read_moment  # noqa: PLC0415 - help is quick

    try:
        return read_moment(words, DateHabit()).value
    except InputError:
        return None
