"""What several sheets are made of."""

from __future__ import annotations

from collections.abc import Iterable

from planner_io.views.index import Index
from planner_io.week_book.sheet import Block, Column, Row, Sheet


def one_block(name: str, columns: tuple[Column, ...], rows: Iterable[Row]) -> Sheet:
    """A sheet of one table."""
    return Sheet(name, (Block(columns, tuple(rows)),))


def in_unit(index: Index, name: str) -> str:
    """The name of a column of lengths, with the shop's unit."""
    return f"{name}, {'in' if index.ruler.unit == 'inch' else 'mm'}"
