"""Values as cells: the way back from the models to what a planner reads and writes."""

from __future__ import annotations

import datetime as dt
from collections.abc import Callable, Iterable, Mapping
from fractions import Fraction
from typing import Any

from planner.tube import Family
from planner.units import FEET_FROM_NM, NM_PER_INCH, NM_PER_MM, Unit, format_decimal_inch
from planner_io.workbook.areas import show_area
from planner_io.workbook.columns import Column, Kind

Shown = str | int | float | dt.date
"""What is written into a cell."""

_RULE = 64
"""Finest fraction of an inch that is written as one."""


def show_length(nm: int, unit: Unit) -> str:
    """A length without loss: whole feet from 10 ft on, a fraction or thousandths of an inch if it
    is one, else mm.

    >>> show_length(38_100_000, "inch"), show_length(3_048_000, "inch")
    ('1-1/2"', '.120"')
    >>> show_length(6_096_000_000, "inch"), show_length(2_438_400_000, "inch")
    ('20 ft', '96"')
    >>> show_length(2_400_000, "inch"), show_length(38_100_000, "mm")
    ('2.4 mm', '38.1 mm')
    """
    inches = Fraction(nm, NM_PER_INCH)
    if unit == "mm":
        return f"{_decimal(Fraction(nm, NM_PER_MM))} mm"
    if nm >= FEET_FROM_NM and inches % 12 == 0:
        return f"{inches / 12} ft"
    if _RULE % inches.denominator == 0:
        whole, rest = divmod(inches, 1)
        return f'{"-".join(str(part) for part in (whole, rest) if part) or 0}"'
    if 1000 % inches.denominator == 0:
        return format_decimal_inch(nm)
    return f"{_decimal(Fraction(nm, NM_PER_MM))} mm"


def _offset(nm: Any, unit: Unit) -> Shown:
    return f"{'-' if nm < 0 else ''}{show_length(abs(nm), unit)}"


def _decimal(value: Fraction) -> str:
    """A fraction of tens as a decimal, exact."""
    return f"{float(value):.6f}".rstrip("0").rstrip(".")


def _number(value: Any, _: Unit) -> Shown:
    return float(value) if isinstance(value, float) and not value.is_integer() else int(value)


def _text(value: Any, _: Unit) -> Shown:
    return str(value)


def _families(value: Iterable[Family], _: Unit) -> Shown:
    found = [family.value for family in value]
    return "all" if len(found) == len(Family) else ", ".join(found)


_SHOW: Mapping[Kind, Callable[[Any, Unit], Shown]] = {
    Kind.TEXT: _text,
    Kind.CHOICE: _text,
    Kind.LIST: lambda value, _: ", ".join(value),
    Kind.WHOLE: _number,
    Kind.DECIMAL: _number,
    Kind.SHARE: _number,
    Kind.MINUTES: _number,
    Kind.LENGTH: show_length,
    Kind.ALLOWANCE: show_length,
    Kind.OFFSET: _offset,
    Kind.OD: show_length,
    Kind.WALL: show_length,
    Kind.ANGLE: lambda value, _: value / 1000,
    Kind.TURN: lambda value, _: value / 1000,
    Kind.SECONDS: lambda value, _: f"{value} s",
    Kind.MONEY: lambda value, _: value / 100,
    Kind.DATE: lambda value, _: value,
    Kind.CLOCK: lambda value, _: f"{value // 60:02d}:{value % 60:02d}",
    Kind.YES_NO: lambda value, _: "yes" if value else "no",
    Kind.GRADE: lambda value, _: value.label,
    Kind.FAMILIES: _families,
    Kind.FEED: lambda value, _: f"{value} mm/min",
    Kind.AREA: show_area,
    Kind.FACTORS: lambda value, _: ", ".join(f"{f.value} {n:g}" for f, n in value.items()),
}


def show(value: object, column: Column, unit: Unit) -> Shown | None:
    """A field's value as its column's cell; None for nothing."""
    return None if value is None or value in ("", {}) else _SHOW[column.kind](value, unit)
