"""Lengths below a header that says feet and inches: `5-6 1/2` there is 5' 6-1/2\".

>>> of_feet_and_inches("5-6 1/2"), of_feet_and_inches("5-6-1/2"), of_feet_and_inches('66"')
('5\\' 6-1/2"', '5\\' 6-1/2"', '66"')
"""

from __future__ import annotations

import re

from planner.units.numbers import plain
from planner.units.reading import refuse
from planner_io.workbook.grid import Value

FEET_INCHES = "ft-in"
"""The unit of such a header."""
_BOTH = re.compile(r"([0-9]+) ?- ?([0-9]{1,2}(?:\.[0-9]+)?)(?:[ -]([0-9]+/[0-9]+))?")
_BARE = re.compile(r"[0-9]+(?:[.,][0-9]+)?")
_EXPECTED = 'a length with its marks, such as 5\' 6-1/2" or 66-1/2"'
INCHES = 12


def of_feet_and_inches(value: Value) -> Value:
    """A cell with marks behind its feet and inches; as it is where it has some.

    Raises InputError for a number alone, which may be either, or feet with inches as decimals;
    a whole one of a foot or more is inches.
    """
    text = plain(value) if isinstance(value, str) else f"{value:g}" if _is_number(value) else ""
    if match := _BOTH.fullmatch(text):
        if float(match[2]) >= INCHES:
            raise refuse(text, _EXPECTED, f"{match[2]} inches are a foot or more")
        inches = "-".join(part for part in match.groups()[1:] if part)
        return f"{match[1]}' {inches}\""
    if _BARE.fullmatch(text) and not (text.isdigit() and int(text) >= INCHES):
        why = "feet, inches, or feet and inches with a point between? The header says feet-inches"
        raise refuse(text, _EXPECTED, why)
    return value


def _is_number(value: Value) -> bool:
    return isinstance(value, (int, float)) and not isinstance(value, bool)
