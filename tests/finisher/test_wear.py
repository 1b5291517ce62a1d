"""The belts of a whole plan: who wears which, in order of time, and what it costs in minutes."""

from math import pi
from typing import Any

import pytest

from planner.audit import audit
from planner.finisher.belts import life_of, wear_of
from planner.finisher.wear import belt_passes, belts_of
from planner.orders import Step
from planner.plan import make_plan
from planner.records import Plan
from planner.shop import Shop
from planner.tube import Family
from planner_io.belt_report import belt_lines
from tests.week import a_week_shop, options, some_orders, some_stock


def a_shop(**changes: Any) -> Shop:
    shop = a_week_shop()
    belts = tuple(belt.model_copy(update=changes) for belt in shop.belts)
    return shop.model_copy(update={"belts": belts})


def a_plan(shop: Shop) -> Plan:
    return make_plan(some_orders(), some_stock(), shop, options(seconds=0.5))


def lives_used(plan: Plan) -> float:
    """New belts' lives that the plan's passes use up."""
    lives = {belt.name: life_of(belt) for belt in plan.shop.belts}
    return sum(wear_of(lives[work.belt], work) for work in belt_passes(plan))


def test_every_pass_wears_its_belt_in_order_of_time() -> None:
    plan = a_plan(a_shop())
    found = list(belt_passes(plan))
    passes = [o for o in plan.operations if o.step is Step.FINISH]
    assert sorted(work.operation for work in found) == sorted(o.key for o in passes)
    starts = {slot.operation: slot.start_min for slot in plan.slots}
    assert [starts[w.operation] for w in found] == sorted(starts[w.operation] for w in found)
    for work in found:
        operation = next(o for o in passes if o.key == work.operation)
        lot = next(lot for lot in plan.lots if lot.key == operation.lot)
        metres = work.area_m2 / (pi * lot.spec.od_nm / 1e9)
        assert work.pieces == operation.count
        assert metres > 0
        assert work.minutes < operation.alternatives[0].minutes


def test_belts_that_wear_out_in_the_plan_are_changed_and_bought() -> None:
    plan = a_plan(a_shop(life_min=10, count=0, price_cents=1500))
    uses = belts_of(plan)
    said = "\n".join(belt_lines(plan))
    assert sum(len(use.changes) for use in uses) > 0
    assert sum(use.buy for use in uses) == sum(len(use.changes) for use in uses)
    assert "to change" in said
    assert "buy" in said


def test_belts_that_nobody_counts_are_not_spoken_of() -> None:
    assert list(belt_lines(a_plan(a_shop(life_min=None)))) == []


def test_a_worn_belts_change_is_shared_by_the_passes_that_wear_it() -> None:
    lasting, wearing = a_plan(a_shop(life_min=None)), a_plan(a_shop(life_min=5))
    assert audit(wearing) == ()
    minutes = [
        sum(o.alternatives[0].minutes for o in plan.operations if o.step is Step.FINISH)
        for plan in (lasting, wearing)
    ]
    changes = {row.minutes for row in a_shop().changeovers if row.what.value == "belt"}
    assert minutes[1] - minutes[0] == pytest.approx(lives_used(wearing) * max(changes), rel=0.3)


def test_a_life_in_area_and_a_familys_factor_count_in_the_minutes_and_the_changes() -> None:
    by_area = {"life_min": None, "life_cm2": 20_000, "count": 0}
    families = tuple(Family)
    plain = a_plan(a_shop(**by_area))
    harder = a_plan(a_shop(**by_area, wear=dict.fromkeys(families, 2.0)))
    assert audit(plain) == audit(harder) == ()
    area = sum(work.area_m2 for work in belt_passes(plain))
    assert lives_used(plain) == pytest.approx(area / 2)
    assert lives_used(harder) == pytest.approx(area)
    assert sum(use.buy for use in belts_of(harder)) > sum(use.buy for use in belts_of(plain)) > 0
