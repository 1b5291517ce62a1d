"""Durations are read in the ways that people write them."""

from __future__ import annotations

import contextlib
import datetime as dt

import pytest
from hypothesis import given
from hypothesis import strategies as st

from planner.errors import InputError
from planner.units import parse_seconds

HALF_PAST_ONE = dt.time(1, 30)


@pytest.mark.parametrize(
    "value",
    [
        *(
            "1 h 30",
            "90 min",
            90,
            90.0,
            "1:30",
            "1h30",
            "1.5 h",
            "1 1/2 hours",
            "1 hr 30 min",
            "90",
        ),
        *("5400 s", "1:30:00", HALF_PAST_ONE, dt.timedelta(minutes=90), "90 minutes", "90'"),
    ],
)
def test_an_hour_and_a_half_in_many_hands(value: object) -> None:
    assert parse_seconds(value) == 5400


def test_parts_of_a_minute_count() -> None:
    assert parse_seconds("1.5 min") == 90
    assert parse_seconds("20 s") == parse_seconds('20"') == 20
    assert parse_seconds("1:30:30") == 5430
    assert parse_seconds(0) == 0


@pytest.mark.parametrize(
    "value",
    [
        *("", "x", "-5", -5, "1:75", "1 h h", "1 h 2 h", None, True, "100001", 1e9, "1,234 min"),
        *("9" * 70, float("inf"), dt.timedelta(-1), dt.date(2027, 1, 1), "1 h x"),
    ],
)
def test_what_is_no_duration_is_refused(value: object) -> None:
    with pytest.raises(InputError, match="expected a time such as"):
        parse_seconds(value)


@given(st.text(max_size=70) | st.text(alphabet="0123456789 :.hmins", max_size=12))
def test_no_text_raises_anything_else(text: str) -> None:
    with contextlib.suppress(InputError):
        assert parse_seconds(text) >= 0
