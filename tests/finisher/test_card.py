"""The card of a finisher run: all numbers, in the order hands set them."""

from datetime import date
from math import asin, degrees

import pytest

from planner.errors import InputError
from planner.finisher.card import FinisherCard, last_good, make_card
from planner.records import Setting
from planner.shop import FinisherSettings, GoodSetting, House, Rail, Shop
from planner.tube import Family
from tests.finisher.builders import a_belt_of, a_finisher, a_shop, a_spec, a_step, inch


def setting(card: FinisherCard, name: str) -> Setting:
    return {setting.name: setting for setting in card.settings}[name]


def test_the_usual_tube_gets_the_numbers_of_the_quarter_rule_in_the_order_of_hands() -> None:
    card = make_card(a_shop(), a_finisher(), a_spec(1.5), a_belt_of(), a_step())
    assert [setting.name for setting in card.settings] == [
        "belt",
        "brake wheel",
        "rail",
        "rail front to belt face",
        "gap between belt and rail",
        "rail top below the line of centres",
        "tube centre below the line of centres",
        "wheel gap with the tube in",
        "stop",
        "tilt of the brake wheel",
        "speed",
        "feed",
        "turns under the belt",
        "spring",
    ]
    assert setting(card, "rail").value == "bronze 1/4"
    assert setting(card, "rail front to belt face").length_nm == inch(3 / 8)
    assert setting(card, "gap between belt and rail").length_nm == inch(1 / 8)
    assert setting(card, "spring").value == "by feel"
    assert card.remarks == ()


def test_the_drawing_gets_the_same_numbers_as_the_card() -> None:
    card = make_card(a_shop(), a_finisher(), a_spec(1.5), a_belt_of(), a_step())
    assert card.set_up is not None
    assert setting(card, "stop").length_nm == card.set_up.stop_nm


def test_a_brake_wheel_mounted_lower_holds_the_tube_down_less() -> None:
    usual = a_shop()
    lower = usual.wheels[0].model_copy(update={"brake_rise_nm": -inch(1 / 4)})
    cards = [
        make_card(shop, a_finisher(), a_spec(1.5), a_belt_of(), a_step())
        for shop in (usual, a_shop(wheels=(lower,)))
    ]
    level, low = (card.set_up for card in cards)
    assert level is not None
    assert low is not None
    assert level.brake_centre_nm[1] == 0
    assert low.brake_centre_nm[1] == -inch(1 / 4)
    # The push is along the line of centres: sin of its fall over the distance of the centres.
    fall = (inch(1.5) / 4 - inch(1 / 4)) / (inch(10) / 2 + inch(1.5) / 2)
    assert low.brake_hold_mdeg == pytest.approx(1000 * degrees(asin(fall)), abs=1)
    assert low.brake_hold_mdeg < level.brake_hold_mdeg


def test_the_tilt_begins_gently_and_is_mirrored_from_the_left() -> None:
    left = a_finisher(finisher=FinisherSettings(from_right=False, first_tilt_mdeg=5000))
    card = make_card(a_shop(stations=(left,)), left, a_spec(), a_belt_of(), a_step())
    assert setting(card, "tilt of the brake wheel").angle_mdeg == 5000
    assert "from the left" in setting(card, "tilt of the brake wheel").remark
    assert card.feed.tilt_mdeg == -5000


def good(wall: float, spring: str, day: int, tilt: int = 4000) -> GoodSetting:
    return GoodSetting(
        od_nm=inch(1.5),
        wall_nm=inch(wall),
        spring=spring,
        tilt_mdeg=tilt,
        day=date(2026, 11, day),
    )


def test_the_spring_shows_the_last_setting_logged_as_good_for_this_od_and_wall() -> None:
    logged = (good(0.065, "3 turns", 2), good(0.12, "5 turns", 9), good(0.065, "3-1/2", 12))
    shop = a_shop(good=logged)
    card = make_card(shop, a_finisher(), a_spec(), a_belt_of(), a_step())
    assert setting(card, "spring").value == "3-1/2"
    assert "2026-11-12" in setting(card, "spring").remark
    assert last_good(shop, a_finisher(), inch(2), inch(0.065)) is None


def test_a_run_of_several_walls_shows_the_spring_of_each_that_differs() -> None:
    shop = a_shop(good=(good(0.065, "3 turns", 2), good(0.12, "5 turns", 9)))
    walls = [inch(wall) for wall in (0.12, 0.065, 0.083)]

    def springs(*walls_nm: int) -> list[tuple[str, str]]:
        card = make_card(shop, a_finisher(), a_spec(), a_belt_of(), a_step(), walls_nm)
        return [(it.name, it.value) for it in card.settings if it.name.startswith("spring")]

    apart = [('spring at .120"', "5 turns"), ('spring at .065"', "3 turns")]
    assert springs(*walls) == [*apart, ('spring at .083"', "by feel")]
    assert springs(inch(0.083), inch(0.049)) == [("spring", "by feel")]
    alike = (good(0.065, "3 turns", 2), good(0.12, "3 turns", 9))
    shop = a_shop(good=alike)
    assert springs(*walls[:2]) == [("spring", "3 turns")]


def test_a_tilt_that_was_logged_as_good_may_be_begun_with() -> None:
    shop = a_shop(good=(good(0.065, "3 turns", 2, tilt=7000),))
    belt, step = a_belt_of(), a_step(least=2)
    assert make_card(a_shop(), a_finisher(), a_spec(), belt, step).feed.tilt_mdeg == 5000
    assert make_card(shop, a_finisher(), a_spec(), belt, step).feed.tilt_mdeg == 7000
    assert make_card(shop, a_finisher(), a_spec(2), belt, step).feed.tilt_mdeg == 5000


def test_what_was_good_at_one_finisher_is_not_for_another() -> None:
    there = good(0.065, "3 turns", 2, tilt=7000).model_copy(update={"station": "Other"})
    belt, step = a_belt_of(), a_step(least=2)
    card = make_card(a_shop(good=(there,)), a_finisher(), a_spec(), belt, step)
    assert card.feed.tilt_mdeg == 5000
    assert setting(card, "spring").value == "by feel"
    here = there.model_copy(update={"station": a_finisher().name})
    card = make_card(a_shop(good=(there, here)), a_finisher(), a_spec(), belt, step)
    assert card.feed.tilt_mdeg == 7000
    assert setting(card, "spring").value == "3 turns"


def test_a_thick_belt_says_what_else_must_move() -> None:
    thick = a_belt_of("fine web", "non-woven fine", thickness_nm=inch(0.4), non_woven=True)
    shop = a_shop(a_belt_of(), thick)
    card = make_card(shop, a_finisher(), a_spec(), thick, a_step("non-woven fine"))
    assert any("lower the platen" in remark for remark in card.remarks)
    assert any('11/32" (8.9 mm) nearer' in remark for remark in card.remarks)


def test_a_metric_shop_gets_millimetres_first_and_half_millimetre_marks() -> None:
    shop = a_shop(house=House(unit="mm"))
    card = make_card(shop, a_finisher(), a_spec(1.5), a_belt_of(), a_step())
    # C: a quarter of 38.1 mm is 9.525 mm; the nearest mark of a rule in half millimetres is 9.5.
    assert setting(card, "rail front to belt face").length_nm == 9_500_000
    assert "m/min" in setting(card, "feed").value


@pytest.mark.parametrize(("denominator", "mark"), [(32, 15 / 32), (16, 1 / 2), (64, 15 / 32)])
def test_the_rail_goes_to_a_mark_that_the_shops_rule_has(denominator: int, mark: float) -> None:
    # C: a quarter of 1.9 in is .475 in: 15/32 is .469, 1/2 .5, and 30/64 nearer than 31/64.
    shop = a_shop(house=House(denominator=denominator))
    card = make_card(shop, a_finisher(), a_spec(1.9), a_belt_of(), a_step())
    assert setting(card, "rail front to belt face").length_nm == inch(mark)


def test_feed_and_turns_on_the_card_are_those_of_the_formula() -> None:
    # f = π·D·N·sin α (Groover, Fundamentals of Modern Manufacturing, §24.1.4), C: a wheel of 10 in
    # at 30 turns, 5° and a slip of .9 feed 73.9 in a minute, 6.16 ft or 1.88 m. A 1-1/2 in tube
    # turns 10·30·.9·cos 5° / 1.5 times a minute, and π·1.5·tan 5° of 4 in of belt pass in each.
    card = make_card(a_shop(), a_finisher(), a_spec(1.5), a_belt_of(), a_step(least=2))
    assert (setting(card, "feed").value, setting(card, "feed").remark) == (
        *("6.2 ft/min", "1.88 m/min"),
    )
    turns = setting(card, "turns under the belt")
    assert (turns.value, turns.remark) == ("9.7", "tube turns 179 a minute")


def test_a_measured_centre_height_says_how_high_the_rail_stands_above_the_table() -> None:
    usual = a_shop()
    wheels = usual.wheels[0].model_copy(update={"centre_nm": inch(9)})
    shop = usual.model_copy(update={"wheels": (wheels,)})
    card = make_card(shop, a_finisher(), a_spec(), a_belt_of(), a_step())
    below = setting(card, "rail top below the line of centres").length_nm or 0
    assert setting(card, "rail top above the table").length_nm == inch(9) - below


def test_a_rounded_rail_edge_is_set_a_little_higher() -> None:
    square, rounded = (
        a_shop(rails=(Rail(name="r", thickness_nm=inch(1 / 4), edge_radius_nm=inch(radius)),))
        for radius in (0, 1 / 8)
    )
    low, high = (
        make_card(shop, a_finisher(), a_spec(), a_belt_of(), a_step()).set_up
        for shop in (square, rounded)
    )
    assert low is not None
    assert high is not None
    # The tube rests on the rounding, below its top, so the top is nearer to the line of centres.
    assert high.rail_top_drop_nm < low.rail_top_drop_nm


def test_a_shop_without_a_rail_for_the_family_is_told() -> None:
    steel_only = Rail(name="bronze", thickness_nm=inch(1 / 4), families=(Family.CARBON,))
    shop = a_shop(rails=(steel_only,))
    spec = a_spec(family=Family.ALUMINIUM)
    card = make_card(shop, a_finisher(), spec, a_belt_of(), a_step())
    assert "no rail for aluminium" in card.remarks[0]
    assert card.set_up is None


def test_the_thickest_rail_that_works_is_named_by_the_marks_of_the_shops_rule() -> None:
    # C: a quarter of 18 mm is 4.5 mm; less a gap of 1/16 in, 1.5875 mm, that leaves 2.9 mm.
    shop = a_shop(rails=(Rail(name="bronze 3", thickness_nm=3_000_000),), house=House(unit="mm"))
    card = make_card(shop, a_finisher(), a_spec(18 / 25.4), a_belt_of(), a_step())
    assert "thickest rail that works is 2.9 mm" in card.remarks[0]


def test_a_rail_too_thick_is_named_with_the_thickest_that_works() -> None:
    shop = a_shop(rails=(Rail(name="bronze 1/4", thickness_nm=inch(1 / 4)),))
    card = make_card(shop, a_finisher(), a_spec(0.75), a_belt_of(), a_step())
    assert 'thickest rail that works is 1/8"' in card.remarks[0]


def test_what_the_machine_must_not_be_set_to_is_on_no_card_and_drawn_nowhere() -> None:
    # C: on a 1-1/2 in tube the wheels are less than 1-1/2 in apart, so a stop that cannot be set
    # below 2 in lets no pressure onto the tube.
    open_stop = a_shop().wheels[0].model_copy(update={"stop_min_nm": inch(2)})
    shop = a_shop(wheels=(open_stop,))
    card = make_card(shop, a_finisher(), a_spec(1.5), a_belt_of(), a_step())
    assert setting(card, "rail and stop").value == "none found"
    assert not {"stop", "rail front to belt face"} & {setting.name for setting in card.settings}
    assert card.set_up is None
    assert "cannot be set closer" in card.remarks[0]


def test_a_finisher_without_wheels_is_refused() -> None:
    with pytest.raises(InputError, match="has no wheels"):
        make_card(a_shop(wheels=()), a_finisher(), a_spec(), a_belt_of(), a_step())


def with_belt_speed(unit: str) -> Shop:
    shop = a_shop()
    wheels = tuple(w.model_copy(update={"belt_speed_m_min": 1524.0}) for w in shop.wheels)
    house = shop.house.model_copy(update={"unit": unit})
    return shop.model_copy(update={"wheels": wheels, "house": house})


@pytest.mark.parametrize(
    ("unit", "value", "other"),
    [("inch", "5,000 ft/min", "1,524 m/min"), ("mm", "1,524 m/min", "5,000 ft/min")],
)
def test_a_belt_speed_that_was_measured_is_on_the_card_to_check(
    unit: str, value: str, other: str
) -> None:
    card = make_card(with_belt_speed(unit), a_finisher(), a_spec(1.5), a_belt_of(), a_step())
    found = setting(card, "belt speed")
    assert found.value == value
    # C: 1524 m a minute over a wheel of 14 in, π × 0.3556 m around, is 1364 turns
    assert found.remark == f"{other}; check: the contact wheel turns 1,364 a minute"


def test_a_belt_speed_that_nobody_measured_is_on_no_card() -> None:
    card = make_card(a_shop(), a_finisher(), a_spec(1.5), a_belt_of(), a_step())
    assert "belt speed" not in [setting.name for setting in card.settings]
