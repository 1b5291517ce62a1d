"""Example rows of the template: left out until somebody changes them."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import date

from planner.units import Unit
from planner_io.workbook.cells import text
from planner_io.workbook.columns import Column, Kind, SheetSpec
from planner_io.workbook.show import Shown
from planner_io.workbook.table import Row

UNITS: tuple[Unit, ...] = ("inch", "mm")
_NUMBERS = (Kind.WHOLE, Kind.MONEY, Kind.DECIMAL)


def typed(column: Column, word: str) -> Shown:
    """A cell's text as what the column's cells are: a number, a date, else text."""
    if column.kind in _NUMBERS:
        return float(word) if "." in word else int(word)
    if column.kind == Kind.DATE and len(word) == len("2026-12-04"):
        return date.fromisoformat(word)
    return word


_IN_MM: Mapping[str, str] = {
    "1-1/2": "38",
    ".065": "1.5",
    "20 ft": "6000",
    "36-1/2": "930",
    "saddle 1-1/2 @ 90": "saddle 38 @ 90",
    "4-1/2": "115",
    "10": "250",
}
"""Sizes of the examples as a shop in millimetres would write them."""


def example_cells(spec: SheetSpec, unit: Unit = "inch") -> Mapping[str, Shown]:
    """What the example row of a sheet holds, by column key."""
    return {
        column.key: typed(column, _example(column, unit))
        for column in spec.columns
        if column.example
    }


def _example(column: Column, unit: Unit) -> str:
    return _IN_MM.get(column.example, column.example) if unit == "mm" else column.example


def is_example(row: Row) -> bool:
    """Whether a row is the template's example, unchanged."""
    found = {key: text(value) for key, value in row.values.items()}
    return any(
        found == {key: text(value) for key, value in example_cells(row.table.spec, unit).items()}
        for unit in UNITS
    )
