"""Lengths that may go the other way, such as a brake wheel mounted lower."""

import pytest

from planner.errors import InputError
from planner.shop import Wheels
from planner.units import Unit
from planner_io.workbook.cells import offset
from planner_io.workbook.columns import Column, Kind
from planner_io.workbook.show import show
from planner_io.workbook.tooling_sheets import WHEELS

RISE: Column = WHEELS.column("brake_rise_nm")


@pytest.mark.parametrize(
    ("value", "house", "nm"),
    [
        ("-1/4", "inch", -6_350_000),
        ("− 1/4 in", "mm", -6_350_000),
        ("+3 mm", "inch", 3_000_000),
        (-2.5, "mm", -2_500_000),
        (0, "inch", 0),
        ("0", "inch", 0),
    ],
)
def test_a_minus_means_the_other_way(value: str | float, house: Unit, nm: int) -> None:
    assert offset(value, "", house).value == nm


@pytest.mark.parametrize("value", ["-", "--3", "-high", True])
def test_what_is_no_length_is_refused(value: str | bool) -> None:
    with pytest.raises(InputError):
        offset(value, "", "inch")


@pytest.mark.parametrize("nm", [-6_350_000, 0, 2_400_000])
def test_an_offset_is_shown_as_it_is_read(nm: int) -> None:
    assert RISE.kind is Kind.OFFSET
    shown = show(nm, RISE, "inch")
    assert isinstance(shown, str)
    assert offset(shown, "", "inch").value == nm


def test_the_brake_wheel_is_level_unless_the_sheet_says_otherwise() -> None:
    wheels = Wheels(station="Finisher", contact_nm=1, brake_nm=1, brake_rpm=30)
    assert wheels.brake_rise_nm == 0
