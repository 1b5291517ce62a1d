"""Sheets as plain cells: what every file format is reduced to before anything is understood."""

from __future__ import annotations

import datetime as dt
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field

Value = str | int | float | bool | dt.datetime | dt.date | dt.time | dt.timedelta
"""What a cell may hold. Blank cells are not kept."""

MAX_ROWS = 5_000
"""Filled rows of one sheet that are read; a week of a shop has some hundred."""
MAX_BLANK_ROWS = 20_000
"""Blank rows after which nothing more is looked for; formatted blank rows cost time."""
MAX_COLUMNS = 300
"""Columns from the left that are read."""
MAX_CELL_TEXT = 2_000
"""Characters of one cell that are kept."""


class CellError(str):
    """What a spreadsheet shows where a formula failed, such as `#N/A`."""

    __slots__ = ()


@dataclass(frozen=True)
class Grid:
    """One sheet: its name and its filled cells by row and column, both from 1."""

    name: str
    rows: Mapping[int, Mapping[int, Value]]
    cut: str = ""
    """What was left out because the sheet is too large, in words; empty when nothing was."""
    visible: bool = True
    epoch: dt.date = dt.date(1899, 12, 30)
    """Day 0 of the sheet's day numbers."""
    ended: int = 0
    """Row after which so many blank ones followed that the rest was not read; 0 for none."""
    hidden: frozenset[int] = frozenset()
    """Filled rows that the spreadsheet does not show, by hand or by a filter; not known of .xls."""
    hidden_columns: frozenset[int] = frozenset()
    """Columns that it does not show; not known of .xls either."""
    struck: frozenset[int] = frozenset()
    """Rows with a cell that is struck through; known of .xlsx alone."""
    merged: tuple[str, ...] = ()
    """Cells merged downwards whose value stands in each of their rows, as ranges."""
    comments: tuple[str, ...] = ()
    """Cells with a comment, which is not read; known of .xlsx alone."""


@dataclass
class GridBuilder:
    """Collects the cells of one sheet and keeps it within limits."""

    name: str
    visible: bool = True
    epoch: dt.date = dt.date(1899, 12, 30)
    rows: dict[int, dict[int, Value]] = field(default_factory=dict[int, dict[int, Value]])
    too_many_rows: bool = False
    too_wide: bool = False

    def add(self, row: int, column: int, value: Value | None) -> None:
        """Keep a cell unless it is blank or beyond the limits."""
        kept = tidy(value)
        if kept is None:
            return
        if column > MAX_COLUMNS:
            self.too_wide = True
        elif row in self.rows or len(self.rows) < MAX_ROWS:
            self.rows.setdefault(row, {})[column] = kept
        else:
            self.too_many_rows = True

    def done(self) -> Grid:
        """The sheet as collected."""
        return Grid(self.name, self.rows, self._cut(), self.visible, self.epoch)

    def _cut(self) -> str:
        parts = [f"rows after the first {MAX_ROWS:,} filled ones"] if self.too_many_rows else []
        if self.too_wide:
            parts.append(f"columns after {letters(MAX_COLUMNS)}")
        return " and ".join(parts)


def tidy(value: Value | None) -> Value | None:
    """A cell's value without surrounding spaces, None when nothing is left of it."""
    if isinstance(value, str) and not isinstance(value, CellError):
        return value.replace("\xa0", " ").replace("\ufeff", "").strip()[:MAX_CELL_TEXT] or None
    return value


def letters(column: int) -> str:
    """The letters of a column: 1 is A, 27 is AA.

    >>> letters(1), letters(26), letters(27), letters(702), letters(703)
    ('A', 'Z', 'AA', 'ZZ', 'AAA')
    """
    name = ""
    while column > 0:
        column, rest = divmod(column - 1, 26)
        name = chr(ord("A") + rest) + name
    return name


def address(row: int, column: int) -> str:
    """A cell's address, such as F14."""
    return f"{letters(column)}{row}"


def in_order(grid: Grid) -> Iterator[tuple[int, Mapping[int, Value]]]:
    """Filled rows from top to bottom."""
    for number in sorted(grid.rows):
        yield number, grid.rows[number]
