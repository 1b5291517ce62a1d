"""The likely minutes of each pass: wide without a log, narrow and counted with one."""

from __future__ import annotations

from datetime import date, timedelta
from functools import cache

import numpy as np

from planner.audit import audit
from planner.finisher.intervals import known_from, nothing_logged, with_likely
from planner.finisher.learned import learn
from planner.finisher.observations import LoggedRun
from planner.orders import Step
from planner.plan import make_plan
from planner.records import Plan
from planner.uncertainty import LikelyMinutes
from tests.trade import inch
from tests.week import a_week_shop, options, some_orders, some_stock


@cache
def a_plan() -> Plan:
    return make_plan(some_orders(), some_stock(), a_week_shop(), options(seconds=0.5))


def a_pass() -> str:
    """Belt of the first pass."""
    first = next(o for o in a_plan().operations if o.step is Step.FINISH)
    assert first.belt is not None
    return first.belt


def runs(count: int) -> list[LoggedRun]:
    """Alike runs on one belt, within 4 % of each other."""
    random = np.random.default_rng(1)
    shop = a_week_shop()
    belt = next(belt for belt in shop.belts if belt.name == a_pass())
    return [
        LoggedRun(
            row=number,
            day=date(2026, 11, 2) + timedelta(days=number),
            station="Finisher",
            belt=belt.name,
            family=belt.families[0],
            od_nm=inch("1-1/2"),
            length_nm=inch("240"),
            count=12,
            tilt_mdeg=5000,
            minutes=48 * float(np.exp(0.04 * random.standard_normal())),
        )
        for number in range(1, count + 1)
    ]


def on_belt(plan: Plan) -> list[LikelyMinutes]:
    belts = {operation.key: operation.belt for operation in plan.operations}
    return [likely for likely in plan.likely if belts[likely.operation] == a_pass()]


def test_every_pass_has_its_range_around_the_plans_minutes() -> None:
    plan = with_likely(a_plan(), nothing_logged(a_week_shop()))
    passes = [o.key for o in plan.operations if o.step is Step.FINISH]
    minutes = {slot.operation: slot.minutes for slot in plan.slots}
    assert [likely.operation for likely in plan.likely] == passes
    for likely in plan.likely:
        assert likely.median_min == minutes[likely.operation]
        assert likely.low_min < likely.median_min < likely.high_min
        assert likely.runs == 0
    assert audit(plan) == ()


def test_logged_runs_are_counted_and_make_the_range_narrower() -> None:
    shop = a_week_shop()
    before = on_belt(with_likely(a_plan(), nothing_logged(shop)))
    after = on_belt(with_likely(a_plan(), known_from(shop, learn(shop, runs(30)))))
    assert {likely.runs for likely in after} == {30}
    for wide, narrow in zip(before, after, strict=True):
        assert narrow.high_min - narrow.low_min < wide.high_min - wide.low_min
