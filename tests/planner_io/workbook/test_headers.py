"""What a header means, and which of several that could mean a column is it."""

from __future__ import annotations

from pathlib import Path

import pytest

from planner.orders import CutLength
from planner.units import parse_length
from planner_io.workbook import read_workbook
from planner_io.workbook.headers import match_headers
from planner_io.workbook.names import find_name, plain_name
from planner_io.workbook.orders_sheet import ORDERS
from tests.planner_io.workbook.sheets import Cell, an_order, some_orders


def test_a_misspelt_header_is_read_and_told(tmp_path: Path) -> None:
    row = an_order(Quantitty=7)
    del row["Quantity"]
    found = read_workbook(some_orders(tmp_path / "w.xlsx", row))
    assert found.orders[0].quantity == 7
    assert any("header “Quantitty” read as Quantity" in text for text in found.readings)


def test_a_part_number_comes_before_a_description_wherever_it_stands(tmp_path: Path) -> None:
    row = {"Description": "a post for the gate", **an_order()}
    assert read_workbook(some_orders(tmp_path / "w.xlsx", row)).orders[0].part == "Post"


@pytest.mark.parametrize(
    ("text", "meant"),
    [("Order", 1), ("ORDERS", 1), ("oder", 1), ("due-date", 2), ("Duedate", 2), ("Do", None)],
)
def test_names_are_compared_by_meaning(text: str, meant: int | None) -> None:
    found = find_name(text, {plain_name("Order"): 1, plain_name("Due date"): 2})
    assert (found.value if found else None) == meant


@pytest.mark.parametrize(
    ("header", "title"),
    [
        ("Qty this week", "Quantity"),
        ("Finish Req'd", "Finish"),
        ("Wall Thk.", "Wall"),
        ("Cut length of piece", "Length"),
        ("Order due date", "Due"),
        ("OD of tube", "OD"),
    ],
)
def test_a_name_among_other_words_is_read_and_told(header: str, title: str, tmp_path: Path) -> None:
    row = {header if name == title else name: cell for name, cell in an_order().items()}
    found = read_workbook(some_orders(tmp_path / "w.xlsx", row))
    assert len(found.orders) == 1
    assert any(f"header “{header}” read as {title}" in text for text in found.readings)


@pytest.mark.parametrize(
    "header", ["Order date", "Weight (lb)", "Price each", "Length tolerance", "Drawing sent on"]
)
def test_a_column_that_only_sounds_alike_is_left_alone(header: str, tmp_path: Path) -> None:
    found = read_workbook(some_orders(tmp_path / "w.xlsx", {header: "x", **an_order()}))
    assert len(found.orders) == 1
    assert f"Orders: columns that are not used: {header}" in found.readings


def test_abbreviated_headers_are_names_and_a_row_counter_is_none(tmp_path: Path) -> None:
    named = {"Order": "W.O.", "Quantity": "No.\noff", "Due": "Req'd by", "Line": "Part of"}
    row = {"#": 7, **{named.get(name, name): value for name, value in an_order().items()}}
    reading = read_workbook(some_orders(tmp_path / "w.xlsx", {**row, "Hot?": "Y"}))
    (line,) = reading.orders
    assert (line.order, line.quantity, line.weight) == ("1187", 4, 5)
    assert "Orders: columns that are not used: #, Part of" in reading.readings
    assert not any("\n" in said for said in reading.readings)


@pytest.mark.parametrize(
    ("header", "length"),
    [
        ("mm length", "36 mm"),
        ("Cut length mm +/-0.5", "36 mm"),
        ("Length (mm) finished", "36 mm"),
        ("Length in cm as cut", "36 cm"),
        ("Length FT-IN", "36"),
        ("Length (mm/in)", "36"),
        ("Cut length of piece", "36"),
    ],
)
def test_a_unit_counts_wherever_it_stands_in_a_header(
    header: str, length: str, tmp_path: Path
) -> None:
    row = {(header if name == "Length" else name): cell for name, cell in an_order().items()}
    (line,) = read_workbook(some_orders(tmp_path / "w.xlsx", row)).orders
    assert line.shape == CutLength(length_nm=parse_length(length).nm)


@pytest.mark.parametrize("header", ["Touch-up sec/pc", "sec/pc touch-up", "Touch-up (sec/pc)"])
def test_seconds_in_a_header_are_no_minutes(header: str, tmp_path: Path) -> None:
    (line,) = read_workbook(some_orders(tmp_path / "w.xlsx", {**an_order(), header: 30})).orders
    assert line.touch_up_s == 30


@pytest.mark.parametrize(
    ("header", "key"),
    [
        *((each, "due") for each in ("Want by", "Wanted", "Need date", "Dock date", "Finish by")),
        *((each, "due") for each in ("Cust req date", "In hands", "Wunschtermin", "Date limite")),
        *((each, "length") for each in ("Blank", "Blank length", "Cut length", "Cut L", "Saw to")),
        *((each, "length") for each in ("Tube length", "Zuschnitt", "Blank lg (mm)")),
        *((each, "recipe") for each in ("Prep", "Surface prep", "Finish prep", "Brush")),
        *((each, "grit") for each in ("Grain", "Grit", "Final grit", "Körnung")),
        *((each, "part") for each in ("P/N", "Tube no.", "Tube name")),
        *(("Werkstoffnr.", "material"), ("Tube grade", "grade"), ("Mitres", "ends")),
    ],
)
def test_what_planners_call_a_column_is_known(header: str, key: str) -> None:
    found, _ = match_headers({1: header}, ORDERS)
    assert [(name, guess.guessed) for name, guess in found.items()] == [(key, False)]


@pytest.mark.parametrize(
    "header",
    [
        *("Tube ID", "Inside dia", "Hole dia", "Header OD", "OD tol", "Schedule date", "Wall min"),
        *("Cut date", "Total length", "Stick length", "Cut qty", "Bend angle", "Bend min"),
        *("Finish date", "Surface area", "Material cost", "Qty on hand", "Original due date"),
        *("Order total", "PO date", "Line value", "End cap", "Weld prep", "Part weight"),
    ],
)
def test_what_only_sounds_like_a_column_is_not_taken_for_one(header: str) -> None:
    assert match_headers({1: header}, ORDERS) == ({}, [])


@pytest.mark.parametrize(
    ("header", "key", "unit"),
    [
        *(("OrderNo", "order", ""), ("DUE_DATE", "due", ""), ("TubeOD", "od", "")),
        *(("CutLengthIn", "length", "in"), ("WALL_MM", "wall", "mm"), ("EndPrepB", "end_2", "")),
    ],
)
def test_words_of_a_header_may_be_joined(header: str, key: str, unit: str) -> None:
    found, _ = match_headers({1: header}, ORDERS)
    assert [(name, guess.header.unit) for name, guess in found.items()] == [(key, unit)]


@pytest.mark.parametrize("header", ["Anzahl Bögen", "Coudes", "Dobleces"])
def test_bends_are_counted_in_other_languages_too(header: str, tmp_path: Path) -> None:
    cells: dict[str, Cell] = {"Length is": "blank", "CLR": "4-1/2", header: 2}
    order = an_order(**cells)
    (line,) = read_workbook(some_orders(tmp_path / "w.xlsx", order)).orders
    assert line.shape.kind == "blank"
