"""A column called Piece or Item by what it has: pieces by number are a quantity, by word they are
parts, and so are items by name rather than by number."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from planner_io.workbook.columns import SheetSpec
from planner_io.workbook.grid import Grid, Value
from planner_io.workbook.headers import Header
from planner_io.workbook.names import plain_name

PART, QUANTITY, ITEM, LINE = "part", "quantity", "item", "line"
SHORTEST_NAME = 4
"""Letters of a name of a thing; fewer may number a line, as `A` or `ii` do."""
_PIECE = frozenset(map(plain_name, ("piece", "pieces", "pièce", "pieza", "piezas")))


def pieces_by_name(
    grid: Grid, row: int, headers: Mapping[str, Header], spec: SheetSpec
) -> Header | None:
    """The header of a column called Piece below which most cells are words, as that of the parts,
    where the sheet with header row `row` has no other."""
    if QUANTITY not in {column.key for column in spec.columns} or PART in headers:
        return None
    titles = {index: text for index, text in grid.rows[row].items() if isinstance(text, str)}
    for index, text in titles.items():
        below = [
            cells[index] for number, cells in grid.rows.items() if number > row and index in cells
        ]
        if plain_name(text) in _PIECE and 2 * sum(map(_is_word, below)) > len(below):
            return Header(spec.column(PART), index, text)
    return None


def items_by_name(
    grid: Grid, row: int, headers: Mapping[str, Header], doubles: Sequence[Header]
) -> Header | None:
    """The column that is read as lines, or means them too, is called Item and has names of things;
    of two the one that is read. None where there is none, or parts have a column."""
    lines = [head for head in doubles if head.column.key == LINE and PART not in headers]
    lines = [headers[LINE], *lines] if LINE in headers else lines
    return next((line for line in lines if _has_items_by_name(grid, row, line)), None)


def _has_items_by_name(grid: Grid, row: int, line: Header) -> bool:
    """Whether a column of lines is called Item and has names of things, as `Handrail`."""
    below = [
        cells[line.index]
        for number, cells in grid.rows.items()
        if number > row and line.index in cells
    ]
    return plain_name(line.text) == ITEM and 2 * sum(map(_is_name, below)) > len(below)


def _is_name(value: Value) -> bool:
    return (
        isinstance(value, str)
        and len(value) >= SHORTEST_NAME
        and not any(letter.isdigit() for letter in value)
    )


def _is_word(value: Value) -> bool:
    return isinstance(value, str) and not any(letter.isdigit() for letter in value[:1])
