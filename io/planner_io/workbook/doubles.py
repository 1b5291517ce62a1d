"""Two columns that mean the same: the first row in which they say something else."""

from __future__ import annotations

import math
from collections.abc import Iterable, Mapping

from planner_io.workbook.columns import Kind
from planner_io.workbook.grid import Value
from planner_io.workbook.headers import Header

_SIZES = frozenset({Kind.LENGTH, Kind.OD, Kind.WALL})
_NAMES = frozenset({"order", "line", "customer", "part", "notes", "name", "key", "location"})
"""Columns that only name things: an order may have two numbers."""
_MM = {"mm": 1.0, "cm": 10.0, "m": 1000.0, "in": 25.4, "ft": 304.8}
_ROUNDED = 0.01
"""Sizes that differ by a smaller share are one, rounded in another unit."""


def first_other(
    rows: Iterable[tuple[int, Mapping[int, Value]]], used: Header, other: Header
) -> int | None:
    """The number of the first row in which the other column says something else, or something where
    the used one is blank; None where they do not differ, or may be alike, since a size stands there
    in another unit that cannot be told."""
    if used.column.key in _NAMES:
        return None
    differing = (
        number
        for number, cells in rows
        if other.index in cells
        and (used.index not in cells or _differ(used, cells[used.index], other, cells[other.index]))
    )
    return next(differing, None)


def _differ(used: Header, one: Value, other: Header, two: Value) -> bool:
    if used.column.kind not in _SIZES or used.unit == other.unit:
        return one != two
    first, second = _mm(one, used.unit), _mm(two, other.unit)
    if first is None or second is None:
        return False
    return not math.isclose(first, second, rel_tol=_ROUNDED)


def _mm(value: Value, unit: str) -> float | None:
    """A bare number below a header with a unit, in mm; None for anything else."""
    if isinstance(value, bool) or not isinstance(value, (int, float)) or unit not in _MM:
        return None
    return value * _MM[unit]
