"""Parsers of single cells. They know how values are written, not what they are for."""

from __future__ import annotations

import datetime as dt
import math
import re
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from fractions import Fraction
from typing import Generic, TypeVar

from planner.errors import InputError
from planner.tube import Family
from planner.units import (
    OdReading,
    Reading,
    Unit,
    parse_angle,
    parse_length,
    parse_od,
    parse_seconds,
    parse_wall,
)
from planner.units.numbers import MAX_TEXT, AmbiguousAmountError, amount, plain
from planner.units.reading import refuse
from planner_io.workbook import count_words
from planner_io.workbook.feet_inches import FEET_INCHES, of_feet_and_inches
from planner_io.workbook.grid import CellError, Value
from planner_io.workbook.materials import SurfaceReading, read_family, read_surface
from planner_io.workbook.names import find_name, listed, plain_name

T = TypeVar("T")


@dataclass(frozen=True)
class Parsed(Generic[T]):
    """A value, and how it was read when that left a choice."""

    value: T
    note: str = ""


OPEN = frozenset({"tbd", "tba", "tbc", "?", "??", "???"})
"""What people write to say that it is not decided yet."""
NOTHING = frozenset({"", "-", "--", "–", "—", "−", "n/a", "na", "none", "nil"}) | OPEN
"""What people write to say that there is nothing, or nothing yet."""

_BETWEEN = re.compile(r"\s*(?:[,;/+&\n]|\band\b)\s*")
"""What stands between the names of a list."""
_BARE = re.compile(r"[0-9][0-9 .,/-]*|\.[0-9]+")
_COUNTED = re.compile(rf"(?:x|qty:?)? ?([0-9 .,]+?) ?{count_words.EACH}?\.?")
_MONEY = re.compile(r"(?:[$€£]|usd|eur|gbp)? ?([0-9][0-9 .,]*|\.[0-9]+) ?(?:[$€£]|usd|eur|gbp)?")
_LENGTH_UNITS = {"": "", "in": "in", "mm": "mm", "cm": "cm", "m": "m", "ft": "ft"}
_HEADER_UNITS: Mapping[str, Unit] = {"in": "inch", "mm": "mm"}


def text(value: Value) -> str:
    """A cell as text: whole numbers without a point, dates in ISO form."""
    if isinstance(value, float) and value.is_integer() and abs(value) < 1e15:
        return str(int(value))
    if isinstance(value, dt.datetime) and value.time() == dt.time():
        return value.date().isoformat()
    return " ".join(str(value).split()) if isinstance(value, str) else str(value)


def broken(value: Value) -> InputError | None:
    """The error for a cell whose formula has no result, None for any other cell."""
    if not isinstance(value, CellError):
        return None
    if value == "=":
        why = "the formula was never calculated: open the workbook and save it"
    else:
        why = "the formula failed: correct it"
    return refuse(str(value), "a value", why)


def is_nothing(value: Value | None) -> bool:
    """Whether a cell says that there is nothing."""
    return isinstance(value, str) and value.strip().lower() in NOTHING


def is_open(value: Value) -> bool:
    """Whether a cell says that it is not decided yet."""
    return isinstance(value, str) and value.strip().lower() in OPEN


def plain_number(value: Value, expected: str) -> Parsed[Fraction]:
    """A number as a number or as text, exact; InputError otherwise."""
    if isinstance(value, bool) or not isinstance(value, (int, float, str)):
        raise refuse(text(value), expected)
    if isinstance(value, str):
        return _number_text(value, expected)
    if not math.isfinite(value) or abs(value) > 1e12:
        raise refuse(text(value), expected)
    return Parsed(Fraction(repr(value)) if isinstance(value, float) else Fraction(value))


def _number_text(value: str, expected: str) -> Parsed[Fraction]:
    words = plain(value) if len(value) <= MAX_TEXT else ""
    sign = -1 if words.startswith("-") else 1
    try:
        found = amount(words.removeprefix("-").strip())
    except AmbiguousAmountError as problem:
        raise refuse(value, expected, str(problem)) from problem
    if found is None:
        raise refuse(value, expected)
    return Parsed(sign * found.value, found.note)


def whole(value: Value, least: int, most: int, expected: str) -> Parsed[int]:
    """A whole number within limits, in words and with units of counting, too: `12 pcs`, `a dozen`,
    `1 pair`; and what it is made of in brackets, if that comes to the same: `2 (1L, 1R)`."""
    number = _counted(value, expected)
    if number.value.denominator != 1:
        raise refuse(text(value), expected, "not a whole number")
    if not least <= number.value <= most:
        raise refuse(text(value), expected)
    return Parsed(int(number.value), number.note)


def _counted(value: Value, expected: str) -> Parsed[Fraction]:
    if not isinstance(value, str) or len(value) >= 40:
        return plain_number(value, expected)
    if said := count_words.pieces(value):
        return Parsed(Fraction(said), f"“{text(value)}” read as {said}")
    if why := count_words.what_to_write(value):
        raise refuse(text(value), expected, why)
    counted = _COUNTED.fullmatch(plain(value))
    shown = counted[1] if counted else value
    number = plain_number(shown, expected)
    note = f"“{text(value)}” read as {number.value}" if counted and "." in shown else ""
    return Parsed(number.value, number.note or note)


def decimal(value: Value, expected: str = "a number") -> Parsed[float]:
    """A number, zero or more."""
    number = plain_number(value, expected)
    if number.value < 0:
        raise refuse(text(value), expected, "less than nothing")
    return Parsed(float(number.value), number.note)


def share(value: Value) -> Parsed[float]:
    """A share as 0.5 or 50 %."""
    expected = "a share such as 0.5 or 50 %"
    percent = isinstance(value, str) and value.rstrip().endswith("%")
    number = plain_number(value.rstrip(" %") if isinstance(value, str) else value, expected)
    found = number.value / 100 if percent else number.value
    if not 0 <= found <= 1:
        raise refuse(text(value), expected)
    return Parsed(float(found), number.note)


def od(value: Value, unit: str, house: Unit) -> OdReading:
    """An OD or pipe size in nm, with its wall if it names one; `unit` is the header's."""
    return parse_od(in_unit(value, unit), default=_HEADER_UNITS.get(unit, house))


def wall(value: Value, unit: str, house: Unit, od_nm: int | None) -> Reading:
    """The wall of a tube of that OD, in nm; `unit` is the header's."""
    default = _HEADER_UNITS.get(unit, house)
    return parse_wall(in_unit(value, unit), default=default, od_nm=od_nm)


def in_unit(value: Value, unit: str) -> Value:
    """A bare number with the unit of its header: 12 under `ft` is `12 ft`; anything else as it is.
    A fraction is of an inch under `mm`, too."""
    mark = _LENGTH_UNITS.get(unit, "")
    if not mark or isinstance(value, (bool, dt.date, dt.time, dt.timedelta)):
        return value
    if isinstance(value, str):
        words = plain(value)
        stays = mark == "mm" and "/" in words
        return f"{value} {mark}" if _BARE.fullmatch(words) and not stays else value
    shown = f"{value:.9f}".rstrip("0").rstrip(".") if isinstance(value, float) else str(value)
    return f"{shown} {mark}"


def length(value: Value, unit: str, house: Unit, *, zero_ok: bool = False) -> Parsed[int]:
    """A length in nm; `unit` is the header's, `house` what bare numbers mean otherwise."""
    if isinstance(value, dt.timedelta):
        raise refuse(text(value), "a length", "the spreadsheet made a time of it")
    value = of_feet_and_inches(value) if unit == FEET_INCHES else value
    default = _HEADER_UNITS.get(unit, house)
    reading = parse_length(in_unit(value, unit), default=default, zero_ok=zero_ok)
    return Parsed(reading.nm, reading.note)


def offset(value: Value, unit: str, house: Unit) -> Parsed[int]:
    """A length in nm that may go the other way: below zero with a minus before it.

    >>> offset("-1/4", "", "inch").value, offset(3, "mm", "inch").value
    (-6350000, 3000000)
    """
    shown = plain(value).strip() if isinstance(value, str) else value
    if isinstance(shown, str) and shown[:1] in ("-", "+"):
        found = length(shown[1:].strip(), unit, house, zero_ok=True)
        return Parsed(-found.value if shown[0] == "-" else found.value, found.note)
    if isinstance(shown, (int, float)) and not isinstance(shown, bool) and shown < 0:
        found = length(-shown, unit, house)
        return Parsed(-found.value, found.note)
    return length(value, unit, house, zero_ok=True)


def seconds(value: Value, unit: str) -> Parsed[int]:
    """A duration in seconds; a bare number is in minutes unless the header says otherwise."""
    marks = {"s": "s", "h": "h", "min": "min"}
    bare = isinstance(value, (int, float)) and not isinstance(value, bool)
    if bare or (isinstance(value, str) and _BARE.fullmatch(plain(value))):
        shown = f"{value:.6f}".rstrip("0").rstrip(".") if isinstance(value, float) else str(value)
        return Parsed(parse_seconds(f"{shown} {marks.get(unit, 'min')}"))
    if isinstance(value, dt.datetime):
        raise refuse(text(value), "a time such as 5 min or 45 s")
    return Parsed(parse_seconds(value))


def minutes(value: Value, unit: str) -> Parsed[int]:
    """A duration in whole minutes, rounded up."""
    found = seconds(value, unit)
    return Parsed(-(-found.value // 60), found.note)


def angle(value: Value) -> Parsed[int]:
    """An angle of 0 to 180 degrees, in thousandths of a degree."""
    return Parsed(parse_angle(value))


def turn(value: Value) -> Parsed[int]:
    """A turn either way round of up to 360 degrees, in thousandths, brought to -180 to 180."""
    expected = "a turn such as 90, -45 or 270 degrees"
    shown = value.rstrip(" °").removesuffix("deg") if isinstance(value, str) else value
    number = plain_number(shown, expected)
    if abs(number.value) > 360:
        raise refuse(text(value), expected)
    mdeg = round(number.value * 1000)
    near = (mdeg + 180_000) % 360_000 - 180_000
    return Parsed(180_000 if near == -180_000 and mdeg > 0 else near, number.note)


def cents(value: Value) -> Parsed[int]:
    """Money in cents, rounded."""
    expected = "an amount of money such as 98.40"
    match = _MONEY.fullmatch(plain(value)) if isinstance(value, str) else None
    number = plain_number(match[1] if match else value, expected)
    if not 0 <= number.value <= 10_000_000:
        raise refuse(text(value), expected)
    return Parsed(round(number.value * 100), number.note)


_YES = frozenset({"yes", "y", "true", "x", "1", "on", "ja", "✓", "✔"})
_NO = frozenset({"no", "n", "false", "0", "off", "none", "-"})


def yes_no(value: Value) -> Parsed[bool]:
    """yes or no, in the usual ways of ticking a cell."""
    word = text(value).strip().lower()
    if word not in _YES | _NO:
        raise refuse(text(value), "yes or no")
    return Parsed(word in _YES)


def choice(value: Value, known: Mapping[str, T], words: Iterable[str]) -> Parsed[T]:
    """One of the words of `known` (plain names), misspellings noted; `words` are told."""
    match = find_name(text(value), known)
    if match is None:
        raise refuse(text(value), f"one of {listed(words, 20)}")
    return Parsed(match.value, f"“{text(value)}” read as {match.value}" if match.guessed else "")


def surface(value: Value) -> Parsed[SurfaceReading]:
    """An incoming surface by its usual names."""
    found = read_surface(value)
    return Parsed(found, found.note)


def families(value: Value) -> Parsed[tuple[Family, ...]]:
    """Families separated by commas, or all."""
    if plain_name(text(value)) in {"all", "any", "every"}:
        return Parsed(tuple(Family))
    found = {read_family(word) for word in split_list(text(value))}
    return Parsed(tuple(family for family in Family if family in found))


def split_list(value: str, whole: Iterable[str] = ()) -> list[str]:
    """Names separated by commas, semicolons, slashes, plus signs or `and`, but not within those of
    `whole`.

    >>> split_list("saw, bender and mill, large", ["Mill, large"])
    ['saw', 'bender', 'Mill, large']
    """
    apart = sorted((name for name in whole if len(_BETWEEN.split(name)) > 1), key=len, reverse=True)
    kept = {f"\0{number}\0": name for number, name in enumerate(apart)}
    for mark, name in kept.items():
        words = r"\s*".join(map(re.escape, re.findall(r"\w+|[^\w\s]", name)))
        value = re.sub(rf"(?i)(?<!\w){words}(?!\w)", mark, value)
    return [kept.get(part, part) for part in _BETWEEN.split(value) if part]


def clock(value: Value) -> Parsed[int]:
    """A time of day as minutes from midnight; 24:00 is the end of the day."""
    expected = "a time of day such as 07:00, 3:30 pm or 15.30"
    if isinstance(value, dt.datetime):
        value = value.time()
    if isinstance(value, dt.time):
        return Parsed(value.hour * 60 + value.minute)
    if isinstance(value, dt.timedelta):
        return Parsed(_within_a_day(value // dt.timedelta(minutes=1), value, expected))
    if isinstance(value, float) and 0 <= value < 1:
        return Parsed(round(value * 1440))
    return Parsed(_within_a_day(_clock_text(text(value), expected), value, expected))


_CLOCK = re.compile(r"([0-9]{1,2})(?:[:.h]([0-5][0-9]))?(?::[0-5][0-9])? ?([ap])?\.?(?:m\.?)?")


def _clock_text(value: str, expected: str) -> int:
    named = {"noon": 720, "midnight": 1440}
    word = value.lower().strip().removesuffix("uhr").strip()
    match = _CLOCK.fullmatch(word)
    if word in named:
        return named[word]
    if not match:
        raise refuse(value, expected)
    hour, minute = int(match[1]), int(match[2] or 0)
    if match[3]:
        if not 1 <= hour <= 12:
            raise refuse(value, expected)
        hour = hour % 12 + (12 if match[3] == "p" else 0)
    return hour * 60 + minute


def _within_a_day(found: int, value: Value, expected: str) -> int:
    if not 0 <= found <= 1440:
        raise refuse(text(value), expected)
    return found
