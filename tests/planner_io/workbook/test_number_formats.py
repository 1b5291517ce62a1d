"""A number is read with the unit that the spreadsheet shows behind it."""

from __future__ import annotations

from pathlib import Path

import openpyxl
import pytest
from openpyxl.styles import Font

from planner.orders import CutLength
from planner_io.workbook import Reading, read_workbook
from tests.planner_io.workbook.sheets import a_table, an_order, some_orders


def shown_as(path: Path, column: str, number: float, number_format: str) -> Reading:
    """An order with a number in a column that the spreadsheet shows in a format of its own."""
    book_path = some_orders(path / "w.xlsx", an_order(**{column: number}))
    book = openpyxl.load_workbook(book_path)
    index = a_table([an_order()])[0].index(column) + 1
    book["Orders"].cell(2, index).number_format = number_format
    book.save(book_path)
    return read_workbook(book_path)


@pytest.mark.parametrize(
    ("number", "number_format", "nm"),
    [
        *((900, '0" mm"', 900_000_000), (900, '0.0\\ "mm";-0" mm"', 900_000_000)),
        *((3, "0'", 914_400_000), (3, '0" ft."', 914_400_000), (1.2, '0.0" m"', 1_200_000_000)),
        *((900, "#,##0.00\\ [$mm]", 900_000_000), (36.5, '# ??/??\\"', 927_100_000)),
        *((36, '0" pcs"', 914_400_000), (36, "0.00_);(0.00)", 914_400_000)),
    ],
)
def test_a_length_has_the_unit_that_is_shown(
    tmp_path: Path, number: float, number_format: str, nm: int
) -> None:
    (line,) = shown_as(tmp_path, "Length", number, number_format).orders
    assert line.shape == CutLength(length_nm=nm)


def test_a_quantity_shown_in_pairs_or_dozens_is_counted_so(tmp_path: Path) -> None:
    assert shown_as(tmp_path, "Quantity", 4, '0" pr"').orders[0].quantity == 8
    assert shown_as(tmp_path, "Quantity", 2, '0" doz"').orders[0].quantity == 24
    assert shown_as(tmp_path, "Quantity", 4, '0" pcs"').orders[0].quantity == 4


def test_a_row_that_is_struck_through_counts_and_is_doubted(tmp_path: Path) -> None:
    path = some_orders(tmp_path / "w.xlsx", an_order(), an_order(Line="2"))
    book = openpyxl.load_workbook(path)
    for cell in book["Orders"][3]:
        cell.font = Font(strike=True)
    book.save(path)
    found = read_workbook(path)
    (doubt,) = (each for each in found.findings if "struck through" in each.message)
    assert ("rows with cells that are struck through" in doubt.message, doubt.cell) == (True, "A3")
    assert len(found.orders) == 2
