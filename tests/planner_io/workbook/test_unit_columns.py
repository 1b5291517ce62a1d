"""Units of lengths may stand in a column of their own."""

from __future__ import annotations

from pathlib import Path

import pytest

from planner.orders import Bent, CutLength
from planner.units import parse_length
from planner_io.workbook import Reading
from tests.planner_io.workbook.readings import reading
from tests.planner_io.workbook.sheets import Cell, an_order

LRA = ("Part", "Straight", "Rotation", "Angle", "CLR", "Unit")


def lengths(found: Reading) -> list[int]:
    return [line.shape.length_nm for line in found.orders if isinstance(line.shape, CutLength)]


def nm(*texts: str) -> list[int]:
    return [parse_length(text).nm for text in texts]


def test_each_length_has_the_unit_of_its_row(tmp_path: Path) -> None:
    written: list[tuple[Cell, Cell]] = [
        *((88, "mm"), ("1.05", "m"), ("56", "CM"), (14.5, "in."), ("14 5/8", "mm"), (36, None)),
        *((2, "ft"), ("1210 mm", "in"), (9, "ea")),
    ]
    rows = [an_order(Line=str(n), Length=a, Units=b) for n, (a, b) in enumerate(written, 1)]
    found = reading(tmp_path, *rows)
    meant = ("88 mm", "1.05 m", "56 cm", "14.5", "14-5/8", "36", "2 ft", "1210 mm", "9")
    assert lengths(found) == nm(*meant)
    assert not found.findings
    assert "Orders!K1: unit of Length in K, “Units”" in found.readings
    assert not any("not used" in text for text in found.readings)


@pytest.mark.parametrize("title", ["UoM", "Unit", "in/mm", "Unit of measure"])
def test_a_column_of_units_may_be_called_otherwise(tmp_path: Path, title: str) -> None:
    assert lengths(reading(tmp_path, {**an_order(Length=88), title: "mm"})) == nm("88 mm")


def test_what_is_no_unit_is_refused_with_its_length(tmp_path: Path) -> None:
    rows = [an_order(Line=str(n), Length=9, Units=unit) for n, unit in ((1, "mm"), (2, "furl"))]
    found = reading(tmp_path, *rows)
    (error,) = found.findings
    assert (error.cell, error.read) == ("I3", "9 furl")


def test_a_ditto_mark_that_may_mean_inches_is_refused(tmp_path: Path) -> None:
    units = ("in", '"', "mm", "ditto", '"')
    rows = [an_order(Line=str(n), Length=9, Units=unit) for n, unit in enumerate(units)]
    found = reading(tmp_path, *rows)
    assert [error.cell for error in found.findings] == ["I6"]
    assert lengths(found) == nm("9", "9", "9 mm", "9 mm")


def test_a_column_of_counting_units_is_not_used(tmp_path: Path) -> None:
    found = reading(tmp_path, an_order(Units="ea"))
    assert lengths(found) == nm("36")
    assert any("not used: Units" in text for text in found.readings)


def test_a_unit_right_of_the_od_is_of_the_od_alone(tmp_path: Path) -> None:
    order = an_order(OD=38.1, Unit="mm", Length=36)
    del order["OD"]
    keys = list(order)
    at = keys.index("Wall")
    row: dict[str, Cell] = {**{key: order[key] for key in keys[:at]}, "OD": 38.1, "Unit": "mm"}
    found = reading(tmp_path, {**row, **{key: order[key] for key in keys[at:] if key != "Unit"}})
    assert lengths(found) == nm("36")
    assert [line.spec.od_nm for line in found.orders] == nm("1-1/2")


def test_a_bent_part_has_its_unit_in_all_its_rows(tmp_path: Path) -> None:
    mm: list[list[Cell]] = [["A", 254, 0, 90, 114.3, "mm"], [None, 254, None, None, None, None]]
    inch: list[list[Cell]] = [["B", 10, 0, 90, 4.5, None], ["B", 10, None, None, None, None]]
    orders = [an_order(Line=part, Part=part, Length=None) for part in "AB"]
    found = reading(tmp_path, *orders, Bends=[[*LRA], *mm, *inch])
    one, other = (line.shape for line in found.orders)
    assert isinstance(one, Bent)
    assert one == other


def test_values_of_settings_have_their_unit(tmp_path: Path) -> None:
    settings: list[list[Cell]] = [
        ["Station", "Setting", "Value", "Unit"],
        ["Cold saw", "Kerf", 3.1, "mm"],
        ["Cold saw", "A cut", 25, "s"],
    ]
    found = reading(tmp_path, an_order(), Settings=settings)
    saw = found.shop.station("Cold saw")
    assert (saw.saw.kerf_nm, saw.saw.cut_s) == (3_100_000, 25)


@pytest.mark.parametrize("title", ["UM", "UoM", "U/M", "Qty unit"])
def test_a_column_that_says_what_is_counted_is_for_the_quantity(tmp_path: Path, title: str) -> None:
    units = ("EA", "DZ", "pr", "PC", "FT", "bdl")
    rows = [an_order(Line=str(n), Quantity=2, **{title: unit}) for n, unit in enumerate(units, 1)]
    found = reading(tmp_path, *rows)
    assert [line.quantity for line in found.orders] == [2, 24, 4, 2]
    assert [each.read for each in found.findings] == ["2 ft", "2 bdl"]
    assert lengths(found) == nm(*["36"] * 4)
