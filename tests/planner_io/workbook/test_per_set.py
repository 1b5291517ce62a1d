"""Pieces of one set are never taken for the pieces in all."""

from __future__ import annotations

from pathlib import Path

import pytest

from planner_io.workbook import Reading, read_workbook
from tests.planner_io.workbook.sheets import Cell, an_order, some_orders


def reading(path: Path, **cells: Cell) -> Reading:
    row = {key: value for key, value in an_order().items() if key != "Quantity"}
    return read_workbook(some_orders(path / "w.xlsx", {**row, **cells}))


@pytest.mark.parametrize(
    "header", ["Qty per set", "Qty/assy", "No. per gate", "Qty (pr)", "Qty, sets"]
)
def test_pieces_of_one_set_alone_are_an_error(tmp_path: Path, header: str) -> None:
    found = reading(tmp_path, **{"Sets": 3, header: 4})
    assert not found.orders
    assert ["add one called Total qty" in f.message for f in found.findings] == [True]


@pytest.mark.parametrize(
    "total", ["Total qty", "Qty total", "Total pcs", "Tot pcs", "Tot. off", "Gesamt Stk"]
)
def test_the_pieces_in_all_count_where_there_are_those_of_one(tmp_path: Path, total: str) -> None:
    found = reading(tmp_path, **{"Qty": 3, "Qty/assy": 4, total: 12})
    assert [line.quantity for line in found.orders] == [12]
    assert any("is read as Quantity" in each for each in found.readings)


def test_how_many_kits_there_are_is_no_order_and_told(tmp_path: Path) -> None:
    row = {key: value for key, value in an_order().items() if key != "Order"}
    no_order = read_workbook(some_orders(tmp_path / "v.xlsx", {**row, "Kits": 3}))
    assert "there is no column Order" in no_order.findings[0].message
    found = read_workbook(some_orders(tmp_path / "w.xlsx", {**an_order(), "Kits": 3}))
    (told,) = (one.message for one in found.findings)
    assert "“Kits” is not read, and Quantity is taken as the pieces in all" in told
    whole = {**row, "Order": 1, "Kits": 3, "Tot pcs": 12, "Qty/kit": 4}
    del whole["Quantity"]
    assert read_workbook(some_orders(tmp_path / "u.xlsx", whole)).findings == ()


def test_pieces_of_each_length_are_pieces(tmp_path: Path) -> None:
    assert [line.quantity for line in reading(tmp_path, **{"Qty (each)": 4}).orders] == [4]


@pytest.mark.parametrize("header", ["LH qty", "Qty R", "Qty (right)", "Qty (ft)", "Qty, m"])
def test_pieces_of_one_hand_and_feet_are_not_the_pieces_in_all(tmp_path: Path, header: str) -> None:
    found = reading(tmp_path, **{header: 4})
    assert not found.orders
    assert ["has not the pieces in all" in f.message for f in found.findings] == [True]


def test_pieces_of_both_hands_are_the_pieces_in_all(tmp_path: Path) -> None:
    assert [line.quantity for line in reading(tmp_path, **{"Qty L/R": "3L + 3R"}).orders] == [6]


@pytest.mark.parametrize(
    "header",
    ["Qty ea side", "Qty/car", "Qty per hull", "Stk je Seite", "Qté par côté", "Pcs per bay"],
)
def test_pieces_of_one_side_or_car_are_not_those_in_all(tmp_path: Path, header: str) -> None:
    order = {key: value for key, value in an_order().items() if key != "Quantity"}
    found = read_workbook(some_orders(tmp_path / "w.xlsx", {**order, header: 2}))
    assert found.orders == ()
    assert any("has not the pieces in all" in each.message for each in found.findings)
    whole = read_workbook(some_orders(tmp_path / "v.xlsx", {**order, header: 2, "Total qty": 4}))
    assert [line.quantity for line in whole.orders] == [4]
