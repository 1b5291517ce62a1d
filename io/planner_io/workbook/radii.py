"""A centreline radius as a multiple of the OD, as benders say it: a 3D bend (common practice)."""

from __future__ import annotations

import re
from fractions import Fraction

from planner.units import format_size
from planner_io.workbook import cells
from planner_io.workbook.cells import Parsed
from planner_io.workbook.columns import Kind
from planner_io.workbook.grid import Value
from planner_io.workbook.rows import RowReader

_IN_ODS = re.compile(r"([0-9]+(?:[.,][0-9]+)?|[.,][0-9]+) ?(?:[x×*] ?)?(?:o?d|o\.d\.)")


def in_ods(value: Value) -> Fraction | None:
    """How many ODs a radius is; None for a radius that is not said so.

    >>> in_ods("3D"), in_ods("2.5 x OD"), in_ods('3"')
    (Fraction(3, 1), Fraction(5, 2), None)
    """
    match = _IN_ODS.fullmatch(value.strip().lower()) if isinstance(value, str) else None
    return Fraction(match[1].replace(",", ".")) or None if match else None


def said(ods: Fraction) -> str:
    """A multiple as it is written: 2.5."""
    return f"{float(ods):g}"


def radius_nm(od_nm: int, ods: Fraction) -> int:
    """The centreline radius that is so many times the OD."""
    return round(od_nm * ods)


def read_radius(reader: RowReader, key: str, od_nm: int) -> int:
    """A radius as a length or in ODs; 0 where the cell is blank or fails."""

    def parse(value: Value) -> Parsed[int]:
        ods = in_ods(value)
        if ods is None:
            zero_ok = reader.row.table.spec.column(key).kind == Kind.ALLOWANCE
            return cells.length(value, reader.unit(key), reader.house.unit, zero_ok=zero_ok)
        found = radius_nm(od_nm, ods)
        shown = format_size(found, reader.house.unit)
        return Parsed(found, f"“{value}” read as {shown}, {said(ods)} times the OD")

    return reader.take(key, parse, 0)
