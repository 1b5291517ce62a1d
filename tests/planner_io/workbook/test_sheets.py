"""Which sheets are the orders, and what is told of those that nobody reads."""

from __future__ import annotations

from pathlib import Path

import openpyxl
import pytest

from planner.errors import Severity
from planner_io.workbook import read_workbook
from tests.planner_io.workbook.sheets import Cell, a_table, a_workbook, an_order, some_orders


def test_a_sheet_with_the_columns_of_orders_will_do(tmp_path: Path) -> None:
    path = a_workbook(tmp_path / "w.xlsx", **{"KW 49": a_table([an_order()])})
    found = read_workbook(path)
    assert len(found.orders) == 1
    assert "sheet “KW 49” read as Orders" in found.readings


def test_without_any_orders_sheet_there_is_one_error(tmp_path: Path) -> None:
    found = read_workbook(a_workbook(tmp_path / "w.xlsx", Notes=[["hello"], ["x"]]))
    (finding,) = found.findings
    assert "no sheet Orders" in finding.message


def test_orders_that_can_be_seen_come_before_a_hidden_sheet_called_orders(tmp_path: Path) -> None:
    old = a_table([an_order(Order="OLD")])
    path = a_workbook(tmp_path / "w.xlsx", Orders=old, Week_49=a_table([an_order()]))
    book = openpyxl.load_workbook(path)
    book["Orders"].sheet_state = "hidden"
    book.save(path)
    assert [line.order for line in read_workbook(path).orders] == ["1187"]


@pytest.mark.parametrize(
    ("name", "title"),
    [("Shop hours", "Hours"), ("Bend sheet", "Bends"), ("Finish list", "Recipes")],
)
def test_a_sheet_that_is_called_nearly_like_one_that_is_missing_is_doubted(
    tmp_path: Path, name: str, title: str
) -> None:
    rows: list[list[Cell]] = [["", "Mon", "Tue"], ["Open", 6, 6]]
    found = read_workbook(some_orders(tmp_path / "w.xlsx", an_order(), **{name: rows}))
    (warning,) = found.findings
    assert (warning.sheet, warning.severity) == (name, Severity.WARNING)
    assert f"may be {title}, but is not read" in warning.message
    assert not any("not used" in text for text in found.readings)


def test_a_second_sheet_of_orders_is_doubted_and_a_list_of_parts_is_not(tmp_path: Path) -> None:
    parts: list[list[Cell]] = [
        ["Part", "Material", "OD", "Wall", "Length"],
        ["Post", "304", 1, 1, 1],
    ]
    first, second = a_table([an_order()]), a_table([an_order(Order="1190")])
    one = a_workbook(tmp_path / "one.xlsx", Orders=first, South=second, Catalogue=parts)
    none = a_workbook(tmp_path / "none.xlsx", North=first, South=second, Catalogue=parts)
    doubted = ((one, Severity.WARNING, "Orders"), (none, Severity.ERROR, "North"))
    for path, severity, name in doubted:
        found = read_workbook(path)
        assert [line.order for line in found.orders] == ["1187"]
        (finding,) = found.findings
        assert (finding.sheet, finding.cell, finding.severity) == ("South", "A1", severity)
        assert f"only {name} is read: put its rows under those" in finding.message
        assert any("not used: Catalogue" in text for text in found.readings)


def test_a_list_of_sticks_that_is_not_called_stock_is_doubted(tmp_path: Path) -> None:
    sticks: list[list[Cell]] = [
        ["Material", "Size", "Wall", "Length", "Have"],
        ["304", "1-1/2", ".065", "20'", 6],
    ]
    path = some_orders(tmp_path / "w.xlsx", an_order(), Count=sticks)
    (warning,) = read_workbook(path).findings
    assert (warning.sheet, warning.cell) == ("Count", "A1")
    assert "call it Stock if its sticks may be used" in warning.message
    named = some_orders(tmp_path / "s.xlsx", an_order(), Count=sticks, Stock=sticks)
    assert not read_workbook(named).findings


def test_a_sheet_with_some_columns_of_order_lines_is_not_passed_over(tmp_path: Path) -> None:
    rush: list[list[Cell]] = [["Job", "Pcs", "Tube", "Cut"], ["J9", 3, "1-1/2 x .065 304", 12]]
    found = read_workbook(a_workbook(tmp_path / "w.xlsx", Orders=a_table([an_order()]), Rush=rush))
    (warning,) = (f for f in found.findings if f.sheet == "Rush")
    assert "has columns of order lines, but not all that they need" in warning.message
