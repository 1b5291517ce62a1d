"""Read a length as a person writes it, into whole nanometres, by an own strict grammar.

>>> parse_length("1-1/2").nm, parse_length('12\\' 3-1/4"').nm, parse_length("38.1mm").nm
(38100000, 3740150000, 38100000)
>>> parse_length(3734, default="mm").nm
3734000000
>>> parse_length("9**9")
Traceback (most recent call last):
    ...
planner.errors.InputError: read "9**9", expected a length such as 1-1/2", 12' 3-1/4" or 3734 mm
"""

from __future__ import annotations

import datetime as dt
import math
import re
from fractions import Fraction

from planner.units.numbers import MAX_TEXT, AmbiguousAmountError, Amount, amount, plain
from planner.units.reading import (
    MAX_LENGTH_NM,
    MIN_LENGTH_NM,
    NM_PER_CM,
    NM_PER_FOOT,
    NM_PER_INCH,
    NM_PER_M,
    NM_PER_MM,
    Reading,
    Unit,
    or_mm,
    refuse,
)

EXPECTED = 'a length such as 1-1/2", 12\' 3-1/4" or 3734 mm'

_INCH = r'(?:"|in\.?|inch|inches)'
_FOOT = r"(?:'|ft\.?|foot|feet)"
_AMOUNT = r"[0-9 .,/-]+?"
_FEET_INCHES = re.compile(
    rf"(?P<feet>{_AMOUNT}) ?{_FOOT}(?: ?[-,]? ?(?P<inches>{_AMOUNT}) ?{_INCH}?)?", re.ASCII
)
_ONE_UNIT = re.compile(
    rf"(?P<amount>{_AMOUNT}) ?(?:(?P<inch>{_INCH})"
    r"|(?P<mm>mm\.?|millimet(?:er|re)s?)"
    r"|(?P<cm>cm\.?|centimet(?:er|re)s?)"
    r"|(?P<m>m\.?|mtrs?\.?|met(?:er|re)s?))?",
    re.ASCII,
)
_CALLED = re.compile(r"^l ?= ?(?=[0-9.])")
_TOLERANCE = re.compile(
    r"[±]|[+]/?-|[+] ?[0-9./]+ ?[/,]? ?- ?[0-9.]|- ?[0-9./]+ ?[/,]? ?[+] ?[0-9.]"
    r"|[0-9\"] ?(?:max|min|nom|ref|tol|approx)\b|^~"
)
_THOUSANDS = re.compile(r"([0-9]{1,3})'([0-9]{3})(?:[.,][0-9]+)?", re.ASCII)
"""A thousand with an apostrophe, as the Swiss write it; no inches after feet have three figures."""
IN_INCHES = "a fraction, so read in inches"
_NM_PER = {"inch": NM_PER_INCH, "mm": NM_PER_MM, "cm": NM_PER_CM, "m": NM_PER_M}


def parse_length(value: object, *, default: Unit = "inch", zero_ok: bool = False) -> Reading:
    """Read a cell's text or number as a length.

    `default` is the unit of a number that names none, but a fraction that names none is always of
    an inch; `zero_ok` lets allowances be nothing.
    Raises InputError for anything else than one length between 0.01 mm and 100 m.
    """
    reading = _read(value, default)
    if reading.nm == 0 and zero_ok:
        return reading
    if reading.nm <= 0:
        raise refuse(value, EXPECTED, "a length is more than nothing")
    if not MIN_LENGTH_NM <= reading.nm <= MAX_LENGTH_NM:
        hint = or_mm(value, default) if reading.nm > MAX_LENGTH_NM else ""
        raise refuse(value, EXPECTED, f"outside 0.01 mm to 100 m{hint}")
    return reading


def _read(value: object, default: Unit) -> Reading:
    if isinstance(value, str):
        return _read_text(value, default)
    return _rounded(Amount(number(value, EXPECTED)), _NM_PER[default])


def number(value: object, expected: str) -> Fraction:
    """A number cell as an exact fraction of what it shows (0.065 is 65/1000).

    Raises InputError for what is no number, a date above all: spreadsheets turn 1-1/2 into one.
    """
    if isinstance(value, (dt.date, dt.time)):
        raise refuse(value, expected, "the spreadsheet made a date of it, format the cell as text")
    if isinstance(value, bool) or not isinstance(value, (int, float)):
        raise refuse("" if value is None else value, expected)
    if not math.isfinite(value) if isinstance(value, float) else abs(value) > 10**12:
        raise refuse(value, expected)
    return Fraction(repr(value)) if isinstance(value, float) else Fraction(value)


def _read_text(text: str, default: Unit) -> Reading:
    if len(text) > MAX_TEXT:
        raise refuse(text, EXPECTED, "too long")
    words = _CALLED.sub("", plain(text))
    if words.startswith("-"):
        raise refuse(text, EXPECTED, "a length is more than nothing")
    if _TOLERANCE.search(words):
        raise refuse(text, EXPECTED, "write the tolerance under Notes")
    if match := _THOUSANDS.fullmatch(words):
        raise refuse(text, EXPECTED, f"if ' stands for thousands, write {match[1]}{match[2]}")
    try:
        reading = _feet_inches(words) or _one_unit(words, default)
    except AmbiguousAmountError as problem:
        raise refuse(text, EXPECTED, str(problem)) from problem
    if reading is None:
        raise refuse(text, EXPECTED)
    return reading


def _one_unit(words: str, default: Unit) -> Reading | None:
    match = _ONE_UNIT.fullmatch(words)
    found = match and amount(match["amount"])
    if not match or not found:
        return None
    unit = next((name for name in _NM_PER if match[name]), None)
    if unit is None and default == "mm" and "/" in match["amount"]:
        return _rounded(Amount(found.value, found.note or IN_INCHES), NM_PER_INCH)
    unit = unit or default
    return _rounded(found, _NM_PER[unit])


def _feet_inches(words: str) -> Reading | None:
    match = _FEET_INCHES.fullmatch(words)
    feet = match and amount(match["feet"])
    if not match or not feet:
        return None
    if match["inches"] is None:
        return _rounded(feet, NM_PER_FOOT)
    inches = amount(match["inches"], is_rest=True)
    padded = re.match("0[0-9]{2}", match["inches"])
    if not inches or padded or feet.value.denominator != 1:
        return None
    note = feet.note or inches.note or _past_a_foot(inches.value)
    return _rounded(Amount(12 * feet.value + inches.value, note), NM_PER_INCH)


def _past_a_foot(inches: Fraction) -> str:
    return "the inches after the feet make a foot or more" if inches >= 12 else ""


def _rounded(found: Amount, nm_per: int) -> Reading:
    return Reading(round(found.value * nm_per), literal=not found.note, note=found.note)
