"""Feet and inches may stand in two columns side by side."""

from __future__ import annotations

from pathlib import Path

import pytest

from planner.orders import CutLength
from planner.units import parse_length
from planner_io.workbook import Reading, read_workbook
from tests.planner_io.workbook.readings import reading
from tests.planner_io.workbook.sheets import Cell, an_order, some_orders


def an_order_of(feet: str, inches: str, written: tuple[Cell, Cell]) -> dict[str, Cell]:
    """An order with its length in two columns of these names."""
    rest = {key: value for key, value in an_order().items() if key != "Length"}
    return {**rest, feet: written[0], inches: written[1]}


def lengths(found: Reading) -> list[int]:
    return [line.shape.length_nm for line in found.orders if isinstance(line.shape, CutLength)]


@pytest.mark.parametrize(
    ("feet", "inches"),
    [("Length (ft)", "Inches"), ("Ft", "In."), ("Length ft", "Length in"), ("Feet", "Inches")],
)
@pytest.mark.parametrize(
    ("written", "length"),
    [
        ((1, 10.5), "22.5"),
        (("5", "2-3/8"), "62-3/8"),
        ((2, None), "24"),
        ((None, 9), "9"),
        ((0, "7 1/2"), "7.5"),
        (("5' 2\"", None), "62"),
        ((None, '6"'), "6"),
    ],
)
def test_inches_are_added_to_the_feet_beside_them(
    tmp_path: Path, feet: str, inches: str, written: tuple[Cell, Cell], length: str
) -> None:
    other = {**an_order_of(feet, inches, (3, 1)), "Line": "2"}
    found = reading(tmp_path, an_order_of(feet, inches, written), other)
    assert lengths(found) == [parse_length(length).nm, parse_length("37").nm]
    assert not found.findings
    assert f"Orders!K1: inches of the feet in J, “{feet}”" in found.readings
    assert not any("not used" in text or "both mean" in text for text in found.readings)


def test_one_length_in_two_units_is_not_added(tmp_path: Path) -> None:
    rows = [
        {**an_order_of("Length (ft)", "Length (in)", (feet, 12 * feet)), "Line": str(feet)}
        for feet in (2, 4)
    ]
    assert lengths(reading(tmp_path, *rows)) == [parse_length(text).nm for text in ("24", "48")]


def test_what_cannot_be_read_is_told_at_the_feet(tmp_path: Path) -> None:
    found = reading(tmp_path, an_order_of("Length (ft)", "Inches", (1.5, 6)))
    (error,) = (each for each in found.findings if each.cell == "J2")
    assert '"1.5 ft 6 in"' in error.message


def test_a_header_in_inches_without_feet_beside_it_stays(tmp_path: Path) -> None:
    row = {**an_order(), "Inches": 3}
    found = reading(tmp_path, row)
    assert lengths(found) == [parse_length("36").nm]
    assert any("not used: Inches" in text for text in found.readings)


def test_inches_below_zero_are_not_taken_for_a_dash_before_them(tmp_path: Path) -> None:
    found = reading(tmp_path, an_order_of("Feet", "Inches", (8, "-1/4")))
    assert not found.orders
    assert [(each.cell, "-1/4" in each.message) for each in found.findings] == [("J2", True)]


def test_feet_and_inches_may_have_headers_with_underscores(tmp_path: Path) -> None:
    row = {key: cell for key, cell in an_order().items() if key != "Length"}
    cells = {"LGTH_FT": "10", "LGTH_IN": "6 1/2"}
    (line,) = read_workbook(some_orders(tmp_path / "w.xlsx", {**row, **cells})).orders
    assert line.shape == CutLength(length_nm=3_213_100_000)


def test_a_length_in_feet_by_a_header_with_an_underscore_alone(tmp_path: Path) -> None:
    row = {key: cell for key, cell in an_order().items() if key != "Length"}
    (line,) = read_workbook(some_orders(tmp_path / "w.xlsx", {**row, "LGTH_FT": "10"})).orders
    assert line.shape == CutLength(length_nm=3_048_000_000)


@pytest.mark.parametrize("header", ["Length (ft-in)", "Length, feet-inches", "Cut length ft in"])
@pytest.mark.parametrize(
    ("cell", "inches"),
    [("5-6", 66), ("5-6-1/2", 66.5), ("5-6 1/2", 66.5), ("5' 6", 66), ('66"', 66), (66, 66)],
)
def test_a_header_of_feet_and_inches_says_what_a_dash_parts(
    tmp_path: Path, header: str, cell: Cell, inches: float
) -> None:
    order = {header if key == "Length" else key: value for key, value in an_order().items()}
    (line,) = read_workbook(some_orders(tmp_path / "w.xlsx", {**order, header: cell})).orders
    assert line.shape == CutLength(length_nm=round(inches * 25_400_000))


@pytest.mark.parametrize("cell", [5.6, 6, "5.6", "20.5", "5-13"])
def test_a_number_alone_below_feet_and_inches_is_asked_about(tmp_path: Path, cell: Cell) -> None:
    order = {key: value for key, value in an_order().items() if key != "Length"}
    row = {**order, "Length (ft-in)": cell}
    found = read_workbook(some_orders(tmp_path / "w.xlsx", row))
    assert found.orders == ()
    assert found.findings[0].expected == 'a length with its marks, such as 5\' 6-1/2" or 66-1/2"'
