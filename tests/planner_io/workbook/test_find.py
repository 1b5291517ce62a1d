"""Sheets and their header rows are found wherever they stand."""

from __future__ import annotations

from pathlib import Path

import openpyxl
import pytest

from planner_io.workbook import read_workbook
from tests.planner_io.workbook.sheets import Cell, a_table, a_workbook, an_order, some_orders


@pytest.mark.parametrize(
    "name", ["Orders", "ORDERS", "orders ", "Order list", "Open Orders", "Oders", "Work-orders"]
)
def test_the_orders_sheet_is_found_by_its_name(name: str, tmp_path: Path) -> None:
    other: list[list[Cell]] = [["Phone"], ["1"]]
    path = a_workbook(tmp_path / "w.xlsx", **{"Phones": other, name: a_table([an_order()])})
    found = read_workbook(path)
    assert len(found.orders) == 1
    assert "sheets that are not used: Phones" in found.readings


def test_without_a_header_row_there_is_one_error(tmp_path: Path) -> None:
    found = read_workbook(a_workbook(tmp_path / "w.xlsx", Orders=[[1, 2, 3], [4, 5, 6]]))
    (finding,) = found.findings
    assert "no header row" in finding.message


def test_headers_stand_below_titles_in_any_order_with_other_columns_between(
    tmp_path: Path,
) -> None:
    plain = a_table([an_order()])
    turned: list[list[Cell]] = [
        ["Orders of the week"],
        [],
        [*reversed(plain[0]), "Clerk"],
        [*reversed(plain[1]), "ab"],
    ]
    (one,) = read_workbook(a_workbook(tmp_path / "a.xlsx", Orders=plain)).orders
    found = read_workbook(a_workbook(tmp_path / "b.xlsx", Orders=turned))
    (other,) = found.orders
    assert other.model_copy(update={"place": one.place}) == one
    assert "Orders: columns that are not used: Clerk" in found.readings


def test_a_hidden_sheet_counts_after_a_visible_one(tmp_path: Path) -> None:
    old, new = a_table([an_order(Quantity=1)]), a_table([an_order(Quantity=2)])
    path = a_workbook(tmp_path / "w.xlsx", **{"Orders": old, "Open orders": new})
    book = openpyxl.load_workbook(path)
    book["Orders"].sheet_state = "hidden"
    book.save(path)
    assert read_workbook(path).orders[0].quantity == 2
    hidden = some_orders(tmp_path / "h.xlsx", an_order(), Stock=a_table([an_order()]))
    book = openpyxl.load_workbook(hidden)
    book["Orders"].sheet_state = "veryHidden"
    book.save(hidden)
    found = read_workbook(hidden)
    assert len(found.orders) == 1
    assert "Orders: the sheet is hidden, and read all the same" in found.readings


def test_items_by_name_are_no_line_numbers(tmp_path: Path) -> None:
    rows = [an_order(Item=each, Mk=mark) for each, mark in (("Handrail", "H1"), ("Handrail", "H2"))]
    for row in rows:
        del row["Line"], row["Part"]
    reading = read_workbook(some_orders(tmp_path / "w.xlsx", *rows))
    assert [(line.line, line.part) for line in reading.orders] == [("1", "H1"), ("2", "H2")]
    for row in rows:
        del row["Mk"]
    reading = read_workbook(some_orders(tmp_path / "v.xlsx", *rows))
    assert [(line.line, line.part) for line in reading.orders] == [
        ("1", "Handrail"),
        ("2", "Handrail"),
    ]
    numbered = [an_order(Item=each) for each in ("10", "20")]
    for row in numbered:
        del row["Line"]
    reading = read_workbook(some_orders(tmp_path / "n.xlsx", *numbered))
    assert [line.line for line in reading.orders] == ["10", "20"]


def test_a_column_of_names_called_piece_leaves_the_quantity_to_another(tmp_path: Path) -> None:
    row: dict[str, Cell] = {}
    for key, value in an_order().items():
        row[{"Part": "Pieza", "Quantity": "Cant."}.get(key, key)] = value
    (line,) = read_workbook(some_orders(tmp_path / "w.xlsx", row)).orders
    assert (line.part, line.quantity) == ("Post", 4)


def test_items_by_name_beside_line_numbers_are_parts(tmp_path: Path) -> None:
    row: dict[str, Cell] = {**an_order(Ln=7), "Item": "Gate rail"}
    del row["Line"], row["Part"]
    reading = read_workbook(some_orders(tmp_path / "w.xlsx", row))
    assert [(line.line, line.part) for line in reading.orders] == [("7", "Gate rail")]
    assert reading.findings == ()
