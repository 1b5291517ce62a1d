"""Order lines are built as the trade means them."""

from __future__ import annotations

import datetime as dt
from pathlib import Path

import pytest

from planner.errors import Severity
from planner.tube import Surface
from planner_io.workbook import read_workbook
from tests.planner_io.workbook.readings import reading, the_error, the_line
from tests.planner_io.workbook.sheets import Cell, an_order, some_orders


@pytest.mark.parametrize(
    ("cells", "cell", "words"),
    [
        ({"Quantity": 0}, "D2", "from 1"),
        ({"Quantity": -3}, "D2", "from 1"),
        ({"Quantity": 2.5}, "D2", "not a whole number"),
        ({"Quantity": None}, "D2", "nothing is written"),
        ({"Quantity": "#N/A"}, "D2", "expected"),
        ({"Material": "unobtanium"}, "E2", "expected a material"),
        ({"Material": "304 4130"}, "E2", "two materials"),
        ({"OD": "big"}, "F2", "expected an outside diameter"),
        ({"OD": dt.datetime(2026, 1, 1)}, "F2", "date"),
        ({"Wall": None}, "G2", "nothing is written"),
        ({"Wall": "1"}, "G2", "no bore"),
        ({"OD": "1-1/2 sch 40", "Wall": ".065"}, "G2", "another wall"),
        ({"Finish": "Mirror"}, "H2", "Satin P180"),
        ({"Length": None}, "I2", "nothing is written"),
        ({"Length": "12 ft 3 x"}, "I2", "12 ft 3 x"),
        ({"Length": "bent"}, "C2", "Bends has no rows"),
        ({"Length": "c-c 48"}, "A2", "needs a saddle"),
        ({"Length": "c-c 48", "Length is": "cut"}, "K2", "says otherwise"),
        ({"Due": "soon"}, "J2", "expected a date"),
        ({"Due": None}, "J2", "nothing is written"),
        ({"Priority": "blue"}, "K2", "rush"),
        ({"Route": "fly"}, "K2", "usual"),
        ({"End 2": "wavy"}, "K2", "square"),
        ({"Touch-up": "long"}, "K2", "expected a time"),
        ({"Order": None}, "A2", "nothing is written"),
    ],
)
def test_each_mistake_is_one_error_at_its_cell(
    cells: dict[str, Cell], cell: str, words: str, tmp_path: Path
) -> None:
    found = the_error(tmp_path, **cells)
    assert found[0] == cell
    assert words in found[1]


def test_a_line_typed_twice_is_refused_the_second_time(tmp_path: Path) -> None:
    found = reading(tmp_path, an_order(), an_order(Quantity=9))
    assert [line.quantity for line in found.orders] == [4]
    assert "stands in row 2 already" in found.findings[0].message


def test_blank_orders_and_lines_are_filled_in_from_above(tmp_path: Path) -> None:
    rows = [an_order(Line=None), an_order(Order=None, Line=None), an_order(Order="1188", Line=None)]
    found = reading(tmp_path, *rows)
    assert [line.key for line in found.orders] == ["1187/1", "1187/2", "1188/1"]
    assert any("order taken from the row above" in text for text in found.readings)


@pytest.mark.parametrize(
    ("header", "cell", "seconds"),
    [("Touch-up", 3, 180), ("Touch-up", "45 s", 45), ("Touch-up (s)", 90, 90)],
)
def test_touch_up_is_in_minutes_unless_it_says_otherwise(
    header: str, cell: Cell, seconds: int, tmp_path: Path
) -> None:
    assert the_line(tmp_path, **{header: cell}).touch_up_s == seconds


def test_a_missing_column_is_one_error_not_one_a_row(tmp_path: Path) -> None:
    rows = [{key: cell for key, cell in an_order().items() if key != "Due"}] * 3
    found = reading(tmp_path, *rows)
    assert found.orders == ()
    assert ["no column Due" in finding.message for finding in found.findings] == [True]


def test_a_missing_column_is_looked_for_among_those_that_are_not_read(tmp_path: Path) -> None:
    row = an_order(Folder="7001")
    del row["Order"]
    messages = [finding.message for finding in reading(tmp_path, row).findings]
    assert any(
        "no column Order" in each and "rename the one of “Folder”" in each for each in messages
    )


def test_a_dash_says_that_there_is_nothing(tmp_path: Path) -> None:
    names = ("Surface", "Finish", "End 1", "Priority", "Route", "Touch-up", "Length is")
    line = the_line(tmp_path, OD="1-1/2 x .065", Wall="-", **dict.fromkeys(names, "-"))
    assert line == the_line(tmp_path, Finish=None)


def test_a_sheet_without_a_finish_column_is_doubted(tmp_path: Path) -> None:
    plain = {key: value for key, value in an_order().items() if key != "Finish"}
    found = reading(tmp_path, {**plain, "Shine": "Satin P180"})
    warnings = [f.message for f in found.findings if f.severity == Severity.WARNING]
    (finish,) = (text for text in warnings if "no column Finish, so nothing is finished" in text)
    assert "rename the one of “Shine” that says it" in finish
    assert len(found.orders) == 1


def test_a_sheet_without_a_length_column_is_doubted_once(tmp_path: Path) -> None:
    plain = {key: value for key, value in an_order().items() if key != "Length"}
    found = reading(tmp_path, *[{**plain, "Tall": "600 mm"}] * 2)
    warnings = [f.message for f in found.findings if f.severity == Severity.WARNING]
    (length,) = (text for text in warnings if "no column Length" in text)
    assert "only parts in Bends have one" in length
    assert "rename the one of “Tall” that says it" in length


def test_a_sheet_without_a_part_column_is_doubted_once(tmp_path: Path) -> None:
    plain = {key: value for key, value in an_order().items() if key != "Part"}
    found = reading(tmp_path, {**plain, "What": "Gate rail"})
    (part,) = (f.message for f in found.findings if "no column Part" in f.message)
    assert "“What”" in part


@pytest.mark.parametrize("written", ["Satin P180", "P180"])
def test_a_column_called_surface_that_names_recipes_is_the_finish(
    tmp_path: Path, written: str
) -> None:
    plain = {key: value for key, value in an_order().items() if key not in {"Finish", "Surface"}}
    found = reading(tmp_path, {**plain, "Surface": written})
    assert not found.findings
    assert [order.recipe for order in found.orders] == ["Satin P180"]
    assert any("read as Finish, as it names recipes" in note for note in found.readings)


def test_words_that_say_neither_do_not_hide_that_a_column_is_the_finish(tmp_path: Path) -> None:
    plain = {key: value for key, value in an_order().items() if key not in {"Finish", "Surface"}}
    words = ("180 grit", "P180", "as quoted", "see drawing", "satin", "mill scale off")
    found = reading(tmp_path, *({**plain, "Line": n, "Surface": w} for n, w in enumerate(words, 1)))
    assert [order.recipe for order in found.orders] == ["Satin P180"] * 2 + ["Mill-scale removal"]
    assert len([f for f in found.findings if "Finish: read" in f.message]) == 3


def test_as_many_surfaces_as_recipes_are_surfaces(tmp_path: Path) -> None:
    plain = {key: value for key, value in an_order().items() if key not in {"Finish", "Surface"}}
    rows = ({**plain, "Line": n, "Surface": w} for n, w in enumerate(("scaled", "P180"), 1))
    found = reading(tmp_path, *rows)
    assert [order.spec.surface for order in found.orders] == [Surface.SCALED]


def test_a_column_of_surfaces_is_not_taken_for_the_finish(tmp_path: Path) -> None:
    plain = {key: value for key, value in an_order().items() if key not in {"Finish", "Surface"}}
    found = reading(tmp_path, {**plain, "Surface": "scaled"})
    assert [order.recipe for order in found.orders] == [None]
    assert [order.spec.surface for order in found.orders] == [Surface.SCALED]


def test_s_is_a_wall_and_urgent_is_a_priority(tmp_path: Path) -> None:
    row = {("s (mm)" if name == "Wall" else name): value for name, value in an_order().items()}
    found = reading(tmp_path, {**row, "s (mm)": 1.5, "Urgent": "x"})
    assert [(line.spec.wall_nm, line.weight) for line in found.orders] == [(1_500_000, 5)]


def test_who_ordered_is_the_customer_and_no_quantity(tmp_path: Path) -> None:
    plain = {("No. of pcs" if key == "Quantity" else key): v for key, v in an_order().items()}
    found = reading(tmp_path, {"Ordered by": "Otter Quay", **plain})
    assert [(each.customer, each.quantity) for each in found.orders] == [("Otter Quay", 4)]


@pytest.mark.parametrize("column", ["Quantity", "Material", "OD", "Wall", "Length", "Due", "Bent"])
@pytest.mark.parametrize("written", ["TBD", "???"])
def test_a_needed_cell_that_is_left_open_says_so(tmp_path: Path, column: str, written: str) -> None:
    _, message = the_error(tmp_path, **{column: written})
    assert f"“{written}” leaves it open; write it once it is decided, and put hold" in message


def test_a_heading_between_orders_is_left_out_and_warned_of(tmp_path: Path) -> None:
    heading: dict[str, Cell] = {"Order": "Customer: Jones"}
    found = reading(tmp_path, an_order(), heading, an_order(Order="1188"))
    assert [line.order for line in found.orders] == ["1187", "1188"]
    assert [(f.cell, f.severity) for f in found.findings] == [("A3", Severity.WARNING)]


def test_rows_below_a_heading_without_an_order_are_of_what_it_says(tmp_path: Path) -> None:
    heading: dict[str, Cell] = {"Order": "Job 1188"}
    rows = [an_order(), heading, an_order(Order=None), an_order(Order=None, Line="2")]
    found = reading(tmp_path, *rows)
    assert [line.order for line in found.orders] == ["1187", "Job 1188", "Job 1188"]


def test_a_row_that_names_no_tube_is_told_once(tmp_path: Path) -> None:
    row: dict[str, Cell] = {"Order": "1187", "Part": "Freight", "Quantity": 1, "Due": "2026-12-04"}
    found = reading(tmp_path, an_order(), row)
    assert [f.cell for f in found.findings] == ["A3"]
    assert "names no tube" in found.findings[0].message


def test_ln_is_a_line_and_a_row_entered_twice_may_be_deleted(tmp_path: Path) -> None:
    row = {("Ln" if name == "Line" else name): value for name, value in an_order().items()}
    reading = read_workbook(some_orders(tmp_path / "w.xlsx", row, row))
    assert [line.key for line in reading.orders] == ["1187/1"]
    (finding,) = reading.findings
    assert finding.cell == "B3"
    assert "or delete it if it was entered twice" in finding.message


@pytest.mark.parametrize("header", ["Gehrung links", "Onglet", "Ausklinkung", "Inglete"])
def test_a_column_of_ends_in_another_language_that_is_not_read_is_warned_of(
    header: str, tmp_path: Path
) -> None:
    order = {**an_order(), header: "45"}
    found = read_workbook(some_orders(tmp_path / "w.xlsx", order)).findings
    assert any(f"the column “{header}” is not read" in each.message for each in found)
