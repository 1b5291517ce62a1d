"""Read and print angles, in thousandths of a degree.

>>> parse_angle("22.5°"), parse_angle(90), format_angle(22_500)
(22500, 90000, '22.5°')
"""

from __future__ import annotations

import re
from fractions import Fraction

from planner.units.length import number
from planner.units.numbers import MAX_TEXT, AmbiguousAmountError, amount, plain
from planner.units.reading import refuse

MDEG_PER_DEGREE = 1_000

EXPECTED = "an angle from 0 to 180 degrees such as 45 or 22.5°"

_ANGLE = re.compile(r"([0-9 .,/-]+?) ?(?:°|º|˚|deg\.?|degrees?)?")


def parse_angle(value: object) -> int:
    """Read a cell as an angle in thousandths of a degree, 0 to 180,000.

    Raises InputError for anything else.
    """
    degrees = _text(value) if isinstance(value, str) else number(value, EXPECTED)
    if not 0 <= degrees <= 180:
        raise refuse(value, EXPECTED)
    return round(degrees * MDEG_PER_DEGREE)


def _text(text: str) -> Fraction:
    match = _ANGLE.fullmatch(plain(text)) if len(text) <= MAX_TEXT else None
    try:
        found = match and amount(match[1])
    except AmbiguousAmountError as problem:
        raise refuse(text, EXPECTED, str(problem)) from problem
    if not found:
        raise refuse(text, EXPECTED)
    return found.value


def format_angle(mdeg: int) -> str:
    """An angle in degrees without trailing zeros."""
    sign = "-" if mdeg < 0 else ""
    whole, rest = divmod(abs(mdeg), MDEG_PER_DEGREE)
    return f"{sign}{whole}.{rest:03d}".rstrip("0").rstrip(".") + "°"
