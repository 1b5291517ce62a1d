"""Read durations, in seconds.

>>> parse_seconds("1 h 30"), parse_seconds("1:30"), parse_seconds(90), parse_seconds("1.5 min")
(5400, 5400, 5400, 90)
"""

from __future__ import annotations

import datetime as dt
import re
from fractions import Fraction

from planner.units.length import number
from planner.units.numbers import MAX_TEXT, AmbiguousAmountError, amount, plain
from planner.units.reading import refuse

MAX_MINUTES = 100_000
"""About ten weeks around the clock: longer is a slip of the pen."""

EXPECTED = "a time such as 90, 45 min, 1 h 30 or 1:30"

_N = r"([0-9 .,/-]+?)"
_HOURS = re.compile(rf"{_N} ?(?:h|hr|hrs|hours?)\.?(?: ?{_N} ?(?:m|mins?|minutes?)?\.?)?", re.ASCII)
_MINUTES = re.compile(rf"{_N} ?(?:m|mins?|minutes?|')?\.?", re.ASCII)
_SECONDS = re.compile(rf"{_N} ?(?:s|secs?|seconds?|\")\.?", re.ASCII)
_CLOCK = re.compile(r"([0-9]{1,4}):([0-5][0-9])(?::([0-5][0-9]))?", re.ASCII)


def parse_seconds(value: object) -> int:
    """Read a cell as a duration in seconds; a number that names no unit is in minutes.

    Raises InputError for what is no duration, is negative or is longer than 100,000 minutes.
    """
    minutes = _minutes(value)
    if not 0 <= minutes <= MAX_MINUTES:
        raise refuse(value, EXPECTED)
    return round(minutes * 60)


def _minutes(value: object) -> Fraction:
    if isinstance(value, dt.time):
        return Fraction(value.hour * 3600 + value.minute * 60 + value.second, 60)
    if isinstance(value, dt.timedelta):
        return Fraction(value // dt.timedelta(seconds=1), 60)
    if not isinstance(value, str):
        return number(value, EXPECTED)
    try:
        minutes = _text(plain(value)) if len(value) <= MAX_TEXT else None
    except AmbiguousAmountError as problem:
        raise refuse(value, EXPECTED, str(problem)) from problem
    if minutes is None:
        raise refuse(value, EXPECTED)
    return minutes


def _text(words: str) -> Fraction | None:
    if match := _CLOCK.fullmatch(words):
        return 60 * int(match[1]) + int(match[2]) + Fraction(int(match[3] or 0), 60)
    if match := _HOURS.fullmatch(words):
        return _sum((match[1], Fraction(60)), (match[2], Fraction(1)))
    if match := _MINUTES.fullmatch(words):
        return _sum((match[1], Fraction(1)))
    if match := _SECONDS.fullmatch(words):
        return _sum((match[1], Fraction(1, 60)))
    return None


def _sum(*parts: tuple[str | None, Fraction]) -> Fraction | None:
    total = Fraction(0)
    for text, minutes in parts:
        found = amount(text) if text is not None else None
        if text is not None and found is None:
            return None
        total += found.value * minutes if found else 0
    return total
