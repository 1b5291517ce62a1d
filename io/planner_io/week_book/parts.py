"""What several sheets are made of."""

from __future__ import annotations

from collections.abc import Iterable

from planner_io.views.index import Index
from planner_io.week_book.sheet import Block, Column, Row, Sheet


def one_block(
    name: str, columns: tuple[Column, ...], rows: Iterable[Row], printed: int = 0
) -> Sheet:
    """A sheet of one table, of which the first `printed` columns go on paper; 0 for all."""
    return Sheet(name, (Block(columns, tuple(rows)),), printed=printed)


def in_unit(index: Index, name: str) -> str:
    """The name of a column of lengths, with the shop's unit."""
    return f"{name}, {'in' if index.ruler.unit == 'inch' else 'mm'}"
