"""Invariant 6 catches what the simulated weeks do not say when they are drawn again."""

from __future__ import annotations

from functools import cache
from typing import Any

import pytest

from planner.audit import audit
from planner.confidence import Spread, Spreads
from planner.finisher.intervals import nothing_logged, with_likely
from planner.options import LotPolicy
from planner.plan import make_plan
from planner.records import Plan
from planner.replan import replan
from planner.risk import with_risk
from planner.uncertainty import Risk
from tests.audit.edits import breaches
from tests.audit.weeks import a_plan
from tests.week import a_week_shop, options, some_orders, some_stock


@cache
def simulated() -> Plan:
    return with_risk(a_plan(), Spreads(), 500)


def risk() -> Risk:
    found = simulated().risk
    assert found is not None
    return found


def found(**changes: Any) -> str:
    return breaches(simulated().model_copy(update={"risk": risk().model_copy(update=changes)}), 6)


def with_first_line(**changes: Any) -> str:
    first, *others = risk().lines
    return found(lines=(first.model_copy(update=changes), *others))


def test_simulated_weeks_hold_and_say_the_same_each_time() -> None:
    assert found() == ""
    assert with_risk(a_plan(), Spreads(), 500) == simulated()


def test_lines_and_stations_that_the_plan_has_not() -> None:
    assert "other order lines" in with_first_line(line="9999/9")
    assert "other order lines" in found(lines=risk().lines[1:])
    assert "other stations" in found(spreads=risk().spreads[1:])


@pytest.mark.parametrize("weeks", [0, 100_001])
def test_weeks_that_nobody_simulates(weeks: int) -> None:
    assert f"risk: rests on {weeks} simulated weeks" in found(weeks=weeks)


@pytest.mark.parametrize("by", [-1, 1])
@pytest.mark.parametrize("name", ["low_min", "median_min", "high_min"])
def test_a_minute_of_a_line_that_the_weeks_do_not_say(name: str, by: int) -> None:
    right = getattr(risk().lines[0], name)
    text = f"has a {name} of {right + by}; the weeks drawn again say {right}"
    assert text in with_first_line(**{name: right + by})


@pytest.mark.parametrize("off", [-1 / 500, 1 / 500, 1e-4, float("nan")])
def test_a_chance_that_the_weeks_do_not_say(off: float) -> None:
    line, all_ = risk().lines[0].chance, risk().all_on_time
    assert f"the weeks drawn again say {line}" in with_first_line(chance=line + off)
    assert f"the weeks drawn again say {all_}" in found(all_on_time=all_ + off)


@pytest.mark.parametrize("name", ["low", "median", "high"])
def test_changeover_minutes_that_the_weeks_do_not_say(name: str) -> None:
    field = f"changeover_{name}_min"
    right = getattr(risk(), field)
    assert f"the weeks drawn again say {right}" in found(**{field: right + 1})


@pytest.mark.parametrize("name", ["run", "setup", "run_shared", "setup_shared"])
def test_other_spreads_than_the_weeks_are_drawn_with(name: str) -> None:
    first, *others = risk().spreads
    wider = first.model_copy(update={name: getattr(first, name) + 0.2})
    assert "the weeks drawn again say" in found(spreads=(wider, *others))


def test_a_week_without_spread_holds_at_the_minutes_of_the_plan() -> None:
    plan = with_risk(a_plan(), Spreads(Spread(0, 0, 0, 0)), 2)
    assert audit(plan) == ()
    assert plan.risk is not None
    assert [line.low_min for line in plan.risk.lines] == [done.done_min for done in plan.done]


def test_a_spread_below_zero() -> None:
    first, *others = risk().spreads
    for name in ("run", "setup", "run_shared", "setup_shared"):
        spreads = (first.model_copy(update={name: -0.1}), *others)
        assert f"{first.station}: has a spread below zero" in found(spreads=spreads)


@cache
def likely() -> Plan:
    return with_likely(a_plan(), nothing_logged(a_plan().shop))


def with_first_likely(**changes: Any) -> str:
    first, *others = likely().likely
    new = (first.model_copy(update=changes), *others)
    return breaches(likely().model_copy(update={"likely": new}), 6)


def test_likely_minutes_hold() -> None:
    assert breaches(likely(), 6) == ""


def test_likely_minutes_are_those_without_the_pace() -> None:
    first = likely().likely[0]
    shop = likely().shop
    slower = tuple(one.model_copy(update={"pace": 2.0}) for one in shop.stations)
    plan = likely().model_copy(update={"shop": shop.model_copy(update={"stations": slower})})
    assert f"{first.operation}: has a median of {first.median_min}" in breaches(plan, 6)
    halved = tuple(
        one.model_copy(update={"median_min": round(one.median_min / 2), "low_min": 0})
        for one in plan.likely
    )
    assert "has a median" not in breaches(plan.model_copy(update={"likely": halved}), 6)


def test_likely_minutes_that_are_not_the_plans() -> None:
    assert "other operations than the open passes" in with_first_likely(operation="L99.P1")
    assert "has a median of" in with_first_likely(median_min=10**6, high_min=10**6)
    median = likely().likely[0].median_min
    assert "has a median of" in with_first_likely(median_min=median + 1, high_min=10**6)
    assert with_first_likely(low_min=median, high_min=median, runs=0) == ""
    assert "is likely to take" in with_first_likely(low_min=10**6)
    assert "from -1 runs" in with_first_likely(runs=-1)


@pytest.mark.parametrize(("name", "by"), [("low_min", -1), ("high_min", 1), ("runs", 14)])
def test_without_a_log_the_range_is_that_of_the_spread(name: str, by: int) -> None:
    plan = with_risk(likely(), Spreads(), 50)
    assert audit(plan) == ()
    first, *others = plan.likely
    wrong = first.model_copy(update={name: getattr(first, name) + by})
    told = plan.model_copy(update={"likely": (wrong, *others)})
    words = f"{first.low_min} to {first.high_min} from none is right without a log"
    assert words in breaches(told, 6)
    logged = with_risk(told, Spreads(Spread(0.1)), 50)
    assert words not in breaches(logged, 6)


def test_weeks_that_are_drawn_with_another_seed() -> None:
    assert "is drawn with seed 7, not that of the options" in found(seed=7)


@cache
def half_done() -> Plan:
    """A small week planned again at noon, some of its lines done."""
    orders = [line.model_copy(update={"quantity": 30}) for line in some_orders(8)]
    args = orders, some_stock(), a_week_shop()
    issued = make_plan(*args, options(seconds=0.2, lots=LotPolicy.BY_DUE_DATE))
    return with_risk(replan(issued, *args, options(seconds=0.2, start_min=720)), Spreads(), 500)


def test_a_week_that_is_planned_again_is_drawn_again_from_then_on() -> None:
    plan = half_done()
    assert audit(plan) == ()
    assert plan.risk is not None
    done = next(one for one in plan.risk.lines if one.low_min == one.high_min)
    lines = tuple(
        one.model_copy(update={"low_min": done.low_min - 1}) if one is done else one
        for one in plan.risk.lines
    )
    risk = plan.risk.model_copy(update={"lines": lines})
    words = f"{done.line}: has a low_min of {done.low_min - 1}; the weeks drawn again"
    assert words in breaches(plan.model_copy(update={"risk": risk}), 6)


@pytest.mark.parametrize(
    ("confidence", "pace", "right"),
    [
        *((50, 1.0, True), (50, 1.01, False), (80, 1.0, False)),
        *((80, 1.2341, True), (80, 1.2343, False), (80, 1.2339, False)),
    ],
)
def test_a_pace_is_that_of_the_confidence(confidence: int, pace: float, right: bool) -> None:
    """exp(√(0.15² + 0.2²) · 0.8416) = 1.2342, by hand with the quantile of 80 % from a table."""
    options = a_plan().options.model_copy(update={"confidence": confidence})
    stations = tuple(one.model_copy(update={"pace": pace}) for one in a_plan().shop.stations)
    shop = a_plan().shop.model_copy(update={"stations": stations})
    text = breaches(simulated().model_copy(update={"options": options, "shop": shop}), 6)
    assert (f"{stations[0].name}: has a pace of {pace}, its spread" not in text) == right
