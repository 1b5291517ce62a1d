"""Read .xlsx workbooks: values and the last results of formulas, never the formulas."""

from __future__ import annotations

import posixpath
import re
import zipfile
from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path
from typing import Any

import openpyxl
from openpyxl.utils import column_index_from_string

from planner_io.workbook.grid import (
    MAX_BLANK_ROWS,
    MAX_COLUMNS,
    MAX_ROWS,
    CellError,
    Grid,
    GridBuilder,
)
from planner_io.workbook.grid import Value as CellValue
from planner_io.workbook.number_formats import with_unit

_FORMULA = re.compile(rb"<f[ />]")
_ROW = re.compile(rb"<row [^>]*>")
_COLUMN = re.compile(rb"<col [^>]*>")
_MIN_MAX = re.compile(rb' min="([0-9]{1,5})".* max="([0-9]{1,5})"')
_NUMBER = re.compile(rb' r="([0-9]{1,7})"')
_NOT_SHOWN = re.compile(rb' hidden="(?:1|true)"')
_COMMENTS = re.compile(rb'Target="([^"]*/comments?[0-9/a-zA-Z]*\.xml)"')
_COMMENT = re.compile(rb'<comment ref="([A-Z]{1,3}[0-9]{1,7})"')
_MERGED = re.compile(rb'<mergeCell ref="([A-Z]+)([0-9]+):([A-Z]+)([0-9]+)"')

NOT_CALCULATED = CellError("=")
"""Stands where a formula has no result because no spreadsheet program ever calculated it."""


def read_xlsx(path: Path) -> tuple[Grid, ...]:
    """The worksheets of a workbook, hidden ones too."""
    grids = _read(path, results=True)
    if not _has_formulas(path):
        return grids
    formulas = _read(path, results=False)
    return tuple(_with_gaps(grid, texts) for grid, texts in zip(grids, formulas, strict=True))


def _read(path: Path, *, results: bool) -> tuple[Grid, ...]:
    with path.open("rb") as file:
        book: Any = openpyxl.load_workbook(  # read-only cells carry no useful types
            file, read_only=True, data_only=results, keep_links=False
        )
        return tuple(
            replace(
                _with_layout(_sheet(sheet, book.epoch.date()), _content(file, sheet)),
                comments=_comments(file, sheet),
            )
            for sheet in book.worksheets
        )


def _content(file: Any, sheet: Any) -> bytes:
    """What the file says of a sheet, for what the reading library does not offer."""
    with zipfile.ZipFile(file) as archive:
        return archive.read(sheet._worksheet_path)


def _comments(file: Any, sheet: Any) -> tuple[str, ...]:
    """The cells of a sheet that have a comment."""
    folder, _, name = str(sheet._worksheet_path).rpartition("/")
    with zipfile.ZipFile(file) as archive:
        relations = f"{folder}/_rels/{name}.rels"
        if relations not in archive.namelist():
            return ()
        targets = _COMMENTS.findall(archive.read(relations))
        parts = [posixpath.normpath(posixpath.join(folder, each.decode())) for each in targets]
        found = [part.lstrip("/") for part in parts if part.lstrip("/") in archive.namelist()]
        cells = [ref.decode() for part in found for ref in _COMMENT.findall(archive.read(part))]
    return tuple(cells)


def _with_layout(grid: Grid, content: bytes) -> Grid:
    """The grid with its hidden rows and columns and its merged cells."""
    hidden = frozenset(int(number) for number in _hidden(content))
    return replace(
        _with_merged(grid, _merged(content)),
        hidden=hidden & grid.rows.keys(),
        hidden_columns=frozenset(_hidden_columns(content)),
    )


def _hidden(content: bytes) -> Iterator[bytes]:
    for row in _ROW.findall(content):
        number = _NUMBER.search(row)
        if number and _NOT_SHOWN.search(row):
            yield number[1]


def _hidden_columns(content: bytes) -> Iterator[int]:
    for columns in _COLUMN.findall(content):
        limits = _MIN_MAX.search(columns)
        if limits and _NOT_SHOWN.search(columns):
            yield from range(int(limits[1]), min(int(limits[2]), MAX_COLUMNS) + 1)


def _merged(content: bytes) -> list[tuple[str, int, int]]:
    """Merged cells of one column: its letters, the first row and the last."""
    return [
        (left.decode(), int(top), int(bottom))
        for left, top, right, bottom in _MERGED.findall(content)
        if left == right and int(bottom) - int(top) < MAX_ROWS
    ]


def _with_merged(grid: Grid, ranges: list[tuple[str, int, int]]) -> Grid:
    """The grid with the value of cells merged downwards in each of their rows that is filled."""
    rows = {number: dict(row) for number, row in grid.rows.items()}
    used: list[str] = []
    for name, top, bottom in ranges:
        column = column_index_from_string(name)
        value = rows.get(top, {}).get(column)
        below = [row for row in range(top + 1, bottom + 1) if row in rows]
        if value is not None and below:
            used.append(f"{name}{top}:{name}{bottom}")
            for row in below:
                rows[row][column] = value
    return replace(grid, rows=rows, merged=tuple(used))


def _sheet(sheet: Any, epoch: Any) -> Grid:
    builder = GridBuilder(sheet.title, sheet.sheet_state == "visible", epoch)
    sheet.reset_dimensions()
    last, struck = 0, set[int]()
    for number, row in enumerate(sheet.iter_rows(), 1):
        for cell in row:
            if cell.value is not None:
                builder.add(number, cell.column, _value(cell))
                last = number
                struck |= {number} if cell.font.strike else set()
        if builder.too_many_rows:
            break
        if number - last > MAX_BLANK_ROWS:
            return replace(builder.done(), ended=last, struck=frozenset(struck))
    return replace(builder.done(), struck=frozenset(struck))


def _value(cell: Any) -> CellValue:
    value: object = cell.value
    if cell.data_type == "e":
        return CellError(value)
    if isinstance(value, (int, float)) and not isinstance(value, bool):
        return with_unit(value, cell.number_format)
    return value if isinstance(value, CellValue) else str(value)


def _has_formulas(path: Path) -> bool:
    with zipfile.ZipFile(path) as archive:
        sheets = [name for name in archive.namelist() if name.startswith("xl/worksheets/")]
        return any(_FORMULA.search(archive.read(name)) for name in sheets)


def _with_gaps(grid: Grid, formulas: Grid) -> Grid:
    """The grid, with a mark wherever there is a formula without a result."""
    builder = GridBuilder(grid.name, grid.visible, grid.epoch)
    for number, row in formulas.rows.items():
        for column, text in row.items():
            has_result = column in grid.rows.get(number, {})
            is_formula = isinstance(text, str) and text.startswith("=")
            if has_result or is_formula:
                value = grid.rows[number][column] if has_result else NOT_CALCULATED
                builder.add(number, column, value)
    return replace(grid, rows=builder.done().rows)
