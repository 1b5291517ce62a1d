"""Days and times of the Progress sheet, as people write them."""

from __future__ import annotations

import datetime as dt
import re
from dataclasses import dataclass

from planner.errors import InputError
from planner.hours import DAY_MIN
from planner.units.reading import refuse
from planner_io.workbook import cells
from planner_io.workbook.cells import Parsed
from planner_io.workbook.dates import DateHabit, read_moment, shown
from planner_io.workbook.grid import Value

_DAYS = ("mon", "tue", "wed", "thu", "fri", "sat", "sun")
_WEEKDAY = re.compile(
    r"(?P<before>[0-9][^a-z]*(?: ?[ap]\.?m\.?)?)? ?(?P<day>mon|tue|wed|thu|fri|sat|sun)[a-z]*\.?,?"
    r"(?: (?:at )?(?P<after>.+))?"
)
_TIME_ALONE = re.compile(r"[0-9]{1,2}([:.h][0-9]{2})? ?([ap]\.?m?\.?)?|noon")


@dataclass(frozen=True)
class When:
    """A day, with the minute of the day if one was given."""

    day: dt.date
    minute: int | None


def when(value: Value, now: dt.datetime, habit: DateHabit, *, past: bool) -> Parsed[When | None]:
    """A cell as a day and a time: `09:10`, `Tuesday`, `Tue 9:10`, or a date with or without time.

    A weekday is the last one up to today, or the coming one from today on.
    """
    if isinstance(value, str):
        words = " ".join(value.lower().split())
        match = _WEEKDAY.fullmatch(words)
        if match and (found := _of_weekday(match, now, past)):
            note = f"“{value}” read as {_DAYS[found.day.weekday()].title()} {shown(found.day)}"
            return Parsed(found, note)
    if is_of_today(value):
        return Parsed(When(now.date(), cells.clock(value).value))
    found_moment = read_moment(value, habit)
    if found_moment.value.half:
        raise refuse(cells.text(value), "a time of day such as Thu 13:00", "half a day is no time")
    return Parsed(When(found_moment.value.day, found_moment.value.minute), found_moment.note)


def is_of_today(value: Value) -> bool:
    """Whether a cell is a time of day alone."""
    if isinstance(value, str):
        return _TIME_ALONE.fullmatch(" ".join(value.lower().split())) is not None
    is_share = isinstance(value, float) and 0 <= value < 1
    return is_share or isinstance(value, (dt.time, dt.timedelta))


def days_later(was: int, now: int) -> bool:
    """Whether a minute is at the same time of a later day."""
    return now > was and (now - was) % DAY_MIN == 0


def _of_weekday(match: re.Match[str], now: dt.datetime, past: bool) -> When | None:
    """A weekday with or without a time; None when a date stands beside it."""
    away = (_DAYS.index(match["day"]) - now.weekday()) % 7
    day = now.date() + dt.timedelta(days=away - 7 if past and away else away)
    time = match["before"] or match["after"]
    if match["before"] and match["after"]:
        raise refuse(match[0], "one time of day beside a weekday")
    if not time:
        return When(day, None)
    try:
        minute = cells.clock(time.strip(" ,")).value
    except InputError:
        return None
    return When(day, minute)
