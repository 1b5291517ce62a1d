"""Lengths whose feet and inches stand in two columns, as `Length (ft)` and `Inches`."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace

from planner_io.workbook import cells
from planner_io.workbook.columns import Column, SheetSpec
from planner_io.workbook.grid import Grid, Value, letters
from planner_io.workbook.headers import UNITS, Header, split_unit
from planner_io.workbook.names import plain_name

LENGTH = "length"


@dataclass(frozen=True)
class Joined:
    """A sheet with feet and inches in one column, and which ones they were."""

    grid: Grid
    length: Header
    inches: int
    """Where the column of inches stood."""
    words: str
    """How they were read."""


def together(grid: Grid, row: int, headers: Mapping[str, Header], spec: SheetSpec) -> Joined | None:
    """The sheet with header row `row` with its inches written behind its feet; None where they
    do not stand apart, or the two columns say the same length twice."""
    column = next((each for each in spec.columns if each.key == LENGTH), None)
    feet = _feet(grid.rows[row], headers, column) if column else None
    if column is None or feet is None or not _is_inches(grid.rows[row].get(feet + 1), column):
        return None
    below = {number: cells for number, cells in grid.rows.items() if number > row}
    if _say_the_same(below, feet):
        return None
    rows = {
        number: _joined(cells, feet) if number in below else _without(cells, feet + 1)
        for number, cells in grid.rows.items()
    }
    header = Header(column, feet, str(grid.rows[row][feet]))
    words = f"inches of the feet in {letters(feet)}, “{header.text}”"
    return Joined(replace(grid, rows=rows), header, feet + 1, words)


def _feet(titles: Mapping[int, Value], headers: Mapping[str, Header], column: Column) -> int | None:
    """Where feet stand: the column of lengths in feet, or one called so where there is no other."""
    if column.key in headers:
        return headers[column.key].index if headers[column.key].unit == "ft" else None
    alone = (index for index, title in titles.items() if _unit_alone(title) == "ft")
    return next(alone, None)


def _is_inches(title: Value | None, column: Column) -> bool:
    if not isinstance(title, str):
        return False
    name, unit = split_unit(title)
    return _unit_alone(title) == "in" or (unit == "in" and plain_name(name) in column.plain_names)


def _unit_alone(title: Value) -> str:
    return UNITS.get(title.strip(" .()").lower(), "") if isinstance(title, str) else ""


def _say_the_same(rows: Mapping[int, Mapping[int, Value]], feet: int) -> bool:
    """Whether the inches are those of the feet, as 4 ft and 48 in, in all rows that have both."""
    pairs = [(row[feet], row[feet + 1]) for row in rows.values() if {feet, feet + 1} <= row.keys()]
    return bool(pairs) and all(
        isinstance(a, (int, float)) and isinstance(b, (int, float)) and abs(12 * a - b) < 0.01
        for a, b in pairs
        if (a, b) != (0, 0)
    )


def _joined(row: Mapping[int, Value], feet: int) -> Mapping[int, Value]:
    parts = [
        cells.in_unit(row[index], unit)
        for index, unit in ((feet, "ft"), (feet + 1, "in"))
        if index in row
    ]
    rest = _without(row, feet + 1)
    if len(parts) < 2:
        return {**rest, feet: parts[0]} if parts else rest
    if cells.text(parts[1]).startswith("-"):
        return {**rest, feet: cells.text(parts[1])}  # and refused, as no dash before the inches
    return {**rest, feet: " ".join(cells.text(part) for part in parts)}


def _without(row: Mapping[int, Value], column: int) -> Mapping[int, Value]:
    return {index: value for index, value in row.items() if index != column}
