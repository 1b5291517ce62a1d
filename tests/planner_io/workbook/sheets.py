"""Tiny builders of workbooks for tests."""

from __future__ import annotations

import datetime as dt
from collections.abc import Mapping, Sequence
from pathlib import Path

import openpyxl

Cell = str | int | float | bool | dt.date | dt.datetime | dt.time | None

ORDER: dict[str, Cell] = {
    "Order": "1187",
    "Line": "1",
    "Part": "Post",
    "Quantity": 4,
    "Material": "304",
    "OD": "1-1/2",
    "Wall": ".065",
    "Finish": "Satin P180",
    "Length": "36",
    "Due": "2026-12-04",
}


def an_order(**changes: Cell) -> dict[str, Cell]:
    """An order's cells by header; a keyword's underscores are spaces: `End_1="mitre 45"`."""
    return {**ORDER, **{key.replace("_", " "): value for key, value in changes.items()}}


def a_table(rows: Sequence[Mapping[str, Cell]]) -> list[list[Cell]]:
    """Rows of cells under a header row."""
    headers = list(dict.fromkeys(key for row in rows for key in row))
    return [[*headers], *([row.get(key) for key in headers] for row in rows)]


def a_workbook(path: Path, **sheets: Sequence[Sequence[Cell]]) -> Path:
    """A workbook file with the given sheets."""
    book = openpyxl.Workbook()
    book.remove(book.worksheets[0])
    for name, rows in sheets.items():
        sheet = book.create_sheet(name)
        for row in rows:
            sheet.append(list(row))
    book.save(path)
    return path


def some_orders(path: Path, *rows: Mapping[str, Cell], **sheets: Sequence[Sequence[Cell]]) -> Path:
    """A workbook with these orders and nothing else unless given."""
    return a_workbook(path, Orders=a_table(rows), **sheets)
