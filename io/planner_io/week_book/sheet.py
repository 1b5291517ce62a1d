"""What a sheet is: blocks of columns and rows, before any cell is written."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, datetime
from enum import Enum, auto
from itertools import pairwise, zip_longest

Value = str | int | float | datetime | date | None


class Kind(Enum):
    """How a column's cells are written."""

    TEXT = auto()
    WRAPPED = auto()
    """Longer text, over several lines if need be."""
    COUNT = auto()
    TENTH = auto()
    """A number with one decimal."""
    LENGTH = auto()
    """A number in the shop's unit, rounded to the finest mark of its tape."""
    MONEY = auto()
    WHEN = auto()
    DAY = auto()
    TICK = auto()
    """An empty square to tick on paper."""


@dataclass(frozen=True)
class Column:
    """A heading, how wide, and what stands below it."""

    head: str
    width: float
    kind: Kind = Kind.TEXT


@dataclass(frozen=True)
class Row:
    """The cells of a row; `trouble` prints it in red, beside the word that says why."""

    cells: tuple[Value, ...]
    trouble: bool = False
    total: bool = False
    """A sum: bold with a line above."""
    title: bool = False
    """What the rows below are about: bold."""


@dataclass(frozen=True)
class Block:
    """A table with an optional heading above it."""

    columns: tuple[Column, ...]
    rows: tuple[Row, ...]
    title: str = ""
    apart: tuple[int, ...] = ()
    """Columns that say which rows belong together: a line is drawn where they change."""
    notes: tuple[str, ...] = ()
    """Sentences below the table."""

    def starts(self) -> tuple[bool, ...]:
        """For each row whether it begins a new group of rows."""
        groups = [tuple(row.cells[at] for at in self.apart) for row in self.rows]
        return (False,) * bool(groups) + tuple(a != b for a, b in pairwise(groups))


@dataclass(frozen=True)
class Sheet:
    """One sheet of the workbook; the first block's heading row stays on top and on each page."""

    name: str
    blocks: tuple[Block, ...]
    printed: int = 0
    """How many columns are printed, so that print can be read; 0 for all."""
    frozen: int = 0
    """How many columns stay in view at the left."""
    upright: bool = False
    """Printed on upright pages: rows that belong together are not torn apart, and another value in
    the first column begins a page."""

    @property
    def widths(self) -> tuple[float, ...]:
        """The width of each column: the most that a block wants of it."""
        columns = zip_longest(*([each.width for each in block.columns] for block in self.blocks))
        return tuple(max(filter(None, same)) for same in columns)
