"""Example rows of the template: left out until somebody changes them."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import date

from planner_io.workbook.cells import text
from planner_io.workbook.columns import Column, Kind, SheetSpec
from planner_io.workbook.show import Shown
from planner_io.workbook.table import Row

_NUMBERS = (Kind.WHOLE, Kind.MONEY, Kind.DECIMAL)


def typed(column: Column, word: str) -> Shown:
    """A cell's text as what the column's cells are: a number, a date, else text."""
    if column.kind in _NUMBERS:
        return float(word) if "." in word else int(word)
    if column.kind == Kind.DATE and len(word) == len("2026-12-04"):
        return date.fromisoformat(word)
    return word


def example_cells(spec: SheetSpec) -> Mapping[str, Shown]:
    """What the example row of a sheet holds, by column key."""
    return {column.key: typed(column, column.example) for column in spec.columns if column.example}


def is_example(row: Row) -> bool:
    """Whether a row is the template's example, unchanged."""
    expected = {key: text(value) for key, value in example_cells(row.table.spec).items()}
    return {key: text(value) for key, value in row.values.items()} == expected
