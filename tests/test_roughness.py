"""Finer belts leave less, and only promises far from the usual are doubted."""

from __future__ import annotations

from itertools import pairwise

import pytest

from planner.abrasives import parse_grade
from planner.roughness import SEEN_UIN, doubt, usual_roughness_uin


def usual(text: str) -> tuple[int, int] | None:
    return usual_roughness_uin(parse_grade(text).grade)


def test_a_finer_belt_leaves_less() -> None:
    ranges = [usual(f"P{number}") for number in SEEN_UIN]
    for coarse, fine in pairwise(ranges):
        assert coarse
        assert fine
        assert coarse[0] > fine[1]


def test_a_grade_between_two_lies_between_them() -> None:
    assert usual("P100") == (61, 61)
    assert usual("240 CAMI") == (12, 15)


def test_nothing_is_said_beyond_what_was_seen() -> None:
    assert usual("P60") is usual("P400") is usual("NW fine") is None
    assert doubt(parse_grade("P60").grade, None, 1) == ""


@pytest.mark.parametrize(
    ("low", "high", "word"),
    [(None, 12, "finer"), (90, None, "coarser"), (20, 50, ""), (None, 15, ""), (None, None, "")],
)
def test_only_a_promise_far_from_the_usual_is_doubted(
    low: float | None, high: float | None, word: str
) -> None:
    text = doubt(parse_grade("P180").grade, low, high)
    assert (word in text) if word else text == ""
