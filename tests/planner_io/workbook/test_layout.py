"""What a spreadsheet shows besides its cells is told, and not read."""

from __future__ import annotations

from pathlib import Path

import openpyxl
from openpyxl.comments import Comment

from planner.errors import Severity
from planner_io.workbook import read_workbook
from tests.planner_io.workbook.sheets import an_order, some_orders


def test_rows_that_are_hidden_count_and_are_told(tmp_path: Path) -> None:
    rows = [an_order(Line=str(number)) for number in range(1, 5)]
    path = some_orders(tmp_path / "w.xlsx", *rows)
    book = openpyxl.load_workbook(path)
    for number in (3, 5):
        book["Orders"].row_dimensions[number].hidden = True
    book.save(path)
    reading = read_workbook(path)
    assert [line.line for line in reading.orders] == ["1", "2", "3", "4"]
    assert [str(finding) for finding in reading.findings] == [
        "Orders!A3: rows that the spreadsheet does not show count all the same: 3, 5; show them, "
        "and delete what is not wanted"
    ]


def test_columns_that_are_hidden_count_and_are_told(tmp_path: Path) -> None:
    path = some_orders(tmp_path / "w.xlsx", an_order(Note="soon"))
    book = openpyxl.load_workbook(path)
    book["Orders"].column_dimensions["B"].hidden = True
    header = next(row for row in book["Orders"].iter_rows(values_only=True) if row[1])[1]
    book.save(path)
    reading = read_workbook(path)
    assert len(reading.orders) == 1
    words = "columns that the spreadsheet does not show are read all the same"
    assert f"Orders: {words}: B, “{header}”" in reading.readings
    assert not any(words in text for text in read_workbook(some_orders(path, an_order())).readings)


def test_comments_below_the_header_are_not_read_which_is_told(tmp_path: Path) -> None:
    path = some_orders(tmp_path / "w.xlsx", an_order(), an_order(Line="2"))
    book = openpyxl.load_workbook(path)
    sheet = book["Orders"]
    for cell in ("A1", "D2", "E3"):
        sheet[cell].comment = Comment("only 4 please", "Kim")
    book.save(path)
    (finding,) = read_workbook(path).findings
    assert (finding.cell, finding.severity) == ("D2", Severity.WARNING)
    assert "not read: D2, E3;" in finding.message
