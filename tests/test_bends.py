"""Developed lengths add up, and bends ask of wall and straights what the tables say."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from planner.bends import (
    arc_nm,
    bend_index,
    clamp_straight_nm,
    developed_nm,
    from_apexes,
    minimum_wall_factor,
    setback_nm,
    thinning,
)
from planner.errors import InputError
from planner.orders import Bend
from tests.trade import inch

legs = st.lists(st.integers(10**9, 10**10), min_size=1, max_size=6)


def test_a_part_without_bends_is_its_straights() -> None:
    assert developed_nm([Bend(straight_nm=7), Bend(straight_nm=5)]) == 12


@given(st.integers(1, 10**10), st.integers(1, 180_000))
def test_an_arc_is_its_share_of_the_circle(clr: int, angle: int) -> None:
    whole = arc_nm(clr, 360_000)
    assert arc_nm(clr, angle) == pytest.approx(whole * angle / 360_000, abs=1)


@given(legs, st.integers(1, 10**8), st.integers(0, 150_000))
def test_apexes_and_straights_describe_one_part(lengths: list[int], clr: int, angle: int) -> None:
    rows = from_apexes(lengths, [(clr, angle)] * (len(lengths) - 1))
    setbacks = 2 * setback_nm(clr, angle) * (len(lengths) - 1)
    assert sum(row.straight_nm for row in rows) == sum(lengths) - setbacks
    assert [row.angle_mdeg for row in rows] == [angle] * (len(lengths) - 1) + [0]


def test_a_leg_too_short_for_its_bends_is_named() -> None:
    with pytest.raises(InputError, match="Leg 2 is shorter"):
        from_apexes([100, 50, 100], [(45, 90_000), (45, 90_000)])


def test_a_half_turn_has_no_apex() -> None:
    with pytest.raises(InputError, match="less than 180 degrees"):
        setback_nm(45, 180_000)


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
