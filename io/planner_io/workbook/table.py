"""A sheet whose header row is known, and its rows by column."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from functools import cached_property

from planner_io.workbook.columns import Kind, SheetSpec
from planner_io.workbook.grid import Grid, Value, address, in_order
from planner_io.workbook.headers import Header
from planner_io.workbook.report import Place

_AMOUNTS = frozenset(
    {Kind.WHOLE, Kind.DECIMAL, Kind.LENGTH, Kind.ALLOWANCE, Kind.OFFSET, Kind.OD, Kind.WALL}
)
_DITTO = frozenset({'"', "''", "″", "”", "“", "〃", '-"-', "ditto", "do.", "same", "as above"})
_DECIMAL_COMMA = re.compile(
    r"(?:[0-9]*|[0-9]{1,3}(?:\.[0-9]{3})+),(?:[0-9]{1,2}|[0-9]{4,})(?: ?[a-zA-Z]+)?"
)
"""Three figures behind the comma could be thousands."""


@dataclass(frozen=True)
class Row:
    """The filled cells of one row, by column key."""

    table: Table
    number: int
    values: Mapping[str, Value]

    def place(self, key: str) -> Place:
        """The cell of a column, or of the row's first column when the sheet lacks it."""
        header = self.table.headers.get(key)
        title = self.table.spec.column(key).title
        first = min(head.index for head in self.table.headers.values())
        return Place(
            self.table.grid.name, address(self.number, header.index if header else first), title
        )

    @property
    def start(self) -> Place:
        """The row's cell in the first column that is known."""
        first = min(header.index for header in self.table.headers.values())
        return Place(self.table.grid.name, address(self.number, first))


@dataclass(frozen=True)
class Table:
    """A sheet whose header row was found."""

    spec: SheetSpec
    grid: Grid
    header_row: int
    headers: Mapping[str, Header]
    parts: Mapping[str, Mapping[Value, Value]] = field(
        default_factory=dict[str, Mapping[Value, Value]]
    )
    """For columns that are a part of their cells: by cell what they take of it."""
    given: Mapping[str, Value] = field(default_factory=dict[str, Value])
    """For columns that the sheet lacks: what its name says for every row."""

    def rows(self) -> Iterator[Row]:
        """Rows below the header that hold something in a known column, with the cell above for a
        ditto mark."""
        above: Mapping[int, Value] = {}
        for number, written in in_order(self.grid):
            if number > self.header_row:
                cells = dict(_undittoed(written, above))
                values = {
                    key: self._part(key, cells[header.index])
                    for key, header in self.headers.items()
                    if header.index in cells
                }
                above = cells
                if values:
                    yield Row(self, number, values)

    def _part(self, key: str, value: Value) -> Value:
        return self.parts[key].get(value, value) if key in self.parts else value

    @cached_property
    def comma_columns(self) -> Mapping[str, str]:
        """Columns of numbers with a comma before the decimals, each with such a cell's text."""
        return {
            key: cell
            for row in self.rows()
            for key, cell in row.values.items()
            if self.spec.column(key).kind in _AMOUNTS
            and isinstance(cell, str)
            and _DECIMAL_COMMA.fullmatch(cell)
        }

    def strays(self) -> list[int]:
        """Rows below the header that hold something, but in no known column."""
        known = {row.number for row in self.rows()}
        return [
            number
            for number in sorted(self.grid.rows)
            if number > self.header_row and number not in known
        ]


def _undittoed(
    written: Mapping[int, Value], above: Mapping[int, Value]
) -> Iterator[tuple[int, Value]]:
    """The cells of a row with those above it for ditto marks; as a blank one where that is."""
    for index, value in written.items():
        if not is_ditto(value):
            yield index, value
        elif index in above:
            yield index, above[index]


def is_ditto(value: Value) -> bool:
    """Whether a cell says that it is as the one above."""
    return isinstance(value, str) and value.strip().lower() in _DITTO


def unread_titles(table: Table) -> list[tuple[int, str]]:
    """The headers of columns that are not read, from left to right."""
    used = {head.index for head in table.headers.values()}
    titles = table.grid.rows[table.header_row]
    return [(index, str(titles[index])) for index in sorted(titles) if index not in used]
