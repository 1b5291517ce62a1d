"""Only what is still to make is planned: not what is done, closed or on hold."""

from __future__ import annotations

import datetime as dt
from collections.abc import Mapping
from pathlib import Path

import pytest

from planner.errors import Severity
from planner_io.workbook import Reading, read_workbook
from tests.planner_io.workbook.sheets import Cell, an_order, some_orders


def reading(path: Path, *rows: Mapping[str, Cell]) -> Reading:
    return read_workbook(some_orders(path / "w.xlsx", *rows))


def quantities(found: Reading) -> list[int]:
    assert not [each for each in found.findings if each.severity == Severity.ERROR], found.findings
    return [line.quantity for line in found.orders]


@pytest.mark.parametrize(
    "row",
    [
        {"Quantity": 20, "Balance": 15},
        {"Qty shipped": 5, "Quantity": 20},
        {"Ship'd": 5, "Quantity": 20},
        {"Ship'd": 5, "Bal.": 15, "Quantity": 20},
        {"B/O": 15, "Quantity": 20},
        {"Quantity": "20 pcs", "Done": "5"},
        {"Quantity": 20, "Done": 2, "Balance": 15},
        {"Quantity": 20, "Sent": 5, "Status": "part sent"},
        {"Quantity": None, "To make": 15},
    ],
)
def test_what_is_left_is_planned_and_told(tmp_path: Path, row: dict[str, Cell]) -> None:
    found = reading(tmp_path, {**an_order(), **row})
    assert quantities(found) == [15]
    ordered = row["Quantity"] is not None
    assert any("20 ordered, 15 of them still to make" in r for r in found.readings) == ordered


@pytest.mark.parametrize(
    "row",
    [
        {"Balance": 0},
        {"Done": 4},
        {"Done": 6},
        {"Complete": "x"},
        {"Complete": True},
        {"Completed": dt.date(2026, 11, 26)},
        {"% complete": "100 %"},
        {"Complete %": 1},
        {"Status": "Shipped"},
        {"Status": "sent"},
        {"Order status": "closed 26 Nov"},
    ],
)
def test_a_row_with_nothing_left_is_left_out_and_told(tmp_path: Path, row: dict[str, Cell]) -> None:
    found = reading(tmp_path, {**an_order(), **row}, an_order(Order="1188"))
    assert [line.order for line in found.orders] == ["1188"]
    assert any("the row is left out" in each for each in found.readings)


@pytest.mark.parametrize(
    "row", [{"Done": None}, {"Done": 0}, {"Complete": "no"}, {"Status": "-"}, {"Status": "rel"}]
)
def test_a_row_of_which_nothing_is_done_is_planned_whole(
    tmp_path: Path, row: dict[str, Cell]
) -> None:
    assert quantities(reading(tmp_path, {**an_order(), **row})) == [4]


@pytest.mark.parametrize(
    "status",
    [
        "HOLD",
        "on hold",
        "Cancelled",
        "quote only",
        "on hold - credit",
        "Customer hold",
        "canc",
        "CXLD",
    ],
)
def test_a_row_on_hold_is_not_planned_and_the_planner_is_warned(
    tmp_path: Path, status: str
) -> None:
    found = reading(tmp_path, an_order(Status=status), an_order(Order="1188"))
    assert [line.order for line in found.orders] == ["1188"]
    assert [each.cell for each in found.findings if "not planned" in each.message] == ["K2"]


@pytest.mark.parametrize(
    "status",
    ["in progress", "part shipped", "Shipped 2 of 4", "delivered 2", "shipped (partial)"],
)
def test_work_that_has_begun_is_planned_whole_and_the_planner_is_warned(
    tmp_path: Path, status: str
) -> None:
    found = reading(tmp_path, an_order(Status=status))
    assert quantities(found) == [4]
    assert ["how many are done" in each.message for each in found.findings] == [True]


def test_a_row_with_an_unknown_status_is_planned_and_the_planner_is_warned(tmp_path: Path) -> None:
    found = reading(tmp_path, an_order(Status="scrapped, remake"))
    assert quantities(found) == [4]
    (warning,) = found.findings
    assert (warning.cell, warning.read) == ("K2", "scrapped, remake")
    assert "is planned" in warning.message


def test_work_of_which_some_is_said_to_be_done_is_not_asked_about(tmp_path: Path) -> None:
    found = reading(tmp_path, an_order(Status="part shipped", Shipped=1))
    assert quantities(found) == [3]
    assert not found.findings


def test_a_balance_of_money_is_not_read_as_pieces(tmp_path: Path) -> None:
    rows = [an_order(Balance=2), an_order(Order="1188", Balance="$310.50")]
    found = reading(tmp_path, *rows)
    assert quantities(found) == [4, 4]
    assert [each.cell for each in found.findings] == ["K3"]


@pytest.mark.parametrize(
    ("row", "cell"),
    [({"Done": "half"}, "K2"), ({"% complete": 0.5}, "K2"), ({"Quantity": 0}, "D2")],
)
def test_what_does_not_tell_how_many_are_left_is_refused(
    tmp_path: Path, row: dict[str, Cell], cell: str
) -> None:
    found = reading(tmp_path, {**an_order(), **row})
    assert not found.orders
    assert [each.cell for each in found.findings] == [cell]


def test_the_order_and_the_count_of_lines_go_on_over_a_row_that_is_done(tmp_path: Path) -> None:
    rows = [
        an_order(Line=None, Done=None),
        an_order(Line=None, Order="1188", Done="yes"),
        an_order(Line=None, Order=None, Done=None),
    ]
    found = reading(tmp_path, *rows)
    assert [(line.order, line.line) for line in found.orders] == [("1187", "1"), ("1188", "2")]


def test_a_column_that_only_speaks_of_what_is_done_is_not_taken_for_it(tmp_path: Path) -> None:
    found = reading(tmp_path, an_order(**{"Made by": "Kim", "Open since": "Monday"}))
    assert quantities(found) == [4]


ISSUED = {"1187/1": 20}


@pytest.mark.parametrize(
    ("row", "pieces"),
    [
        ({"Done": 5}, 20),
        ({"Done": "yes"}, 20),
        ({"Balance": 3}, 20),
        ({"Balance": 0}, 20),
        ({"Status": "done"}, 20),
        ({"Status": "in progress"}, 20),
        ({"Quantity": 30, "Done": 5}, 25),
        ({"Quantity": 12, "Done": 5}, 12),
        ({"Quantity": 30}, 30),
    ],
)
def test_what_is_done_of_an_issued_line_the_progress_tells(
    tmp_path: Path, row: dict[str, Cell], pieces: int
) -> None:
    path = some_orders(tmp_path / "w.xlsx", {**an_order(Quantity=20), **row})
    found = read_workbook(path, issued=ISSUED)
    assert quantities(found) == [pieces]
    said = any("what is done the progress tells" in each for each in found.readings)
    assert said == bool(row.keys() & {"Done", "Balance"} or row.get("Status") == "done")


def test_an_issued_line_may_still_be_stopped(tmp_path: Path) -> None:
    rows = [an_order(Status="cancelled"), an_order(Line="2", Status="closed")]
    path = some_orders(tmp_path / "w.xlsx", *rows, an_order(Line="3", Status="open"))
    found = read_workbook(path, issued={**ISSUED, "1187/3": 4})
    assert [line.key for line in found.orders] == ["1187/3"]
