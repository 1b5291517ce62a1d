"""Only what is still to make is planned: not what is done, closed or on hold."""

from __future__ import annotations

import datetime as dt
from pathlib import Path

import pytest

from planner.errors import Severity
from planner_io.workbook import Reading, read_workbook
from tests.planner_io.workbook.readings import reading, the_error, the_line
from tests.planner_io.workbook.sheets import Cell, an_order, some_orders


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


@pytest.mark.parametrize("header", ["Reqd", "REQ'D", "No. Req'd", "Qty Req'd", "Qty required"])
def test_what_is_required_is_a_quantity_beside_a_due_date(header: str, tmp_path: Path) -> None:
    row = {(header if name == "Quantity" else name): value for name, value in an_order().items()}
    for due in ("Due", "Req'd by", "Required"):
        named = {(due if name == "Due" else name): value for name, value in row.items()}
        (line,) = reading(tmp_path, named).orders
        assert (line.quantity, line.due.date()) == (4, dt.date(2026, 12, 4))


@pytest.mark.parametrize(
    ("written", "pieces"),
    [
        ("4 units", 4),
        ("4 tubes", 4),
        ("x4", 4),
        ("Qty 4", 4),
        ("4 lg", 4),
        ("4 Stk.", 4),
        ("2 (1L, 1R)", 2),
        ("10 (2x5)", 10),
        *(("four", 4), ("six (6)", 6), ("a dozen", 12), ("half a dozen", 6), ("half doz", 6)),
        *(("a pair", 2), ("two pair", 4), ("2 pair (4)", 4), ("1 Paar", 2), ("1.5 doz", 18)),
        *(("3L + 3R", 6), ("2 LH/2 RH", 4), ("1,200", 1200), ("six off", 6), ("4 (four)", 4)),
        *(("1 gross", 144), ("6 RH 6 LH", 12), ("douzaine", 12), ("une douzaine", 12)),
    ],
)
def test_a_quantity_may_have_words_about_it(tmp_path: Path, written: str, pieces: int) -> None:
    assert the_line(tmp_path, Quantity=written).quantity == pieces


@pytest.mark.parametrize(
    "written", ["4 (2 sets)", "4 (2x3)", "4 (8 left)", "6 LH 6 LH", "2 sets", "six (8)"]
)
def test_a_quantity_that_may_be_another_is_refused(tmp_path: Path, written: str) -> None:
    assert the_error(tmp_path, Quantity=written)[0] == "D2"


@pytest.mark.parametrize("written", ["4 sets of 2", "2x4", "a couple", "pair", "1 ea L & R"])
def test_a_quantity_in_sets_says_what_to_write(tmp_path: Path, written: str) -> None:
    assert "write how many pieces that is in all" in the_error(tmp_path, Quantity=written)[1]


@pytest.mark.parametrize("written", ["6/6", "12/6", "4 of 6"])
def test_a_quantity_of_so_many_of_so_many_is_no_fraction(tmp_path: Path, written: str) -> None:
    cell, message = the_error(tmp_path, Quantity=written)
    assert (cell, "those that are made under Done" in message) == ("D2", True)


@pytest.mark.parametrize("written", ["1,000", "1.200"])
def test_a_quantity_with_two_whole_readings_or_none_is_refused(
    tmp_path: Path, written: str
) -> None:
    assert the_error(tmp_path, Quantity=written)[0] == "D2"
