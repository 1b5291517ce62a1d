"""Tube that a customer brought is cut for that customer's order lines alone."""

from __future__ import annotations

from collections.abc import Mapping
from pathlib import Path

import pytest

from planner.errors import Severity
from planner_io.workbook import Reading, read_workbook
from tests.planner_io.workbook.sheets import Cell, a_table, an_order, some_orders

ROW: dict[str, Cell] = {
    "Stock": "S1",
    "Material": "304",
    "OD": "1-1/2",
    "Wall": ".065",
    "Length": "20 ft",
}
OURS = ROW
THEIRS: dict[str, Cell] = {**ROW, "Stock": "S2", "Kept for": "Brewery"}


def reading(
    path: Path, stock: list[Mapping[str, Cell]], *customers: str | None, **changes: Cell
) -> Reading:
    orders = [
        {**an_order(Line=str(number), **changes), "Customer": customer}
        for number, customer in enumerate(customers)
    ]
    return read_workbook(some_orders(path / "w.xlsx", *orders, Stock=a_table(stock)))


def grades(found: Reading) -> list[str]:
    return [line.spec.grade for line in found.orders]


def test_a_customer_s_lines_are_of_the_tube_that_the_customer_brought(tmp_path: Path) -> None:
    found = reading(tmp_path, [THEIRS, OURS], "brewery", "Cafe")
    assert grades(found) == ["304 for Brewery", "304"]
    assert [item.spec.grade for item in found.stock] == ["304 for Brewery", "304"]
    assert not found.findings
    told = "cut from the tube that Brewery brought, as in Stock"
    assert [each.partition(": ")[0] for each in found.readings if told in each] == ["Orders!K2"]


@pytest.mark.parametrize("header", ["Owner", "Whose", "own/cust.", "Customer"])
def test_the_column_may_be_called_otherwise(tmp_path: Path, header: str) -> None:
    theirs = {(header if key == "Kept for" else key): cell for key, cell in THEIRS.items()}
    assert grades(reading(tmp_path, [theirs], "Brewery")) == ["304 for Brewery"]


def test_nobody_else_s_grade_is_read_from_tube_that_is_kept(tmp_path: Path) -> None:
    found = reading(tmp_path, [THEIRS], "Cafe", "Brewery", Material="stainless")
    assert grades(found) == ["stainless", "304 for Brewery"]


def test_rows_of_an_order_without_a_customer_are_of_that_of_its_first_one(tmp_path: Path) -> None:
    assert grades(reading(tmp_path, [THEIRS], "Brewery", None)) == ["304 for Brewery"] * 2


def test_another_tube_of_that_customer_is_of_the_shop_s_own(tmp_path: Path) -> None:
    other: dict[str, Cell] = {**OURS, "Wall": ".120"}
    assert grades(reading(tmp_path, [THEIRS, other], "Brewery", Wall=".120")) == ["304"]


@pytest.mark.parametrize("nobody", ["own", "-", "us", "n/a", None])
def test_the_shop_s_own_tube_may_be_called_so(tmp_path: Path, nobody: Cell) -> None:
    own: dict[str, Cell] = {**OURS, "Kept for": nobody}
    assert grades(reading(tmp_path, [own], "Brewery")) == ["304"]


def test_a_name_is_asked_for_where_it_says_only_that_it_is_a_customer_s(tmp_path: Path) -> None:
    found = reading(tmp_path, [{**OURS, "Kept for": "yes"}], "Brewery")
    error = next(each for each in found.findings if each.severity == Severity.ERROR)
    assert (error.sheet, error.cell) == ("Stock", "F2")
    assert "the customer's name as in Orders" in error.message


def test_tube_kept_for_nobody_with_an_order_line_is_warned_of(tmp_path: Path) -> None:
    found = reading(tmp_path, [THEIRS, OURS], "Brewery Ltd")
    (warning,) = found.findings
    assert "kept for Brewery, for whom no order line is" in warning.message


@pytest.mark.parametrize("column", ["Material", "Grade"])
def test_a_remnant_may_say_whose_it_is_as_its_tag_does(tmp_path: Path, column: str) -> None:
    tag: dict[str, Cell] = {**OURS, "Material": "stainless", column: "304 for Brewery"}
    found = reading(tmp_path, [tag], "Brewery")
    assert grades(found) == ["304 for Brewery"]
    assert any("kept for Brewery, as its grade says" in each for each in found.readings)
