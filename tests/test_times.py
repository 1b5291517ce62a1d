"""Times: seconds by the shop's settings, whole minutes in the plan."""

from math import pi, radians, sin

import pytest

from planner.errors import InputError
from planner.orders import Step
from planner.records import Blank, Piece, Stick
from planner.shop import FinisherSettings, GoodSetting, SawSettings, Station, StationKind
from planner.times import (
    bend_s,
    feed_setting,
    finisher_people,
    pass_s,
    passes,
    planned_minutes,
    proven_tilt_mdeg,
    saw_s,
    travel_nm,
    whole_minutes,
)
from planner.tube import Surface
from tests.trade import a_line, a_recipe, a_spec, inch, stations
from tests.week import MONDAY, a_week_shop

SHOP = a_week_shop()
FINISHER = SHOP.station("Finisher")
BELT = SHOP.belts[0]
STEP = SHOP.recipe("satin").steps[0]
SPEC = a_spec("1-1/2")


@pytest.mark.parametrize(("seconds", "minutes"), [(0, 1), (60, 1), (60.1, 2), (119, 2)])
def test_minutes_are_rounded_up_and_never_none(seconds: float, minutes: int) -> None:
    assert whole_minutes(seconds) == minutes


def test_the_pace_of_a_station_adds_no_minute_by_rounding() -> None:
    # 750 s × 0.56 are 7 minutes, but a little more as binary floating-point numbers.
    quick = FINISHER.model_copy(update={"pace": 0.56})
    assert 750 * 0.56 > 7 * 60
    assert planned_minutes(quick, 750) == 7
    assert planned_minutes(quick, 751) == 8


def test_a_stick_travels_its_length_and_a_third_of_the_belt() -> None:
    # Common practice: laid in a third of the width in, taken out when two thirds across.
    assert travel_nm(FINISHER, BELT, inch("240")) == inch("240") + BELT.width_nm // 3


def test_sticks_end_to_end_travel_their_length_alone() -> None:
    continuous = FINISHER.model_copy(update={"finisher": FinisherSettings(continuous=True)})
    assert travel_nm(continuous, BELT, inch("240")) == inch("240")


def test_a_pass_takes_travel_over_feed_and_handling() -> None:
    # f = π·D·N·sin α × slip: Groover, Fundamentals of Modern Manufacturing, §24.1.4.
    setting = feed_setting(SHOP, FINISHER, BELT, STEP, inch("1-1/2"))
    feed_in_s = pi * 6 * 60 * sin(radians(setting.tilt_mdeg / 1000)) * 0.9 / 60
    travel_in = 240 + 4 / 3
    expected = 3 * (travel_in / feed_in_s + FINISHER.finisher.handling_s)
    assert pass_s(SHOP, FINISHER, BELT, STEP, SPEC, [inch("240")] * 3) == pytest.approx(
        expected, rel=1e-6
    )


def test_short_pieces_are_handled_faster() -> None:
    short, long = inch("30"), inch("90")
    one = pass_s(SHOP, FINISHER, BELT, STEP, SPEC, [short])
    two = pass_s(SHOP, FINISHER, BELT, STEP, SPEC, [long])
    feed_s = (long - short) / (
        feed_setting(SHOP, FINISHER, BELT, STEP, inch("1-1/2")).feed_mm_min * 1e6 / 60
    )
    gain = FINISHER.finisher.handling_s - FINISHER.finisher.short_handling_s
    assert two - one - feed_s == pytest.approx(gain)


def test_a_piece_just_as_long_as_is_carried_in_one_hand_is_a_short_one() -> None:
    carried = FINISHER.finisher.carry_nm
    one = pass_s(SHOP, FINISHER, BELT, STEP, SPEC, [carried])
    two = pass_s(SHOP, FINISHER, BELT, STEP, SPEC, [carried + 1])
    gain = FINISHER.finisher.handling_s - FINISHER.finisher.short_handling_s
    assert two - one == pytest.approx(gain)


def test_the_tilt_begins_gentle_or_with_the_largest_logged_as_good_for_the_od() -> None:
    logged = [
        GoodSetting(od_nm=inch(od), wall_nm=inch(".065"), spring="", tilt_mdeg=tilt, day=MONDAY)
        for od, tilt in (("1-1/2", 7_000), ("1-1/2", 6_000), ("2", 8_000), ("1", 3_000))
    ]
    shop = a_week_shop(good=tuple(logged))
    first = FINISHER.finisher.first_tilt_mdeg
    proven = [proven_tilt_mdeg(shop, FINISHER, inch(od)) for od in ("1-1/2", "2", "1", "3")]
    assert proven == [7_000, 8_000, first, first]
    assert proven_tilt_mdeg(SHOP, FINISHER, inch("1-1/2")) == first


def test_a_finisher_without_wheels_is_refused() -> None:
    shop = a_week_shop(wheels=())
    with pytest.raises(InputError, match="Wheels"):
        feed_setting(shop, FINISHER, BELT, STEP, inch("1-1/2"))


def test_passes_are_counted_by_incoming_surface() -> None:
    recipe = a_recipe("r", "P80", "P120")
    bare = recipe.steps[0].model_copy(update={"passes": {Surface.SCALED: 2}})
    recipe = recipe.model_copy(update={"steps": (bare, recipe.steps[1])})
    assert [step.grade.label for _, step in passes(recipe, Surface.SCALED)] == [
        "P80",
        "P80",
        "P120",
    ]
    assert [number for number, _ in passes(recipe, Surface.BRIGHT)] == [1]


def test_long_sticks_need_two_people() -> None:
    assert finisher_people(FINISHER, FINISHER.finisher.two_people_over_nm) == 1
    assert finisher_people(FINISHER, FINISHER.finisher.two_people_over_nm + 1) == 2


def a_cut_stick(*lengths: int) -> Stick:
    pieces = tuple(Piece(tag=str(n), line="1/1", length_nm=n) for n in lengths)
    return Stick(tag="s", stock="x", length_nm=100, pieces=pieces, drop_nm=0, kept=False)


def test_sawing_counts_sticks_cuts_and_settings_of_the_stop() -> None:
    settings = SawSettings(stick_s=100, cut_s=10, stop_s=1_000)
    saw = Station(name="S", kind=StationKind.SAW, saw=settings)
    sticks = [a_cut_stick(7, 7, 5), a_cut_stick(5, 7)]
    assert saw_s(saw, sticks) == 2 * 100 + 5 * 10 + 3 * 1_000


def test_a_trim_cut_is_made_on_each_stick() -> None:
    settings = SawSettings(stick_s=0, cut_s=10, stop_s=0, stick_trim_nm=1)
    saw = Station(name="S", kind=StationKind.SAW, saw=settings)
    assert saw_s(saw, [a_cut_stick(7), a_cut_stick(7)]) == 40


def a_blank(bends: int) -> Blank:
    return Blank(line="1187/1", length_nm=1, quantity=4, steps=(Step.BEND,), bends=bends)


def test_bending_counts_pieces_and_bends() -> None:
    bender = SHOP.station("Bender")
    expected = 4 * (bender.bender.piece_s + 3 * bender.bender.bend_s)
    assert bend_s(SHOP, bender, a_line(touch_up_s=60), a_blank(3)) == expected


def test_touch_up_is_done_at_the_bender_where_there_is_no_bench() -> None:
    no_bench = a_week_shop(
        stations=tuple(station for station in stations() if station.kind is not StationKind.BENCH)
    )
    bender = no_bench.station("Bender")
    plain = bend_s(no_bench, bender, a_line(), a_blank(1))
    assert bend_s(no_bench, bender, a_line(touch_up_s=60), a_blank(1)) == plain + 240
