"""Tilt and feed both ways, overlap, and the tilt that is suggested."""

from dataclasses import replace
from math import pi, radians, tan

import pytest
from hypothesis import given
from hypothesis import strategies as st

from planner.errors import InputError
from planner.finisher.feed import (
    Drive,
    FeedLimits,
    Hand,
    at_tilt,
    feed_mm_min,
    suggest_feed,
    tilt_mdeg,
    turns_under_belt,
)
from tests.finisher.builders import inch

DRIVE = Drive(brake_nm=inch(10), brake_rpm=30, slip=0.9)
LIMITS = FeedLimits(least_turns=3, feed_min_mm_min=600, feed_max_mm_min=6000)


@given(st.floats(100, 80_000), st.floats(1, 500), st.floats(0.3, 1.2))
def test_tilt_to_feed_and_back(tilt: float, rpm: float, slip: float) -> None:
    drive = Drive(inch(10), rpm, slip)
    assert tilt_mdeg(drive, feed_mm_min(drive, tilt)) == pytest.approx(tilt, rel=1e-6)


@given(st.integers(100, 45_000), st.integers(inch(0.5), inch(4)))
def test_turns_under_the_belt_are_the_tubes_turns_while_it_passes(tilt: int, od: int) -> None:
    setting = at_tilt(DRIVE, od, inch(4), tilt)
    minutes = inch(4) / 1e6 / setting.feed_mm_min
    assert setting.turns == pytest.approx(minutes * setting.tube_rpm)
    assert setting.turns == turns_under_belt(inch(4), od, tilt)


def test_no_tilt_gives_more_than_the_brake_wheels_own_speed() -> None:
    surface_mm_min = feed_mm_min(DRIVE, 90_000)
    for feed in (1.01 * surface_mm_min, -1.5 * surface_mm_min, 1e6):
        with pytest.raises(InputError, match="No tilt feeds"):
            tilt_mdeg(DRIVE, feed)
    assert tilt_mdeg(DRIVE, 0.5 * surface_mm_min) == pytest.approx(30_000)


def test_a_level_brake_wheel_does_not_feed() -> None:
    setting = at_tilt(DRIVE, inch(1.5), inch(4), 0)
    assert (setting.feed_mm_min, setting.turns) == (0, float("inf"))


@pytest.mark.parametrize(
    ("limits", "because"),
    [
        (LIMITS, "the largest tilt"),
        (FeedLimits(8, 600, 6000), "the least overlap"),
        (FeedLimits(3, 600, 1500), "the largest feed"),
        (FeedLimits(3, 600, 6000, gentle_mdeg=5000), "a gentle first setting"),
    ],
)
def test_the_suggested_tilt_names_what_limits_it_and_keeps_everything_else(
    limits: FeedLimits, because: str
) -> None:
    setting = suggest_feed(DRIVE, inch(1.5), inch(4), limits)
    assert setting.because == because
    assert setting.turns >= limits.least_turns
    assert setting.feed_mm_min <= limits.feed_max_mm_min
    assert setting.tilt_mdeg % 500 == 0
    larger = at_tilt(DRIVE, inch(1.5), inch(4), setting.tilt_mdeg + 500)
    assert (
        larger.turns < limits.least_turns
        or larger.feed_mm_min > limits.feed_max_mm_min
        or larger.tilt_mdeg > min(limits.tilt_max_mdeg, limits.gentle_mdeg or 10**9)
    )


def test_a_tube_may_advance_by_more_than_the_belt_in_a_turn() -> None:
    # At 45° a tube of 4 in advances by its circumference, 12.6 in, under a belt of 4 in.
    setting = at_tilt(DRIVE, inch(4), inch(4), 45_000)
    assert setting.turns == pytest.approx(1 / pi)


def test_a_feed_and_a_tilt_just_at_the_shops_least_are_no_finding() -> None:
    for hand in Hand:
        plain = suggest_feed(DRIVE, inch(1.5), inch(4), LIMITS, hand)
        least = replace(LIMITS, feed_min_mm_min=plain.feed_mm_min, tilt_min_mdeg=10_000)
        assert abs(plain.tilt_mdeg) == 10_000
        assert suggest_feed(DRIVE, inch(1.5), inch(4), least, hand).findings == ()


def test_a_tilt_finer_than_the_gauge_is_still_a_tilt() -> None:
    setting = suggest_feed(DRIVE, inch(4), inch(2), FeedLimits(30, 0, 6000))
    assert 0 < setting.tilt_mdeg < 500


def test_a_feed_or_tilt_below_the_shops_least_is_warned_of() -> None:
    setting = suggest_feed(DRIVE, inch(4), inch(2), FeedLimits(10, 600, 6000, tilt_min_mdeg=2000))
    assert ["below the shop's least" in f.message for f in setting.findings] == [True, False]
    # C: the tilt for ten turns is atan(2 / (10·π·4)), 0.91°, on a gauge of half degrees 0.5°.
    assert "The tilt is 0.5°, below the usual 2.0°" in setting.findings[1].message


def test_the_least_overlap_is_kept_to_the_last_hundredth_of_a_degree() -> None:
    # C: π·OD·tan α advances the tube; at 4.998° a belt of that width makes just one turn, so 5.0°
    # would be too much and the gauge goes back to 4.5°.
    for degrees, shown in ((4.998, 4_500), (5.0, 5_000)):
        width_nm = round(pi * inch(1.5) * tan(radians(degrees)))
        setting = suggest_feed(DRIVE, inch(1.5), width_nm, FeedLimits(1, 0, 1e9))
        assert (setting.tilt_mdeg, setting.because) == (shown, "the least overlap")


def test_feeding_from_the_left_mirrors_the_tilt() -> None:
    right = suggest_feed(DRIVE, inch(1.5), inch(4), LIMITS, Hand.RIGHT)
    left = suggest_feed(DRIVE, inch(1.5), inch(4), LIMITS, Hand.LEFT)
    assert left.tilt_mdeg == -right.tilt_mdeg
    assert left.feed_mm_min == right.feed_mm_min
