"""Dates as cells hold them: real dates, day numbers, and text in the orders that people use."""

from __future__ import annotations

import contextlib
import datetime as dt
import re
from dataclasses import dataclass, replace
from enum import Enum

from planner.errors import InputError
from planner.hours import clock
from planner.units.reading import refuse
from planner_io.workbook.cells import Parsed, text
from planner_io.workbook.date_words import in_english
from planner_io.workbook.day_times import split_time, why_no_day
from planner_io.workbook.grid import Value

EXPECTED = "a date such as 2026-12-04 or 4 Dec 2026, with a time of day if it matters"
EPOCH = dt.date(1899, 12, 30)
FIRST_SERIAL, LAST_SERIAL = 36_526, 73_415
"""Day numbers of the years 2000 to 2100."""
PAST_DAYS = 45
COMING_DAYS, COMING_DAYS_WITHOUT_YEAR = 200, 100
"""How far from the plan's start the other reading of a date must lie to be ruled out."""

_MONTHS = ("jan", "feb", "mar", "apr", "may", "jun", "jul", "aug", "sep", "oct", "nov", "dec")
_MONTH = r"(jan|feb|mar|apr|may|jun|jul|aug|sep|sept|oct|nov|dec)[a-z]*"
_DAY = r"([0-9]{1,2})(?:st|nd|rd|th)?"
_YEAR = r"(?:'?([0-9]{4}|[0-9]{2}))?"
_WEEKDAYS = ("mon", "tue", "wed", "thu", "fri", "sat", "sun")
_WEEKDAY = re.compile(
    r"^(mon|tue|wed|thu|fri|sat|sun)(?:day|s|sday|rs?|rsday|nesday|urday)?\.?(?:,? |$)"
)
_LEAD = re.compile(r"^(?:by|on|due|before|not later than) (?=.)")
_END_OF_DAY = re.compile(r"(?:,? (?:eod|cob|end of day|close of business))$")
_REMARK = re.compile(
    r" ?\((?!(?:a\.?m|p\.?m|morning|afternoon)\b)[a-z][a-z .,!'-]*\)$", re.IGNORECASE
)
"""Words in brackets behind a date, as in `Dec 4 (firm)`; a number there may be another date."""
_SOON = re.compile(r"(?:a\.?s\.?a\.?p|rush|urgent|hot|now|immediate)")
_ISO = re.compile(r"([0-9]{4})[-/.]([0-9]{1,2})[-/.]([0-9]{1,2})")
_COMPACT = re.compile(r"(20[0-9]{2})([01][0-9])([0-3][0-9])")
_DAY_MONTH = re.compile(rf"{_DAY}[ -.]*{_MONTH}\.?[ ,-]*{_YEAR}")
_MONTH_DAY = re.compile(rf"{_MONTH}\.?[ -]*{_DAY}(?:(?:[ ,-]+'?|')([0-9]{{4}}|[0-9]{{2}}))?")
_MONTH_ALONE = re.compile(rf"(?<![0-9] )\b{_MONTH}\.?(?:[ ,-]*{_YEAR})?$")
_DAY_ALONE = re.compile(rf"(?:the )?{_DAY}\.?")
_NUMBERS = re.compile(r"([0-9]{1,2})[-/.]([0-9]{1,2})\.?(?:[-/.]?([0-9]{4}|[0-9]{2}))?")
_ONE_OF_MORE = re.compile(
    rf"\b[0-9]{{1,2}}[/.][0-9]{{1,2}}\b(?!/)|\b{_MONTH}\b|\b{'|'.join(_WEEKDAYS)}\b"
)
_POINTS = re.compile(r"[0-9]\.[0-9]{1,2}\.")


class Order(Enum):
    """Which of two numbers in a date is the day."""

    DAY_FIRST = "day first"
    MONTH_FIRST = "month first"


@dataclass(frozen=True)
class DateHabit:
    """What is known about how the workbook's dates are written."""

    order: Order | None = None
    """From the setting, or from a date of the same column that can be read only one way."""
    start: dt.date | None = None
    """First day of the plan; dates without a year lie about it."""
    today: dt.date | None = None
    """The day of reading, about which they lie where no start is known."""
    epoch: dt.date = EPOCH
    why: str = ""
    """Where the order comes from, for the reading."""

    @property
    def near(self) -> dt.date | None:
        """About which dates lie; None where neither is known."""
        return self.start or self.today


@dataclass(frozen=True)
class Moment:
    """A date, with the time of day in minutes if one was given."""

    day: dt.date
    minute: int | None = None
    half: bool = False
    """Only the half of the day was given, which ends at that minute."""


def read_moment(value: Value, habit: DateHabit) -> Parsed[Moment]:
    """A cell as a date with or without time; InputError when it is none or could be two."""
    if isinstance(value, dt.datetime):
        return Parsed(_moment(value))
    if isinstance(value, dt.date):
        return Parsed(Moment(value))
    if isinstance(value, (int, float)) and not isinstance(value, bool):
        return _serial(value, value, habit)
    if not isinstance(value, str) or len(value) > 60:
        raise refuse(text(value), EXPECTED)
    return _text(value, habit)


def day(value: Value, habit: DateHabit) -> Parsed[dt.date]:
    """A cell as a date alone."""
    found = read_moment(value, habit)
    return Parsed(found.value.day, found.note)


def _moment(value: dt.datetime) -> Moment:
    minute = value.hour * 60 + value.minute
    return Moment(value.date(), minute or None)


def _serial(value: Value, number: float, habit: DateHabit) -> Parsed[Moment]:
    if not FIRST_SERIAL <= number <= LAST_SERIAL:
        raise refuse(text(value), EXPECTED)
    whole = int(number)
    minute = round((number - whole) * 1440)
    found = Moment(habit.epoch + dt.timedelta(days=whole), minute or None)
    return Parsed(found, f"{text(value)} read as {shown(found.day)}, a spreadsheet's day number")


def _text(value: str, habit: DateHabit) -> Parsed[Moment]:
    bare = _bare(value)
    words = in_english(bare)
    if re.fullmatch(r"[0-9]{5}(\.[0-9]+)?", words):
        return _serial(value, float(words), habit)
    words, minute, half = split_time(words)
    found = _on_weekday(value, words, habit)
    plainly = f"“{value}” read as {shown(found.value)}"
    loose = half or in_english(bare) != bare or _REMARK.search(value)
    note = found.note or (plainly if loose else "")
    at = f", at {clock(minute)}" if note and minute is not None else ""
    return Parsed(Moment(found.value, minute, bool(half)), f"{note}{half or at}")


def _bare(value: str) -> str:
    """The words of a date without those that add nothing: `by Fri 4 Dec EOD` is `fri 4 dec`."""
    words = _REMARK.sub("", " ".join(value.lower().split()))
    return _LEAD.sub("", _END_OF_DAY.sub("", words))


def _on_weekday(value: str, words: str, habit: DateHabit) -> Parsed[dt.date]:
    """The date, which must fall on its weekday if it names one; the next such day if it names
    nothing else."""
    match = _WEEKDAY.match(words)
    if match is None:
        return _day_of(value, words, habit)
    weekday, rest = _WEEKDAYS.index(match[1]), words[match.end() :]
    if not rest:
        return _next(value, weekday, habit)
    if alone := _DAY_ALONE.fullmatch(rest):
        return _day_of_month(value, weekday, int(alone[1]), habit)
    found = _day_of(value, rest, _with_order(value, rest, weekday, habit))
    if found.value.weekday() != weekday:
        why = f"{shown(found.value)} is a {found.value:%A}"
        raise refuse(value, EXPECTED, f"{why}; correct the day or the date")
    return found


def _next(value: str, weekday: int, habit: DateHabit) -> Parsed[dt.date]:
    if habit.start is None:
        raise refuse(value, EXPECTED, "which week? Write the date")
    found = habit.start + dt.timedelta(days=(weekday - habit.start.weekday()) % 7)
    return Parsed(found, f"“{value}” read as {shown(found)}, the first from the plan's start")


def _day_of_month(value: str, weekday: int, number: int, habit: DateHabit) -> Parsed[dt.date]:
    """The only such day near the start of the plan: a Friday the 4th is one in about seven
    months."""
    if habit.start is None:
        raise refuse(value, EXPECTED, "which month? Write it")
    first = habit.start - dt.timedelta(days=PAST_DAYS)
    near = (first + dt.timedelta(days=days) for days in range(2 * PAST_DAYS))
    found = [day for day in near if (day.day, day.weekday()) == (number, weekday)]
    if len(found) != 1:
        both = " or ".join(shown(day) for day in found)
        none = "there is no such day near the plan's start; write the month"
        why = f"{both}? Write the month" if found else none
        raise refuse(value, EXPECTED, why)
    return Parsed(found[0], f"“{value}” read as {shown(found[0])}, the only one near the plan")


def _with_order(value: str, words: str, weekday: int, habit: DateHabit) -> DateHabit:
    """The habit with the only order of the numbers that gives the weekday, if one does."""
    match = _NUMBERS.fullmatch(words)
    if match is None:
        return habit
    fits: list[Order] = []
    for order in Order:
        with contextlib.suppress(InputError):  # there is no such day in this order
            found = _ordered(value, int(match[1]), int(match[2]), match[3], order, habit)
            fits += [order] if found.weekday() == weekday else []
    return replace(habit, order=fits[0], why="by the weekday") if len(fits) == 1 else habit


def _day_of(value: str, words: str, habit: DateHabit) -> Parsed[dt.date]:
    if match := _ISO.fullmatch(words) or _COMPACT.fullmatch(words):
        return Parsed(_date(value, int(match[1]), int(match[2]), int(match[3])))
    if match := _DAY_MONTH.fullmatch(words):
        return _named(value, match[1], match[2], match[3], habit)
    if match := _MONTH_DAY.fullmatch(words):
        return _named(value, match[2], match[1], match[3], habit)
    if match := _NUMBERS.fullmatch(words):
        return _numbers(value, int(match[1]), int(match[2]), match[3], habit)
    soon = "write the day by which it is wanted, and rush under Priority"
    raise refuse(value, EXPECTED, soon if _SOON.match(words) else _why_not(words))


def _why_not(words: str) -> str:
    """What to do about a date that leaves the day open."""
    weeks = re.search(
        r"\b(?:wk|week|kw|cw|eow|w/?[ce])\b|\b(?:wk|kw|cw|w) ?[0-9]|\bend of (?:the )?week", words
    )
    if weeks:
        return "a week is no day: write its last one, or the one that was promised"
    if len(_ONE_OF_MORE.findall(words)) > 1:
        return "that is more than one; write the day that was promised"
    if re.search(r"\beom\b|\bend of (?:the )?month\b", words):
        return "write the day that was promised"
    month = _MONTH_ALONE.search(words)
    return "a month is no day: write the one that was promised" if month else why_no_day(words)


def _named(
    value: str, day_text: str, month: str, year: str | None, habit: DateHabit
) -> Parsed[dt.date]:
    number = _MONTHS.index(month[:3]) + 1
    found = _with_year(value, number, int(day_text), year, habit)
    plainly = f"“{value}” read as {shown(found)}{_by_today(year, habit)}"
    return Parsed(found, "" if year and len(year) == 4 else plainly)


def _numbers(
    value: str, first: int, second: int, year: str | None, habit: DateHabit
) -> Parsed[dt.date]:
    order = only_order(first, second) or habit.order
    why = "" if only_order(first, second) else habit.why
    if order is None and first != second:
        order, why = _by_start(value, first, second, year, habit)
    found = _ordered(value, first, second, year, order or Order.DAY_FIRST, habit)
    because = f" ({order.value}: {why})" if why and order and first != second else ""
    return Parsed(found, f"“{value}” read as {shown(found)}{because}{_by_today(year, habit)}")


def _by_today(year: str | None, habit: DateHabit) -> str:
    """Behind a date whose year nothing but the day of reading tells, that it does."""
    if year or habit.start or habit.today is None:
        return ""
    return f", the nearest to today, {shown(habit.today)}"


def _ordered(
    value: str, first: int, second: int, year: str | None, order: Order, habit: DateHabit
) -> dt.date:
    month, number = (first, second) if order == Order.MONTH_FIRST else (second, first)
    return _with_year(value, month, number, year, habit)


def only_order(first: int, second: int) -> Order | None:
    """The order in which two numbers must stand when only one makes a date."""
    if first > 12 >= second:
        return Order.DAY_FIRST
    return Order.MONTH_FIRST if second > 12 >= first else None


def _by_start(
    value: str, first: int, second: int, year: str | None, habit: DateHabit
) -> tuple[Order, str]:
    """The order that gives a date near the start of the plan, or near today where that is not
    known, if the other one does not, and why;
    else the usual one of dates with points, which have the day first (common practice)."""
    near: list[Order] = []
    options: list[str] = []
    for order in Order:
        try:
            found = _ordered(value, first, second, year, order, habit)
        except ValueError:
            continue
        options.append(shown(found))
        if habit.near and _is_near(found, habit.near, year):
            near.append(order)
    if len(near) == 1:
        return near[0], f"the other is far from {'the plan' if habit.start else 'today'}"
    if not options:
        _with_year(value, first, second, year, habit)
    if _POINTS.search(value):
        return Order.DAY_FIRST, "as dates with points are"
    both = " or ".join(options)
    start = "" if habit.start else "give --start, or "
    why = f"{both}? Write the month as a word, or {start}Date order in Settings"
    raise refuse(value, EXPECTED, why)


def _is_near(found: dt.date, start: dt.date, year: str | None) -> bool:
    coming = COMING_DAYS if year else COMING_DAYS_WITHOUT_YEAR
    return -PAST_DAYS <= (found - start).days <= coming


def far_ahead(found: dt.date, start: dt.date) -> bool:
    """Whether a date lies further ahead of the start of the plan than one without a year does."""
    return (found - start).days > COMING_DAYS_WITHOUT_YEAR


def without_year(value: Value | None) -> bool:
    """Whether a cell is a date in numbers that names no year."""
    pair = two_numbers(value) if value is not None else None
    return pair is not None and not pair[2]


def two_numbers(value: Value) -> tuple[int, int, str] | None:
    """The numbers of a date that is written in them, and its year if it has one."""
    if not isinstance(value, str) or len(value) > 60:
        return None
    words = in_english(_bare(value))
    with contextlib.suppress(ValueError):
        words, _, _ = split_time(words)
    match = _NUMBERS.fullmatch(_WEEKDAY.sub("", words))
    return (int(match[1]), int(match[2]), match[3] or "") if match else None


def _with_year(value: str, month: int, number: int, year: str | None, habit: DateHabit) -> dt.date:
    if year:
        return _date(value, int(year) + (2000 if len(year) == 2 else 0), month, number)
    near = habit.near
    if near is None:
        raise refuse(
            value,
            EXPECTED,
            "the year is missing: write it, or give --start, or Plan starts in Settings",
        )
    years = (near.year - 1, near.year, near.year + 1)
    found = [_date(value, each, month, number) for each in years if _exists(each, month, number)]
    if not found:
        raise refuse(value, EXPECTED, "there is no such day")
    return min(found, key=lambda each: abs((each - near).days))


def _exists(year: int, month: int, number: int) -> bool:
    try:
        dt.date(year, month, number)
    except ValueError:
        return False
    return True


def _date(value: str, year: int, month: int, number: int) -> dt.date:
    if not _exists(year, month, number) or not 2000 <= year <= 2100:
        raise refuse(value, EXPECTED, "there is no such day")
    return dt.date(year, month, number)


def shown(found: dt.date) -> str:
    """A date that cannot be misread: 4 Dec 2026."""
    return f"{found.day} {_MONTHS[found.month - 1].title()} {found.year}"
