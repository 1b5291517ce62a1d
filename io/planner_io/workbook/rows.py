"""Read the cells of one row with parsers, and put what fails in its place in the report."""

from __future__ import annotations

import re
from collections.abc import Callable, Mapping
from dataclasses import dataclass, field, replace
from datetime import date
from typing import TypeVar

from planner.errors import InputError, input_error
from planner.units import Unit
from planner.units.reading import refuse
from planner_io.workbook import cells
from planner_io.workbook.cells import Parsed
from planner_io.workbook.columns import Kind
from planner_io.workbook.dates import DateHabit
from planner_io.workbook.grid import Value
from planner_io.workbook.report import Report
from planner_io.workbook.table import Row

T = TypeVar("T")

_POINT_OF_THREE = re.compile(r"([1-9][0-9]{0,2})\.([0-9]{3})(?: ?[a-zA-Z]+)?")
_HARDLY_MM = re.compile(r"([1-9]|1[0-9])\.([0-9]{3})( ?mm)?")
"""Millimetres to a thousandth, and fewer than pieces have: 1.150 is 1150 with a point between its
thousands, or metres."""
_DECIMALS = re.compile(r"(?:[0-9]*\.(?:[0-9]{1,2}|[0-9]{4,})|(?:0?|[0-9]{4,})\.[0-9]+)(?: ?mm)?")
"""What shows that a point stands before decimals."""
_LENGTHS = frozenset({Kind.LENGTH, Kind.ALLOWANCE, Kind.OFFSET})


@dataclass(frozen=True)
class Habits:
    """How the shop writes: what bare numbers and dates mean."""

    unit: Unit = "inch"
    dates: DateHabit = field(default_factory=DateHabit)

    def planned_from(self, start: date | None) -> Habits:
        """The same house with dates near `start`; unchanged if None."""
        return self if start is None else Habits(self.unit, replace(self.dates, start=start))

    def read_on(self, today: date | None) -> Habits:
        """The same house with dates that lack a year near the day of reading."""
        return Habits(self.unit, replace(self.dates, today=today))


@dataclass
class RowReader:
    """One row, read column by column. A cell that fails is reported and its fallback returned."""

    row: Row
    report: Report
    house: Habits
    failed: bool = False

    def raw(self, key: str) -> Value | None:
        """The cell's value as it is; None when it is blank, or says so by a dash or the like."""
        value = self.row.values.get(key, self.row.table.given.get(key))
        column = self.row.table.spec.column(key)
        says_so = not column.required and column.kind != Kind.TEXT and value is not None
        return None if says_so and cells.is_nothing(value) else value

    def unit(self, key: str) -> str:
        """The unit in the column's header."""
        header = self.row.table.headers.get(key)
        return header.unit if header else ""

    def header(self, key: str) -> str:
        """The column's header as it is written."""
        header = self.row.table.headers.get(key)
        return header.text if header else ""

    def take(self, key: str, parse: Callable[[Value], Parsed[T]], fallback: T) -> T:
        """The cell as `parse` reads it; `fallback` when it is blank or fails.

        A blank cell of a required column fails.
        """
        value = self.raw(key)
        if value is None:
            self._blank(key)
            return fallback
        try:
            if problem := self.unusable(key, value):
                raise problem
            found = parse(value)
        except InputError as problem:
            self.refuse(key, problem)
            return fallback
        self.tell(key, value, found.note)
        return found.value

    def unusable(self, key: str, value: Value) -> InputError | None:
        """The error for a cell that no parser can help: its formula failed, it is 1.250, or it
        leaves open what must be known."""
        return cells.broken(value) or self._grouped(key, value) or self._undecided(key)

    def left_open(self, key: str) -> InputError | None:
        """The error for a cell that must be known and says TBD or the like; None for any other."""
        value = self.row.values.get(key)
        if value is None or not cells.is_open(value):
            return None
        columns = self.row.table.spec.columns
        hold = ", and put hold under Status until then" * any(
            each.key == "status" for each in columns
        )
        why = f"“{cells.text(value)}” leaves it open; write it once it is decided{hold}"
        return input_error(why, read=cells.text(value), expected="what was decided")

    def tell(self, key: str, value: Value, note: str) -> None:
        """Tell how a cell was read, with what it says; nothing for no note."""
        if note:
            shown = cells.text(value)
            known = shown.casefold() in note.casefold()
            self.report.note(note if known else f"“{shown}”: {note}", self.row.place(key))

    def text(self, key: str, fallback: str = "") -> str:
        """The cell as text."""
        return self.take(key, lambda value: Parsed(cells.text(value)), fallback)

    def length(self, key: str, fallback: int = 0, *, zero_ok: bool = False) -> int:
        """The cell as a length in nm."""
        return self.take(
            key,
            lambda value: cells.length(value, self.unit(key), self.house.unit, zero_ok=zero_ok),
            fallback,
        )

    def whole(self, key: str, fallback: int, least: int, most: int, expected: str) -> int:
        """The cell as a whole number."""
        return self.take(key, lambda value: cells.whole(value, least, most, expected), fallback)

    def choice(self, key: str, known: Mapping[str, T], fallback: T) -> T:
        """The cell as one of the words of its column."""
        words = self.row.table.spec.column(key).choices
        return self.take(key, lambda value: cells.choice(value, known, words), fallback)

    def refuse(self, key: str, problem: InputError) -> None:
        """Report a problem at a cell; the row cannot be used."""
        self.report.refused(self.row.place(key), problem)
        self.failed = True

    def fail(
        self, key: str, message: str, read: object = None, expected: str | None = None
    ) -> None:
        """Report something wrong with a cell in words; the row cannot be used."""
        shown = None if read is None else str(read)
        self.report.error(self.row.place(key), message, shown, expected)
        self.failed = True

    def _grouped(self, key: str, value: Value) -> InputError | None:
        """The error for 1.250 in a sheet that has commas before decimals: it may be 1250 there.

        Lengths go by their own column, as each may be written by another hand.
        """
        match = _POINT_OF_THREE.fullmatch(value) if isinstance(value, str) else None
        kind = self.row.table.spec.column(key).kind
        commas = self.row.table.comma_columns
        if kind in _LENGTHS:
            commas = {key: commas[key]} if key in commas else {}
        if match is None or not commas or kind not in {Kind.WHOLE, *_LENGTHS}:
            return self._in_thousands(key, value)
        whole, rest = match.groups()
        other = next(iter(commas.values()))
        why = f"{whole}.{rest} may mean {whole},{rest} or {whole}{rest}, as “{other}” has a comma"
        return refuse(cells.text(value), f"a number without a point, such as {whole}{rest}", why)

    def _in_thousands(self, key: str, value: Value) -> InputError | None:
        """The error for a piece of 1.150 mm, where no cell of its column shows that a point stands
        before decimals there."""
        match = _HARDLY_MM.fullmatch(value) if isinstance(value, str) else None
        if match is None or key != "length":
            return None
        in_mm = match[3] or (self.unit(key) or self.house.unit) == "mm"
        others = (row.values.get(key) for row in self.row.table.rows())
        if not in_mm or any(isinstance(cell, str) and _DECIMALS.fullmatch(cell) for cell in others):
            return None
        mm = f"{match[1]}{match[2]}"
        why = f"{match[1]}.{match[2]} may mean {mm} mm: no piece is sawn to a thousandth of one"
        return refuse(cells.text(value), f"a number without a point, such as {mm}", why)

    def _undecided(self, key: str) -> InputError | None:
        """The error for TBD in a required column, unless it is one of names."""
        column = self.row.table.spec.column(key)
        named = not column.required or column.kind == Kind.TEXT
        return None if named else self.left_open(key)

    def _blank(self, key: str) -> None:
        column = self.row.table.spec.column(key)
        if column.required and key in self.row.table.headers:
            self.report.error(
                self.row.place(key),
                f"nothing is written here; fill it in ({column.help.rstrip('.')})",
                read="",
                expected=column.help.rstrip("."),
            )
            self.failed = True
