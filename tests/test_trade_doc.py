"""The page of trade values says what the program does."""

from __future__ import annotations

from pathlib import Path

import pytest

from planner.abrasives import MOST_RATIO, NON_WOVEN_LEEWAY, NON_WOVEN_P_RANGE, parse_grade
from planner.bends import CLAMP_ODS, MINIMUM_WALL, MOST_BEND_INDEX
from planner.cards import LONG_WHIP_NM
from planner.cautions import CHROMIUM, CLEANING, GUARDS, LOCKOUT, METAL_DUST
from planner.cope import LEAST_ANGLE_MDEG
from planner.errors import InputError
from planner.finisher.geometry import LEAST_GAP_NM
from planner.roughness import SEEN_UIN
from planner.shop import FinisherSettings, House
from planner.shop_checks import FASTEST_BELT_M_MIN, SLOWEST_BELT_M_MIN
from planner.standard_sizes import BWG_NM, PIPES, SCHEDULES, SWG_NM
from planner.tube import DENSITY_KG_M3, Family
from planner.units import (
    NM_PER_INCH,
    format_angle,
    format_inch,
    parse_length,
    parse_od,
    parse_wall,
)

FINISHER = FinisherSettings()


def inches(nm: int) -> int:
    return nm // NM_PER_INCH


def feet(m_min: int) -> int:
    """A speed in feet a minute, to the nearest hundred, as speeds are given."""
    return 100 * round(m_min / 30.48)


PAGE = (Path(__file__).parents[1] / "docs" / "trade.md").read_text(encoding="utf-8")


@pytest.mark.parametrize(
    "words",
    [
        f"BWG {min(BWG_NM)} to {max(BWG_NM)}",
        f"SWG {min(SWG_NM)} to {max(SWG_NM)}",
        f"NPS {PIPES[0].name} to {PIPES[-1].name}, schedules {SCHEDULES[0]} to {SCHEDULES[-1]}",
        f"steel {DENSITY_KG_M3[Family.CARBON] / 1000:.2f}",
        f"stainless {DENSITY_KG_M3[Family.STAINLESS] / 1000:.2f}",
        f"6061 {DENSITY_KG_M3[Family.ALUMINIUM] / 1000:.2f}",
        *(f"{word} P{a}–P{b}" for word, (a, b) in NON_WOVEN_P_RANGE.items()),
        f"more than {MOST_RATIO:g} times smaller ({MOST_RATIO * NON_WOVEN_LEEWAY:g} times to",
        f"P{min(SEEN_UIN)} to P{max(SEEN_UIN)}",
        f"clamp: {CLAMP_ODS:g} ODs",
        f"is over {MOST_BEND_INDEX:g}",
        *(f"{factor:g} ×" for _, factor in MINIMUM_WALL),
        f"below {format_angle(LEAST_ANGLE_MDEG)}",
        f"speeds of abrasive belts and wheels, {feet(SLOWEST_BELT_M_MIN):,} to "
        f"{feet(FASTEST_BELT_M_MIN):,} ft/min",
        f"real feed {FINISHER.slip:g} of",
        f"at least {format_inch(LEAST_GAP_NM, 16)[:-1]} in between belt and rail",
        f"tilt {format_angle(FINISHER.tilt_min_mdeg)} to {format_angle(FINISHER.tilt_max_mdeg)}, "
        f"{format_angle(FINISHER.first_tilt_mdeg)} on a new set-up",
        f"at least {FINISHER.least_overlap:g} turns",
        f"from {inches(FINISHER.short_nm)} in on, carried in one hand up to "
        f"{inches(FINISHER.carry_nm)} in, on stands over {inches(FINISHER.stands_over_nm)} in, "
        f"with two people over {inches(FINISHER.two_people_over_nm) // 12} ft",
        f"whips from {inches(LONG_WHIP_NM)} in on",
        f"1/{House().denominator} in unless set otherwise",
        *(GUARDS, LOCKOUT.removeprefix("29 CFR "), CHROMIUM.removeprefix("29 CFR ")),
        *(METAL_DUST, CLEANING),
    ],
)
def test_the_page_names_the_value(words: str) -> None:
    assert words in PAGE


def test_the_page_shows_readings_that_are_true() -> None:
    for text in ("1-1/2", "1 1/2", "1½", "1.5", "1,5"):
        assert f"`{text}`" in PAGE
        assert parse_length(text).nm == 38_100_000
    assert len({parse_length(t).nm for t in ("12' 3-1/4\"", "12 ft 3-1/4 in", "12′ 3¼″")}) == 1
    assert len({parse_length(t).nm for t in ("3734 mm", "373.4 cm", "3.734 m")}) == 1
    assert parse_length("1-1/2", default="mm").nm == parse_length("1.1/2").nm == 38_100_000
    pipes = ("1-1/4 sch 40", "NPS 1.25 SCH 40", "DN 32 sch 40", "32 NB sch 40", "1-1/4 std")
    assert all(f"`{text}`" in PAGE for text in pipes)
    assert len({parse_od(text) for text in pipes}) == 1
    for text in ("1-1/2 x .065", "1-1/2 16 ga", "1-1/2 OD .065 wall"):
        assert f"`{text}`" in PAGE
        assert parse_od(text).wall_nm == 1_651_000
    assert parse_wall("16 SWG").nm == 1_625_600
    assert parse_length("1-1/3").note
    assert parse_wall("16 ga").note
    assert parse_grade("120").note
    with pytest.raises(InputError):
        parse_length("1,234")
