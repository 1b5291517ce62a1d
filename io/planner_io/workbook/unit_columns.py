"""Units that stand in a column of their own: `Length` and beside it `Units`, or `Qty` and `UM`."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace

from planner_io.workbook import cells
from planner_io.workbook.columns import Kind
from planner_io.workbook.count_words import is_counted_in
from planner_io.workbook.grid import Grid, Value, in_order, letters
from planner_io.workbook.headers import UNITS, Header
from planner_io.workbook.names import listed, plain_name

_TITLES = frozenset(
    map(
        plain_name,
        (
            *(
                "Unit",
                "UoM",
                "U/M",
                "UM",
                "Qty unit",
                "Qty UoM",
                "Qty UM",
                "Einh",
                "ME",
                "Unit of measure",
                "Unit of length",
                "Length unit",
            ),
            *("in/mm", "mm/in", "mm or in", "in or mm", "Einheit", "Unité", "Unidad"),
        ),
    )
)
_LENGTHS = frozenset({Kind.LENGTH, Kind.ALLOWANCE, Kind.OFFSET})
_TUBE = frozenset({Kind.OD, Kind.WALL})
_UNITS_OF_LENGTH = frozenset({"mm", "cm", "m", "in", "ft"})
_DITTO = frozenset({"″", "”", "“", "〃", '-"-', "ditto", "do.", "same", "as above"})
_INCH_OR_DITTO = frozenset({'"', "''"})
_EITHER = "in, or as above?"
"""Stands behind a size beside a mark that may mean inches or the unit above, so that it is refused
with both."""


@dataclass(frozen=True)
class Units:
    """A sheet whose bare sizes have the units that stood in a column beside them."""

    grid: Grid
    index: int
    """Where that column stood."""
    words: str
    """How it was read."""


def with_units(grid: Grid, row: int, headers: Mapping[str, Header]) -> list[Units]:
    """The sheet with header row `row` with the units of its columns of units written behind bare
    sizes, once for each such column; empty where no column says units of length.

    A column of units right of OD or Wall is for that one, any other for all lengths of its row, or
    for the values of Settings; one of pieces, pairs or dozens is for the quantity.
    """
    used = {head.index for head in headers.values()}
    found: list[Units] = []
    for index, title in sorted(grid.rows[row].items()):
        if index in used or not isinstance(title, str) or plain_name(title) not in _TITLES:
            continue
        counted = _counts(grid, row, index)
        of_pieces = counted and "quantity" in headers
        sized = [headers["quantity"]] if of_pieces else _sized(index, headers)
        if sized and (counted or _says_units(grid, row, index)):
            words = f"unit of {listed(head.column.title for head in sized)} in {letters(index)}"
            grid = _written_behind(grid, row, index, sized, _part_of(headers))
            found.append(Units(grid, index, f"{words}, “{title}”"))
    return found


def _sized(index: int, headers: Mapping[str, Header]) -> Sequence[Header]:
    """The columns whose sizes a column of units is for."""
    left = next((head for head in headers.values() if head.index == index - 1), None)
    if left and left.column.kind in _TUBE:
        return [left]
    return [
        head
        for key, head in headers.items()
        if head.column.kind in _LENGTHS or (key == "value" and "setting" in headers)
    ]


def _says_units(grid: Grid, row: int, index: int) -> bool:
    said = (cells_of.get(index) for number, cells_of in grid.rows.items() if number > row)
    return any(_mark(value) in _UNITS_OF_LENGTH for value in said)


def _counts(grid: Grid, row: int, index: int) -> bool:
    """Whether more cells of a column say what is counted than units of length."""
    said = [_mark(cells_of.get(index)) for number, cells_of in grid.rows.items() if number > row]
    counted = sum(is_counted_in(word) for word in said)
    return counted > sum(word in _UNITS_OF_LENGTH for word in said)


def _part_of(headers: Mapping[str, Header]) -> int | None:
    """Where the parts of Bends stand, of which each has one unit in all its rows."""
    return headers["part"].index if {"part", "straight"} <= headers.keys() else None


def _mark(value: Value | None) -> str:
    """The unit that a cell says; what is no unit as it is, so that it is refused with its size."""
    if not isinstance(value, str):
        return ""
    word = value.strip(" .()").lower()
    return UNITS.get(word, word)


def _written_behind(
    grid: Grid, row: int, index: int, sized: Sequence[Header], part: int | None
) -> Grid:
    rows: dict[int, Mapping[int, Value]] = {}
    above, part_above = "", None
    for number, cells_of in in_order(grid):
        rest = {at: value for at, value in cells_of.items() if at != index}
        if number > row:
            same_part = part is not None and cells_of.get(part, part_above) == part_above
            above = _unit_of(cells_of.get(index), above, goes_on=same_part)
            part_above = cells_of.get(part, part_above) if part is not None else None
            sizes = {head.index: rest[head.index] for head in sized if head.index in rest}
            rest |= {at: _behind(value, above) for at, value in sizes.items()}
        rows[number] = rest
    return replace(grid, rows=rows)


def _unit_of(value: Value | None, above: str, *, goes_on: bool) -> str:
    """The unit that a cell says, below a row with the unit `above`."""
    word = value.strip() if isinstance(value, str) else ""
    if word.lower() in _DITTO or (not word and goes_on):
        return above
    if word in _INCH_OR_DITTO and above not in ("", "in"):
        return _EITHER
    return _mark(word)


def _behind(value: Value, unit: str) -> Value:
    """A bare number with its unit, whatever that is."""
    if unit in _UNITS_OF_LENGTH or not unit:
        return cells.in_unit(value, unit)
    bare = cells.in_unit(value, "mm") != value
    return f"{cells.text(value)} {unit}" if bare else value
