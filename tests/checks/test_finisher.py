"""The finisher against values from outside: textbook feeds, trade facts, handbook circles.

Tags: P published source, M from memory of the source named, C computed from the formula in
the source, T common practice of the trade.
"""

from math import asin, degrees, pi, radians, sqrt, tan

import pytest

from planner.finisher.feed import (
    Drive,
    FeedLimits,
    Hand,
    at_tilt,
    feed_mm_min,
    pitch_nm,
    suggest_feed,
    tilt_mdeg,
    turns_under_belt,
)
from planner.finisher.geometry import Rest, meet
from planner.finisher.set_up import solve
from planner.finisher.suggest import suggest_set_up, thickest_rail_nm
from planner.shop import Wheels
from planner.shop_checks import check_shop
from planner_io.starter import starter_shop
from tests.finisher.balance import balance
from tests.finisher.builders import a_belt, a_machine, a_problem, inch

FT = 304.8


@pytest.mark.parametrize(
    ("diameter_mm", "rpm", "tilt", "mm_min"),
    [
        # M, C: Groover, Fundamentals of Modern Manufacturing, end-of-chapter problem, §24.1.4
        (125, 200, 2.5, 3425.9),
        # C: the same formula with inch wheels, results in ft/min
        (304.8, 30, 3, 4.933 * FT),
        (304.8, 40, 5, 10.952 * FT),
        # C: f = π·D·N·sin α at the angles whose sines every table gives
        (100, 10, 30, 500 * pi),
        (254, 30, 90, 254 * 30 * pi),
        (254, 30, 0, 0),
    ],
)
def test_textbook_feeds(diameter_mm: float, rpm: float, tilt: float, mm_min: float) -> None:
    drive = Drive(round(diameter_mm * 1e6), rpm)
    assert feed_mm_min(drive, tilt * 1000) == pytest.approx(mm_min, rel=1e-4)


def test_textbook_feed_in_feet_and_parts_a_minute() -> None:
    # M, C: Groover, the same problem: 11.24 ft/min and 19.58 parts of 175 mm end to end
    feed = feed_mm_min(Drive(125_000_000, 200), 2500)
    assert feed / FT == pytest.approx(11.24, rel=5e-4)
    assert feed / 175 == pytest.approx(19.58, rel=5e-4)


def test_textbook_tilt_for_a_bar_in_half_a_minute() -> None:
    # M, C: Groover, end of chapter: D 150 mm, N 500 rpm, 3.5 m in 30 s
    assert tilt_mdeg(Drive(150_000_000, 500), 7000) == pytest.approx(1702, rel=3e-4)


@pytest.mark.parametrize("slip", [0.94, 0.98])
def test_slip_scales_the_feed(slip: float) -> None:
    # M, weak: precision centreless work runs at 0.94 to 0.98 of the formula
    full, real = (feed_mm_min(Drive(125_000_000, 200, s), 2500) for s in (1, slip))
    assert real == pytest.approx(slip * full)


@pytest.mark.parametrize(
    ("od_in", "tilt", "pitch_in"),
    [
        # C: a helix of lead π·OD·tan α, at the angles whose tangents are exact
        (1, 45, pi),
        (2, 45, 2 * pi),
        (1, 30, pi / sqrt(3)),
        (1, 60, pi * sqrt(3)),
    ],
)
def test_pitch_is_the_lead_of_a_helix(od_in: float, tilt: float, pitch_in: float) -> None:
    assert pitch_nm(inch(od_in), tilt * 1000) == pytest.approx(inch(pitch_in), rel=1e-6)


@pytest.mark.parametrize(
    ("width_in", "od_in", "tilt"), [(4, 1.5, 5), (4, 1.5, 10), (6, 2, 7), (2, 0.75, 5)]
)
def test_turns_under_the_belt(width_in: float, od_in: float, tilt: float) -> None:
    # C: belt width ÷ (π·OD·tan tilt)
    expected = width_in / (pi * od_in * tan(radians(tilt)))
    assert turns_under_belt(inch(width_in), inch(od_in), tilt * 1000) == pytest.approx(expected)


@pytest.mark.parametrize(("least", "most"), [(4000, 6000), (2500, 5500)])
def test_no_belt_speed_in_the_published_ranges_is_doubted(least: int, most: int) -> None:
    # P: Groover §24.1.4, speeds of abrasive belts and of wheels in ft/min
    def doubted(ft_min: float) -> bool:
        wheels = Wheels(
            station="Finisher",
            contact_nm=inch(14),
            brake_nm=inch(6),
            brake_rpm=60,
            belt_speed_m_min=ft_min * 0.3048,
        )
        found = check_shop(starter_shop().model_copy(update={"wheels": (wheels,)}))
        return any(finding.sheet == "Wheels" for finding in found)

    assert not doubted(least)
    assert not doubted(most)
    assert doubted(least / 60)  # feet a second
    assert doubted(most / 0.3048)  # feet a minute where metres are asked for


@pytest.mark.parametrize("od", [0.75, 0.84, 1.0, 1.25, 1.5, 1.66, 1.9, 2.0, 2.375, 3.0])
def test_a_quarter_of_the_od_both_ways(od: float) -> None:
    # T: rail front and tube centre a quarter of the OD from belt face and line of centres
    value = suggest_set_up(a_problem(od=od, rail=1 / 16)).result.value
    assert value is not None
    assert value.rail_front_nm == pytest.approx(inch(od / 4), abs=inch(1 / 64))
    assert value.drop_nm == pytest.approx(inch(od / 4), abs=inch(1 / 64))


def test_inch_and_a_half_on_a_quarter_inch_rail() -> None:
    # T: 3/8 in from the belt face, which leaves a 1/8 in gap
    value = suggest_set_up(a_problem(od=1.5, rail=1 / 4)).result.value
    assert value is not None
    assert (value.rail_front_nm, value.gap_nm) == (inch(3 / 8), inch(1 / 8))


@pytest.mark.parametrize(
    ("od", "rail", "gap"),
    [
        # T: no gap is left once the OD is 4 × the rail's thickness or less
        (1.0, 1 / 4, False),
        (0.75, 1 / 4, False),
        (0.5, 1 / 8, False),
        (1.0, 7 / 32, True),
        (0.75, 5 / 32, True),
        (0.5, 3 / 32, True),
    ],
)
def test_no_gap_when_the_od_is_four_rails_or_less(od: float, rail: float, gap: bool) -> None:
    result = suggest_set_up(a_problem(od=od, rail=rail)).result
    assert any("leaves no gap" in f.message for f in result.findings) is not gap
    assert (thickest_rail_nm(inch(od), 0) > inch(rail)) is gap


@pytest.mark.parametrize("od", [0.75, 1, 1.5, 2, 3, 4])
def test_tilt_is_five_degrees_to_begin_with_and_ten_at_most(od: float) -> None:
    # T: tilt usually 5 to 10°, gentle first
    drive = Drive(inch(10), 30)
    gentle = FeedLimits(1, 0, 1e9, gentle_mdeg=5000)
    assert suggest_feed(drive, inch(od), inch(6), gentle).tilt_mdeg == 5000
    assert suggest_feed(drive, inch(od), inch(6), FeedLimits(1, 0, 1e9)).tilt_mdeg == 10_000


def test_tube_from_the_left_has_the_tilt_mirrored() -> None:
    # T
    assert Hand.LEFT.signed(5000) == -Hand.RIGHT.signed(5000)


def test_a_flat_belt_face_gives_the_angle_whose_sine_is_a_half() -> None:
    # C: far from the line of a huge wheel the belt is flat, the rail edge is OD/4 left of the
    # tube's centre, so the rest force leans asin(1/2) = 30° towards the belt
    value = solve(a_problem(od=1.5, machine=a_machine(contact=1e5))).value
    assert value is not None
    assert value.rest_lean_mdeg == pytest.approx(30_000, abs=20)
    assert value.rest is Rest.FRONT_EDGE


@pytest.mark.parametrize(("contact", "brake"), [(12, 12), (14, 10), (8, 16)])
def test_the_hold_down_angle_is_the_sine_of_the_drop_over_both_radii(
    contact: float, brake: float
) -> None:
    # C: Descartes' circles in contact, centre distance is the sum of the radii
    od, belt = 2.0, 0.05
    value = solve(a_problem(od=od, machine=a_machine(contact, brake), belt=a_belt(belt))).value
    assert value is not None
    belt_side = degrees(asin(od / 4 / (contact / 2 + belt + od / 2)))
    brake_side = degrees(asin(od / 4 / (brake / 2 + od / 2)))
    assert value.belt_hold_mdeg == pytest.approx(belt_side * 1000, abs=1)
    assert value.brake_hold_mdeg == pytest.approx(brake_side * 1000, abs=1)


def test_circles_of_a_right_triangle_meet_where_pythagoras_says() -> None:
    # C: sides of 3, 4 and 5, area 6, so the height over 5 is 2.4
    assert meet((0, 0), 3, (5, 0), 4) == [
        pytest.approx((1.8, -2.4)),
        pytest.approx((1.8, 2.4)),
    ]
    assert meet((0, 0), 1, (5, 0), 1) == []


def test_on_the_line_of_centres_the_wheel_gap_is_the_od() -> None:
    # C: with no drop the three centres are on one line
    value = solve(a_problem(od=1.5, drop=0)).value
    assert value is not None
    assert value.wheel_gap_nm == inch(1.5)


def test_equal_wheels_and_a_rail_below_the_centre_share_the_push_evenly() -> None:
    # C: Lami's theorem for three forces; a mirror image loads both sides alike
    value = solve(a_problem(od=2, front=1.3, drop=0.5, rail=0.7, machine=a_machine(12, 12.1))).value
    assert value is not None
    assert value.rest is Rest.TOP
    assert balance(value).belt == pytest.approx(1, abs=1e-4)


def test_a_pass_overlaps_itself() -> None:
    # C: at 5° a 1-1/2 in tube under a 4 in belt advances π·1.5·tan 5° = .4123 in a turn
    setting = at_tilt(Drive(inch(10), 30), inch(1.5), inch(4), 5000)
    assert pitch_nm(inch(1.5), setting.tilt_mdeg) == pytest.approx(inch(0.41228), rel=1e-4)
    assert setting.turns == pytest.approx(9.702, rel=1e-4)
