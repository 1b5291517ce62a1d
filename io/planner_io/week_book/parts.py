"""What several sheets are made of."""

from __future__ import annotations

from collections.abc import Iterable

from planner_io.views.index import Index
from planner_io.week_book.sheet import Block, Column, Row, Sheet


def one_block(
    name: str,
    columns: tuple[Column, ...],
    rows: Iterable[Row],
    printed: int = 0,
    frozen: int = 0,
    apart: tuple[int, ...] = (),
    nothing: str = "",
    upright: bool = False,
    note: str = "",
) -> Sheet:
    """A sheet of one table, of which the first `printed` columns go on paper, 0 for all, and the
    first `frozen` stay in view; `nothing` is said where it has no rows, and `upright` is as in
    Sheet."""
    written = tuple(rows)
    notes = (note, "" if written else nothing)
    block = Block(columns, written, apart=apart, notes=tuple(filter(None, notes)))
    return Sheet(name, (block,), printed, frozen, upright)


def in_unit(index: Index, name: str) -> str:
    """The name of a column of lengths, with the shop's unit."""
    return f"{name}, {'in' if index.ruler.unit == 'inch' else 'mm'}"


def in_money(index: Index, name: str) -> str:
    """The name of a column of money, with the shop's currency."""
    return f"{name}, {index.plan.shop.house.currency}"
