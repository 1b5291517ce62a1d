"""The starter shop is complete: everything that a week may ask of it is there."""

from __future__ import annotations

from itertools import product

from planner.abrasives import check_steps
from planner.mounting import belt_for, rail_for
from planner.shop import StationKind
from planner.shop_checks import check_shop
from planner.times import feed_setting, passes, wheels_of
from planner.tube import Surface
from planner_io.starter import starter_shop, starter_stock

SHOP = starter_shop()
(FINISHER,) = SHOP.of_kind(StationKind.FINISHER)


def test_every_finish_goes_from_coarse_to_fine_in_steps_that_take_out_the_old_marks() -> None:
    for recipe, surface in product(SHOP.recipes, Surface):
        grades = list(dict.fromkeys(step.grade for _, step in passes(recipe, surface)))
        assert check_steps(grades) == (), (recipe.name, surface)


def test_every_finish_has_a_belt_for_each_of_its_families() -> None:
    for recipe in SHOP.recipes:
        for step, family in product(recipe.steps, recipe.families):
            assert belt_for(SHOP, step.grade, family), (recipe.name, step.grade.label, family)


def test_every_tube_in_stock_can_be_finished_by_some_recipe() -> None:
    for spec in (item.spec for item in starter_stock()):
        recipes = [recipe for recipe in SHOP.recipes if spec.family in recipe.families]
        work = [step for recipe in recipes for _, step in passes(recipe, spec.surface)]
        assert work, spec
        assert rail_for(SHOP, spec.od_nm, spec.family), spec
        assert FINISHER.od_min_nm <= spec.od_nm <= FINISHER.od_max_nm, spec


def test_every_pass_has_a_feed_within_the_limits_of_the_finisher() -> None:
    limits = FINISHER.finisher
    for item, recipe in product(starter_stock(), SHOP.recipes):
        if item.spec.family in recipe.families:
            for _, step in passes(recipe, item.spec.surface):
                belt = belt_for(SHOP, step.grade, item.spec.family)
                assert belt is not None
                feed = feed_setting(SHOP, FINISHER, belt, step, item.spec.od_nm)
                assert limits.feed_min_mm_min <= feed.feed_mm_min <= limits.feed_max_mm_min


def test_names_that_refer_to_something_find_it() -> None:
    stations = {station.name for station in SHOP.stations}
    bases = {station.base for station in SHOP.stations if station.base}
    kinds = {str(kind) for kind in StationKind}
    assert {tool.station for tool in SHOP.tools} <= stations
    assert {name for person in SHOP.people for name in person.stations} <= stations
    assert {row.station for row in SHOP.changeovers} <= stations | bases | kinds
    assert {row.station for row in SHOP.mounted} <= stations | bases
    assert wheels_of(SHOP, FINISHER).station == FINISHER.name
    assert check_shop(SHOP) == ()


def test_every_station_has_somebody_and_the_finisher_has_two_for_long_sticks() -> None:
    for station in SHOP.stations:
        able = [person for person in SHOP.people if station.name in person.stations]
        assert len(able) >= (2 if station.kind == StationKind.FINISHER else 1), station.name


def test_stock_names_are_unique_and_prices_grow_with_length() -> None:
    stock = starter_stock()
    assert len({item.key for item in stock}) == len(stock)
    for item in stock:
        alike = [other for other in stock if other.spec == item.spec]
        assert sorted(alike, key=lambda one: one.length_nm) == sorted(
            alike, key=lambda one: one.price_cents
        )
