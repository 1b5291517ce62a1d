"""Orders read from small workbooks, for tests."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from pathlib import Path

from planner.errors import Severity
from planner.orders import OrderLine
from planner_io.workbook import Reading, read_workbook
from tests.planner_io.workbook.sheets import Cell, an_order, some_orders

HOOP: list[list[Cell]] = [  # rows of Bends
    ["Part", "Straight", "Angle", "CLR"],
    ["Hoop", 20, 90, 4.5],
    [None, 10, 90, 4.5],
    [None, 20, None, None],
]


def reading(path: Path, *rows: Mapping[str, Cell], **sheets: Sequence[Sequence[Cell]]) -> Reading:
    """What is read of a workbook with these orders."""
    return read_workbook(some_orders(path / "w.xlsx", *rows, **sheets))


def the_line(path: Path, **changes: Cell) -> OrderLine:
    """The line of an order with these cells, of which nothing else is said."""
    found = reading(path, an_order(**changes), Bends=HOOP)
    assert not found.findings, found.findings
    return found.orders[0]


def the_error(path: Path, **changes: Cell) -> tuple[str | None, str]:
    """The cell and the message of the only error in an order with these cells."""
    found = reading(path, an_order(**changes), Bends=HOOP)
    errors = [f for f in found.findings if f.severity == Severity.ERROR]
    assert not found.orders
    assert len(errors) == 1, errors
    return errors[0].cell, errors[0].message
