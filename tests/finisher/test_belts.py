"""Belts as consumables: wear, changes, what to buy, and which one takes which work."""

from dataclasses import replace
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from planner.audit import audit
from planner.finisher.belts import (
    BeltLife,
    BeltPass,
    all_belts,
    belt_use,
    life_of,
    wear_of,
)
from planner.mounting import belt_for
from planner.orders import Step
from planner.plan import make_plan
from planner.shop import House
from planner.tube import Family
from tests.finisher.builders import a_belt_of, a_shop
from tests.week import a_week_shop, options, some_orders, some_stock

LIFE = BeltLife("P120", life_min=100, shelf=1, price_cents=1800)


def a_pass(key: str = "A", minutes: float = 40, **changes: Any) -> BeltPass:
    usual = BeltPass(key, "P120", Family.CARBON, minutes, area_m2=1.0, pieces=10)
    return replace(usual, **changes)


def test_a_belt_is_changed_when_it_is_worn_and_in_the_middle_of_a_pass() -> None:
    use = belt_use(LIFE, [a_pass("A"), a_pass("B"), a_pass("C")])
    assert [(change.operation, change.after_pieces) for change in use.changes] == [("C", 5)]
    assert use.buy == 0


def test_belts_beyond_the_shelf_are_bought() -> None:
    use = belt_use(LIFE, [a_pass(str(n)) for n in range(8)])
    assert len(use.changes) == 3
    assert (use.buy, use.buy_cents) == (2, 3600)


def test_a_belt_nearly_gone_is_changed_before_the_pass() -> None:
    use = belt_use(replace(LIFE, used=0.99), [a_pass("A")])
    assert use.changes[0].after_pieces == 0


def test_one_piece_that_outlasts_a_belt_takes_a_new_one_each_time() -> None:
    use = belt_use(replace(LIFE, life_min=3), [a_pass("A", minutes=40)])
    assert [change.after_pieces for change in use.changes] == list(range(1, 10))


def test_a_belt_that_nobody_counts_is_never_changed() -> None:
    use = belt_use(BeltLife("P120"), [a_pass(str(n)) for n in range(50)])
    assert (use.changes, use.buy, use.counted) == ((), 0, False)


def test_life_counts_in_minutes_or_area_whichever_is_gone_first_and_by_family() -> None:
    life = replace(LIFE, life_m2=5, factors={Family.STAINLESS: 2})
    assert wear_of(life, a_pass(minutes=40, area_m2=1)) == pytest.approx(0.4)
    assert wear_of(life, a_pass(minutes=10, area_m2=1)) == pytest.approx(0.2)
    assert wear_of(life, a_pass(minutes=10, family=Family.STAINLESS)) == pytest.approx(0.4)


@given(st.lists(st.tuples(st.floats(0.5, 90), st.integers(1, 60)), max_size=20), st.floats(0, 1))
def test_no_belt_runs_past_its_life_by_more_than_one_piece(
    work: list[tuple[float, int]], used: float
) -> None:
    life = replace(LIFE, used=used)
    passes = [a_pass(str(n), minutes, pieces=p) for n, (minutes, p) in enumerate(work)]
    use = belt_use(life, passes)
    largest = max((m / p / 100 for m, p in work), default=0)
    total = used + sum(m for m, _ in work) / 100
    belts = len(use.changes) + 1
    assert total <= belts * (1 + largest) + 1e-6


def test_coarse_work_takes_the_most_worn_belt_and_last_passes_the_least_if_the_shop_wants() -> None:
    belts = [a_belt_of(name, life_min=100, used_min=used) for name, used in (("A", 30), ("B", 80))]
    for worn_first, coarse, name in (
        (False, True, "A"),
        (True, True, "B"),
        (True, False, "A"),
    ):
        shop = a_shop(*belts, house=House(worn_first=worn_first))
        chosen = belt_for(shop, belts[0].grade, Family.CARBON, coarse)
        assert chosen is not None
        assert chosen.name == name


def test_a_plan_gives_its_coarse_passes_to_the_worn_belt() -> None:
    shop = a_week_shop()
    worn = [
        belt.model_copy(update={"name": f"{belt.name} old", "life_min": 100, "used_min": 70})
        for belt in shop.belts
    ]
    house = shop.house.model_copy(update={"worn_first": True})
    shop = shop.model_copy(update={"belts": (*shop.belts, *worn), "house": house})
    plan = make_plan(some_orders(), some_stock(), shop, options(seconds=0.5))
    passes = [o for o in plan.operations if o.step is Step.FINISH]
    assert audit(plan) == ()
    assert {(o.belt or "").endswith("old") for o in passes if o.pass_no == o.passes} == {False}
    assert {(o.belt or "").endswith("old") for o in passes if o.pass_no == 1 < o.passes} == {True}


def test_the_shops_sheet_gives_life_use_and_shelf() -> None:
    belt = a_belt_of(life_min=200, used_min=50, count=3, price_cents=2100)
    life = life_of(belt)
    assert (life.used, life.shelf, life.price_cents) == (0.25, 3, 2100)
    assert not life_of(a_belt_of()).counted
    by_area = life_of(a_belt_of(life_cm2=200_000, used_cm2=50_000, wear={Family.STAINLESS: 1.5}))
    assert (by_area.life_m2, by_area.used, by_area.counted) == (20, 0.25, True)
    assert by_area.factors == {Family.STAINLESS: 1.5}
    assert [use.belt for use in all_belts([life, LIFE], [a_pass()])] == [belt.name, "P120"]
