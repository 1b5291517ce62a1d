"""Saddles agree with points sampled around the tube, and what cannot be cut is refused."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from planner.cope import mitre_reach_nm, saddle, short_side_nm
from planner.errors import InputError
from tests.trade import inch

ods = st.integers(10_000_000, 150_000_000)
angles = st.integers(15_000, 165_000)


def saddle_at(branch_od_nm: int, header_od_nm: int, angle_mdeg: int, turn_mdeg: int) -> float:
    """Distance s(φ) in nm from the header's axis to the branch's wall at the turn φ."""
    branch, header = branch_od_nm / 2, header_od_nm / 2
    theta, phi = (math.radians(mdeg / 1000) for mdeg in (angle_mdeg, turn_mdeg))
    root = math.sqrt(header**2 - (branch * math.sin(phi)) ** 2)
    return (root + branch * math.cos(phi) * math.cos(theta)) / math.sin(theta)


@given(ods, ods, angles)
def test_nearest_and_farthest_are_those_of_the_curve(one: int, two: int, angle: int) -> None:
    branch, header = sorted((one, two))
    found = saddle(branch, header, angle)
    around = [saddle_at(branch, header, angle, turn) for turn in range(0, 360_000, 250)]
    assert found.nearest_nm <= min(around) + 1
    # sampled every quarter of a degree, the curve may miss its own lowest point by a hair
    assert found.nearest_nm == pytest.approx(min(around), abs=3e-4 * header)
    assert found.farthest_nm == pytest.approx(max(around), abs=1)
    assert found.depth_nm >= 0


@given(ods, ods, angles)
def test_an_obtuse_angle_is_the_acute_one_from_behind(one: int, two: int, angle: int) -> None:
    branch, header = sorted((one, two))
    assert saddle(branch, header, angle) == saddle(branch, header, 180_000 - angle)


def test_a_branch_wider_than_its_header_is_refused() -> None:
    with pytest.raises(InputError, match=r'A 2" \(50.8 mm\) tube cannot sit on a 1-1/2"'):
        saddle(inch(2), inch("1-1/2"), 90_000)


@pytest.mark.parametrize("angle", [0, 14_999, 170_000, 180_000])
def test_an_angle_too_sharp_is_refused(angle: int) -> None:
    with pytest.raises(InputError, match="too sharp to cut"):
        saddle(inch(1), inch(2), angle)


def test_a_mitre_takes_its_reach_twice_from_the_short_side() -> None:
    assert short_side_nm(inch(48), inch(2), [45_000, 0]) == inch(46)


@pytest.mark.parametrize(("twist", "short"), [(0, "44"), (180_000, "46"), (360_000, "44")])
def test_mitres_on_opposite_sides_take_as_much_as_the_sharper_one(twist: int, short: str) -> None:
    assert short_side_nm(inch(48), inch(2), [45_000, 45_000], twist) == inch(short)


@pytest.mark.parametrize("twist", [0, 40_000, 90_000, 170_000, 250_000])
def test_the_shortest_side_is_the_least_over_all_turns(twist: int) -> None:
    first, second = mitre_reach_nm(inch(2), 45_000), mitre_reach_nm(inch(2), 30_000)
    turns = (math.radians(tenth / 10) for tenth in range(3600))
    most = max(
        first * (1 - math.cos(turn)) + second * (1 - math.cos(turn - math.radians(twist / 1000)))
        for turn in turns
    )
    short = short_side_nm(inch(48), inch(2), [45_000, 30_000], twist)
    assert inch(48) - short == pytest.approx(most, rel=1e-6)


@pytest.mark.parametrize("angle", [-1, 75_001, 90_000])
def test_a_mitre_that_no_saw_reaches_is_refused(angle: int) -> None:
    with pytest.raises(InputError, match="cannot be sawn"):
        mitre_reach_nm(inch(2), angle)
