"""Arcs are shares of circles, and bends ask of wall and straights what the tables say."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from planner.bends import (
    arc_nm,
    bend_index,
    clamp_straight_nm,
    minimum_wall_factor,
    thinning,
)
from tests.trade import inch


@given(st.integers(1, 10**10), st.integers(1, 180_000))
def test_an_arc_is_its_share_of_the_circle(clr: int, angle: int) -> None:
    whole = arc_nm(clr, 360_000)
    assert arc_nm(clr, angle) == pytest.approx(whole * angle / 360_000, abs=1)


@given(st.integers(10**6, 10**8), st.integers(1, 20))
def test_a_tighter_bend_thins_more_and_asks_for_more_wall(od: int, ods: int) -> None:
    assert thinning(od, ods * od) > thinning(od, (ods + 1) * od)
    tight, easy = minimum_wall_factor(od, ods * od), minimum_wall_factor(od, (ods + 1) * od)
    assert easy is None or tight is None or tight >= easy


def test_a_radius_between_two_rows_takes_the_tighter_one() -> None:
    assert minimum_wall_factor(100, 450) == 1.14
    assert minimum_wall_factor(100, 299) is None


def test_the_bend_index_grows_with_thin_walls_and_tight_radii() -> None:
    usual = bend_index(inch("1-1/2"), inch(".065"), inch("4-1/2"))
    assert usual == pytest.approx(7.69, abs=0.01)
    assert bend_index(inch("1-1/2"), inch(".049"), inch("4-1/2")) > usual
    assert bend_index(inch("1-1/2"), inch(".065"), inch("3")) > usual


def test_the_clamp_needs_two_ods() -> None:
    assert clamp_straight_nm(inch("1-1/2")) == inch("3")
    assert clamp_straight_nm(inch("1-1/2"), 1.5) == inch("2-1/4")
