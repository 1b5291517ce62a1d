"""Write an orders workbook: sheets with titles, noted headers, drop-downs and rows."""

from __future__ import annotations

import datetime as dt
import io
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

import xlsxwriter

from planner_io.workbook.columns import Column, Kind, SheetSpec
from planner_io.workbook.settings import SETTINGS_OF, SIDE
from planner_io.workbook.shop_cells import Cells
from planner_io.workbook.show import Shown

HEADER_ROW = 3
"""Row of the headers, from 0: below a title, what the sheet is for, and a blank row."""
SPARE_ROWS = 400
"""Rows that are formatted and have drop-downs."""
LONGEST_LIST = 250
"""Characters that a drop-down may hold in all."""

_TEXT = 49
"""The built-in number format `@`."""
_AS_TYPED = frozenset(
    {
        Kind.WHOLE,
        Kind.DECIMAL,
        Kind.SHARE,
        Kind.MONEY,
        Kind.DATE,
        Kind.ANGLE,
        Kind.TURN,
        Kind.MINUTES,
    }
)
"""Kinds whose cells keep the spreadsheet's own number format. All others are text, so that the
spreadsheet does not make a date of 1-1/2."""


@dataclass(frozen=True)
class Filled:
    """A sheet with its rows; `example` rows are marked as such."""

    spec: SheetSpec
    rows: Sequence[Cells]
    example: Cells | None = None
    without: frozenset[str] = frozenset()
    """Columns that are left out."""
    lists: tuple[tuple[str, tuple[str, ...]], ...] = ()
    """Drop-downs besides those of the columns, by column key."""

    @property
    def columns(self) -> tuple[Column, ...]:
        """The columns that are written."""
        return tuple(column for column in self.spec.columns if column.key not in self.without)


@dataclass(frozen=True)
class _Looks:
    title: Any
    help: Any
    head: Any
    needed: Any
    example: Any
    text: Any
    date: Any
    money: Any
    number: Any


def write_book(sheets: Sequence[Filled]) -> bytes:
    """The workbook as a file's content; the same sheets give the same bytes."""
    file = io.BytesIO()
    book: Any = xlsxwriter.Workbook(file, {"in_memory": True, "strings_to_formulas": False})
    book.set_properties({"created": dt.datetime(2026, 1, 1)})
    looks = _looks(book)
    for filled in sheets:
        _write_sheet(book.add_worksheet(filled.spec.title), filled, looks)
    book.close()
    return file.getvalue()


def _looks(book: Any) -> _Looks:
    example = {"italic": True, "font_color": "#777777", "num_format": _TEXT}
    head = {"bold": True, "bottom": 1, "text_wrap": True, "valign": "top", "num_format": _TEXT}
    return _Looks(
        title=book.add_format({"bold": True, "font_size": 16}),
        help=book.add_format({"font_color": "#555555"}),
        head=book.add_format({**head, "bg_color": "#EDEDED"}),
        needed=book.add_format({**head, "bg_color": "#D5DEE8"}),
        example=book.add_format(example),
        text=book.add_format({"num_format": _TEXT}),
        date=book.add_format({"num_format": "yyyy-mm-dd"}),
        money=book.add_format({"num_format": "0.00"}),
        number=book.add_format({"num_format": "General"}),
    )


def _write_sheet(sheet: Any, filled: Filled, looks: _Looks) -> None:
    sheet.write_string(0, 0, filled.spec.title, looks.title)
    sheet.write_string(1, 0, filled.spec.help, looks.help)
    for index, column in enumerate(filled.columns):
        sheet.set_column(index, index, _width(filled, column), _look(column, looks))
        head = looks.needed if column.required else looks.head
        sheet.write_string(HEADER_ROW, index, column.title, head)
        sheet.write_comment(HEADER_ROW, index, _note(column), {"x_scale": 2, "y_scale": 1.4})
        _drop_down(sheet, index, _choices(filled, column))
    row = HEADER_ROW + 1
    if filled.example is not None:
        _write_row(sheet, row, filled, filled.example, looks, looks.example)
        row += 1
    for number, cells in enumerate(filled.rows, row):
        _write_row(sheet, number, filled, cells, looks, None)
        _tell_setting(sheet, number, filled, cells)
    sheet.freeze_panes(HEADER_ROW + 1, 1)
    sheet.set_landscape()
    sheet.fit_to_pages(1, 0)
    sheet.repeat_rows(HEADER_ROW)


def _note(column: Column) -> str:
    needed = "Needed. " if column.required else ""
    return f"{needed}{column.help}\n({column.kind.value})"


def _choices(filled: Filled, column: Column) -> tuple[str, ...]:
    return dict(filled.lists).get(column.key, column.choices)


def _drop_down(sheet: Any, index: int, words: tuple[str, ...]) -> None:
    if words and len(",".join(words)) <= LONGEST_LIST:
        sheet.data_validation(
            HEADER_ROW + 1,
            index,
            HEADER_ROW + SPARE_ROWS,
            index,
            {"validate": "list", "source": list(words), "show_error": False},
        )


def _tell_setting(sheet: Any, row: int, filled: Filled, cells: Cells) -> None:
    """What a setting is, told where its value is entered, with a drop-down where it has words to
    choose from."""
    if filled.spec.title != "Settings":
        return
    every = [SIDE, *(column for columns in SETTINGS_OF.values() for column in columns)]
    column = next(column for column in every if column.title == cells["setting"])
    told = {"input_title": column.title, "input_message": _note(column)}
    choice = {"validate": "list", "source": list(column.choices), "show_error": False}
    sheet.data_validation(
        row, 2, row, 2, {**told, **(choice if column.choices else {"validate": "any"})}
    )


def _write_row(
    sheet: Any, row: int, filled: Filled, cells: Cells, looks: _Looks, mark: Any
) -> None:
    for index, column in enumerate(filled.columns):
        value = cells.get(column.key)
        if value is not None:
            _write_cell(sheet, row, index, value, mark or _look(column, looks), looks)


def _write_cell(sheet: Any, row: int, index: int, value: Shown, look: Any, looks: _Looks) -> None:
    if isinstance(value, str):
        sheet.write_string(row, index, value, look)
    elif isinstance(value, dt.date):
        sheet.write_datetime(row, index, dt.datetime.combine(value, dt.time()), looks.date)
    else:
        sheet.write_number(row, index, value, looks.number if look is looks.example else look)


def _look(column: Column, looks: _Looks) -> Any:
    if column.kind == Kind.DATE:
        return looks.date
    if column.kind == Kind.MONEY:
        return looks.money
    return looks.number if column.kind in _AS_TYPED else looks.text


def _width(filled: Filled, column: Column) -> float:
    shown = [str(cells.get(column.key, "")) for cells in filled.rows]
    example = str((filled.example or {}).get(column.key, ""))
    longest = max(map(len, (*shown, example, column.title)), default=8)
    return min(max(longest + 2, 8), 34)
