"""Grades of different systems are read and compared on one scale."""

from __future__ import annotations

import contextlib

import pytest
from hypothesis import given
from hypothesis import strategies as st

from planner.abrasives import (
    CAMI_MICRON,
    FEPA_P_MICRON,
    NON_WOVEN_MICRON,
    Grade,
    System,
    parse_grade,
)
from planner.errors import InputError


def grade(text: str) -> Grade:
    return parse_grade(text).grade


def grades(*texts: str) -> list[Grade]:
    return [grade(text) for text in texts]


@pytest.mark.parametrize("text", ["P120", "p120", "P 120", "FEPA P120", "FEPA 120", "120 FEPA P"])
def test_fepa_in_many_hands(text: str) -> None:
    reading = parse_grade(text)
    assert reading.grade == Grade(system=System.FEPA_P, label="P120", micron=125)
    assert reading.literal


@pytest.mark.parametrize(
    "text", ["120 CAMI", "CAMI 120", "120 (CAMI)", "ANSI 120", "cami 120 grit"]
)
def test_cami_in_many_hands(text: str) -> None:
    assert grade(text) == Grade(system=System.CAMI, label="120 CAMI", micron=116)


@pytest.mark.parametrize("value", [120, 120.0, "120", "#120", "120 grit"])
def test_a_bare_number_belongs_to_the_shops_system(value: object) -> None:
    reading = parse_grade(value)
    assert (reading.grade.label, reading.literal, reading.note) == (
        *("P120", False, "120 read as P120"),
    )
    assert parse_grade(value, bare=System.CAMI).grade.label == "120 CAMI"


@pytest.mark.parametrize(
    ("text", "label"),
    [
        ("non-woven fine", "non-woven fine"),
        ("NW very fine", "non-woven very fine"),
        ("nonwoven medium", "non-woven medium"),
        ("coarse non-woven", "non-woven coarse"),
        ("NW VF", "non-woven very fine"),
    ],
)
def test_non_woven_in_many_hands(text: str, label: str) -> None:
    reading = parse_grade(text)
    assert reading.grade.label == label
    assert "common practice" in reading.note


def test_the_size_of_a_non_woven_is_the_shops_to_set() -> None:
    assert parse_grade("NW fine", non_woven={"fine": 70.0}).grade.micron == 70


@pytest.mark.parametrize(
    "value",
    ["P123", "601 CAMI", "NW super", "P120 CAMI", "fine", "", None, True, 1.5, [], "P" * 99, -80],
)
def test_what_is_no_grade_is_refused(value: object) -> None:
    with pytest.raises(InputError, match="expected a grade such as P120"):
        parse_grade(value)


@given(st.text(max_size=70) | st.integers() | st.floats())
def test_no_cell_raises_anything_else(value: object) -> None:
    with contextlib.suppress(InputError):
        parse_grade(value)


def test_every_label_reads_back_as_its_grade() -> None:
    labels = [f"P{n}" for n in FEPA_P_MICRON] + [f"{n} CAMI" for n in CAMI_MICRON]
    for label in (*labels, *(f"non-woven {word}" for word in NON_WOVEN_MICRON)):
        assert grade(label).label == label


def test_grades_are_ordered_by_size_not_by_number() -> None:
    sizes = [grade(label).micron for label in ("P320", "320 CAMI", "P400", "P500")]
    assert sizes[0] > sizes[1] == sizes[2] > sizes[3]
