"""Angles are read in degrees and kept in thousandths of one."""

from __future__ import annotations

import contextlib

import pytest
from hypothesis import given
from hypothesis import strategies as st

from planner.errors import InputError
from planner.units import format_angle, parse_angle


@pytest.mark.parametrize("value", [45, 45.0, "45", "45°", "45 deg", "45 degrees", "45º", " 45.0 "])
def test_forty_five_degrees_in_many_hands(value: object) -> None:
    assert parse_angle(value) == 45_000


def test_fractions_of_a_degree_are_kept() -> None:
    assert [parse_angle(v) for v in ("22.5", "22 1/2°", "22,5", 0, 180)] == [
        *(22_500, 22_500, 22_500, 0, 180_000)
    ]


@pytest.mark.parametrize(
    "value", [-1, 181, "181", "-5", "x", "", None, True, float("nan"), "1,234"]
)
def test_what_is_no_angle_is_refused(value: object) -> None:
    with pytest.raises(InputError, match="expected an angle from 0 to 180"):
        parse_angle(value)


@given(st.integers(0, 180_000))
def test_an_angle_survives_being_printed_and_read(mdeg: int) -> None:
    assert parse_angle(format_angle(mdeg)) == mdeg


def test_a_negative_angle_is_printed_with_its_sign() -> None:
    assert format_angle(-500) == "-0.5°"


@given(st.text(max_size=70))
def test_no_text_raises_anything_else(text: str) -> None:
    with contextlib.suppress(InputError):
        assert 0 <= parse_angle(text) <= 180_000
