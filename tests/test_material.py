"""What the saws take of a stick, what sticks cost a lot, and what a kept remnant is worth."""

from __future__ import annotations

from typing import Any

import pytest

from planner.material import Prices, StickMoney, finish_cents_per_m, remnant_values, saw_settings
from planner.records import Lot, Stick
from planner.shop import House, SawSettings, Shop, Station, StationKind
from planner.times import feed_setting
from tests.trade import a_recipe, a_shop, a_spec, a_stick, inch
from tests.week import a_week_shop

METRE = 1_000_000_000


def a_saw(name: str, largest: str, **settings: Any) -> Station:
    return Station(
        name=name, kind=StationKind.SAW, od_max_nm=inch(largest), saw=SawSettings(**settings)
    )


def test_a_cut_list_allows_for_the_most_that_any_saw_takes_that_the_tube_may_go_to() -> None:
    saws = (
        a_saw("cold", "3", kerf_nm=2, stick_trim_nm=5, end_trim_nm=30, clamp_nm=7),
        a_saw("band", "3", kerf_nm=1, stick_trim_nm=40, end_trim_nm=3, clamp_nm=60),
        a_saw("small", "1", kerf_nm=9, stick_trim_nm=99, end_trim_nm=99, clamp_nm=99),
    )
    shop = a_shop(stations=saws)
    found = saw_settings(shop, a_spec("1-1/2"))
    taken = (found.kerf_nm, found.stick_trim_nm, found.end_trim_nm, found.clamp_nm)
    assert taken == (2, 40, 30, 60)
    assert saw_settings(shop, a_spec("1")).kerf_nm == 9
    assert saw_settings(a_shop(stations=()), a_spec()).kerf_nm == 0


def a_lot(recipe: str | None = None, saw_first: bool = False) -> Lot:
    return Lot(
        key="L01", spec=a_spec(), recipe=recipe, saw_first=saw_first, lines=("1187/1",), due_min=0
    )


def a_cut_stick(drop_nm: int, **changes: Any) -> Stick:
    usual = Stick(tag="s", stock="new", length_nm=6 * METRE, pieces=(), drop_nm=drop_nm, kept=True)
    return usual.model_copy(update=changes)


HALF = House(remnant_nm=METRE, remnant_share=0.5)
STOCK = (
    a_stick(key="new", length_nm=6 * METRE, price_cents=6_000),
    a_stick(key="dear", length_nm=6 * METRE, price_cents=9_000, count=2),
    a_stick(key="cheap rest", length_nm=2 * METRE, price_cents=10, count=1, remnant=True),
)


def test_a_remnant_is_worth_the_shop_s_share_of_the_lowest_price_in_whole_steps() -> None:
    # New tube costs 1,000 cents a metre, half of it counts; the step is 0.15 m, so 75 cents.
    values = list(remnant_values(a_shop(house=HALF), STOCK, a_spec()))
    assert values[:3] == [(METRE, 500), (METRE + 150_000_000, 575), (METRE + 300_000_000, 650)]
    assert values[-1][0] < 6 * METRE
    assert list(remnant_values(a_shop(house=HALF), STOCK[2:], a_spec())) == []


@pytest.mark.parametrize(
    ("stick", "money"),
    [
        (a_cut_stick(METRE), StickMoney(6_000, 500)),
        (a_cut_stick(METRE + 150_000_000 - 1), StickMoney(6_000, 500)),
        (a_cut_stick(METRE + 150_000_000), StickMoney(6_000, 575)),
        (a_cut_stick(METRE, kept=False), StickMoney(6_000, 0)),
        (a_cut_stick(METRE, stock="cheap rest", length_nm=2 * METRE), StickMoney(10, 10)),
    ],
)
def test_a_stick_costs_its_price_less_its_kept_drop(stick: Stick, money: StickMoney) -> None:
    assert Prices(a_shop(house=HALF), STOCK, a_lot()).of(stick) == money


def a_finishing_shop(**house: Any) -> Shop:
    return a_week_shop(recipes=(a_recipe("satin", "P120", "P120"),), house=House(**house))


def test_a_metre_costs_the_minutes_of_all_its_passes() -> None:
    shop = a_finishing_shop(minute_cents=1_000)
    step, belt = shop.recipe("satin").steps[0], shop.belts[0]
    feed = feed_setting(shop, shop.station("Finisher"), belt, step, a_spec().od_nm).feed_mm_min
    assert finish_cents_per_m(shop, a_lot("satin")) == round(2 * 1_000 / feed * 1_000)
    assert finish_cents_per_m(shop, a_lot("satin", saw_first=True)) == 0
    assert finish_cents_per_m(shop, a_lot()) == 0


def test_a_finisher_that_does_not_take_the_tube_says_nothing_of_its_cost() -> None:
    shop = a_finishing_shop(minute_cents=1_000)
    usual = shop.station("Finisher")
    small = usual.model_copy(update={"name": "Small finisher", "od_max_nm": inch("1")})
    wheels = shop.wheels[0].model_copy(update={"station": small.name, "brake_rpm": 1.0})
    both = shop.model_copy(
        update={"stations": (small, *shop.stations), "wheels": (wheels, *shop.wheels)}
    )
    assert finish_cents_per_m(both, a_lot("satin")) == finish_cents_per_m(shop, a_lot("satin"))


def test_finishing_is_paid_for_the_whole_stick_and_stays_with_what_is_kept_of_it() -> None:
    shop = a_finishing_shop(minute_cents=1_000, remnant_nm=METRE)
    plain, rate = Prices(shop, STOCK, a_lot()), finish_cents_per_m(shop, a_lot("satin"))
    finishing = Prices(shop, STOCK, a_lot("satin"))
    stick, done = a_cut_stick(2 * METRE), a_cut_stick(2 * METRE, finished=True)
    assert finishing.of(stick).paid_cents == plain.of(stick).paid_cents + 6 * rate
    assert finishing.of(stick).kept_cents == plain.of(stick).kept_cents + 2 * rate
    assert finishing.of(done).paid_cents == plain.of(done).paid_cents
    assert finishing.of(done).kept_cents == finishing.of(stick).kept_cents
