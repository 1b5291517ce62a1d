"""A column called Piece: pieces by number are a quantity, by word they are parts."""

from __future__ import annotations

from collections.abc import Mapping

from planner_io.workbook.columns import SheetSpec
from planner_io.workbook.grid import Grid, Value
from planner_io.workbook.headers import Header
from planner_io.workbook.names import plain_name

PART, QUANTITY = "part", "quantity"
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


def _is_word(value: Value) -> bool:
    return isinstance(value, str) and not any(letter.isdigit() for letter in value[:1])
