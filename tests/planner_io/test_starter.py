"""The starter shop is complete: everything that a week may ask of it is there."""

from __future__ import annotations

from itertools import product

import pytest

from planner.abrasives import check_steps
from planner.mounting import belt_for, rail_for
from planner.shop import Shop, Station, StationKind, What
from planner.shop_checks import check_shop
from planner.stock import StockItem
from planner.times import feed_setting, passes, wheels_of
from planner.tube import Surface
from planner_io.starter import starter_shop
from planner_io.starter_metric import metric_shop, metric_stock
from planner_io.starter_stock import starter_stock

Starter = tuple[Shop, tuple[StockItem, ...]]


@pytest.fixture(params=["inch", "mm"])
def starter(request: pytest.FixtureRequest) -> Starter:
    if request.param == "mm":
        return metric_shop(), metric_stock()
    return starter_shop(), starter_stock()


def finisher_of(shop: Shop) -> Station:
    (finisher,) = shop.of_kind(StationKind.FINISHER)
    return finisher


def test_every_finish_goes_from_coarse_to_fine_in_steps_that_take_out_the_old_marks(
    starter: Starter,
) -> None:
    shop, _ = starter
    for recipe, surface in product(shop.recipes, Surface):
        grades = list(dict.fromkeys(step.grade for _, step in passes(recipe, surface)))
        assert check_steps(grades) == (), (recipe.name, surface)


def test_every_finish_has_a_belt_for_each_of_its_families(starter: Starter) -> None:
    shop, _ = starter
    for recipe in shop.recipes:
        for step, family in product(recipe.steps, recipe.families):
            assert belt_for(shop, step.grade, family), (recipe.name, step.grade.label, family)


def test_every_tube_in_stock_can_be_finished_by_some_recipe(starter: Starter) -> None:
    shop, stock = starter
    finisher = finisher_of(shop)
    for spec in (item.spec for item in stock):
        recipes = [recipe for recipe in shop.recipes if spec.family in recipe.families]
        work = [step for recipe in recipes for _, step in passes(recipe, spec.surface)]
        assert work, spec
        assert rail_for(shop, spec.od_nm, spec.family), spec
        assert finisher.od_min_nm <= spec.od_nm <= finisher.od_max_nm, spec


def test_every_pass_has_a_feed_within_the_limits_of_the_finisher(starter: Starter) -> None:
    shop, stock = starter
    finisher = finisher_of(shop)
    limits = finisher.finisher
    for item, recipe in product(stock, shop.recipes):
        if item.spec.family in recipe.families:
            for _, step in passes(recipe, item.spec.surface):
                belt = belt_for(shop, step.grade, item.spec.family)
                assert belt is not None
                feed = feed_setting(shop, finisher, belt, step, item.spec.od_nm)
                assert limits.feed_min_mm_min <= feed.feed_mm_min <= limits.feed_max_mm_min


def test_names_that_refer_to_something_find_it(starter: Starter) -> None:
    shop, _ = starter
    finisher = finisher_of(shop)
    stations = {station.name for station in shop.stations}
    bases = {station.base for station in shop.stations if station.base}
    kinds = {str(kind) for kind in StationKind}
    assert {tool.station for tool in shop.tools} <= stations
    assert {name for person in shop.people for name in person.stations} <= stations
    assert {row.station for row in shop.changeovers} <= stations | bases | kinds
    assert {row.station for row in shop.mounted} <= stations | bases
    assert wheels_of(shop, finisher).station == finisher.name
    assert check_shop(shop) == ()


def test_every_station_has_somebody_and_the_finisher_has_two_for_long_sticks(
    starter: Starter,
) -> None:
    shop, _ = starter
    for station in shop.stations:
        able = [person for person in shop.people if station.name in person.stations]
        assert len(able) >= (2 if station.kind == StationKind.FINISHER else 1), station.name


def test_stock_names_are_unique_and_prices_grow_with_length(starter: Starter) -> None:
    _, stock = starter
    assert len({item.key for item in stock}) == len(stock)
    for item in stock:
        alike = [other for other in stock if other.spec == item.spec]
        assert sorted(alike, key=lambda one: one.length_nm) == sorted(
            alike, key=lambda one: one.price_cents
        )


def test_the_metric_shop_has_what_the_other_has_in_round_millimetres() -> None:
    inches, metric = starter_shop(), metric_shop()
    for kind in ("stations", "people", "changeovers", "belts", "recipes", "rails", "mounted"):
        assert len(getattr(metric, kind)) == len(getattr(inches, kind))
    lengths = [
        nm
        for record in (metric.house, *metric.wheels, *metric.rails, *metric.tools, *metric.stations)
        for name, nm in record
        if name.endswith("_nm") and nm
    ]
    lengths += [nm for name, nm in finisher_of(metric).finisher if name.endswith("_nm")]
    assert len(lengths) > 40
    assert [nm for nm in lengths if nm % 100_000] == []


def test_every_metric_die_and_mounted_tool_is_for_a_tube_or_station_of_the_shop() -> None:
    shop = metric_shop()
    names = {each.name for each in shop.tools} | {each.name for each in shop.rails}
    names |= {each.name for each in shop.belts}
    named = [m for m in shop.mounted if m.what in (What.DIE, What.RAIL, What.BELT)]
    assert named
    assert {mounted.value for mounted in named} <= names
    bender = next(station for station in shop.stations if station.kind == StationKind.BENDER)
    for die in (tool for tool in shop.tools if tool.clr_nm):
        assert bender.od_min_nm <= die.od_nm <= bender.od_max_nm
        assert 2.5 * die.od_nm <= die.clr_nm <= 3.5 * die.od_nm
