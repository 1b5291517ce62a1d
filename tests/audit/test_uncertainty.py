"""Invariant 6 catches chances that are no shares, lines that nobody has, and ranges upside down."""

from __future__ import annotations

from functools import cache
from typing import Any

import pytest

from planner.audit import audit
from planner.confidence import Spreads
from planner.finisher.intervals import nothing_logged, with_likely
from planner.options import LotPolicy
from planner.plan import make_plan
from planner.records import Plan
from planner.replan import replan
from planner.risk import with_risk
from planner.uncertainty import LineChance, Risk
from tests.audit.edits import breaches, edited
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


@pytest.mark.parametrize("chance", [-0.1, 1.2, float("nan")])
def test_a_chance_that_is_no_share(chance: float) -> None:
    assert "which is no share" in with_first_line(chance=chance)


def test_lines_and_stations_that_the_plan_has_not() -> None:
    assert "other order lines" in with_first_line(line="9999/9")
    assert "other order lines" in found(lines=risk().lines[1:])
    assert "other stations" in found(spreads=risk().spreads[1:])


def test_ranges_upside_down_and_weeks_that_nobody_simulated() -> None:
    assert "likely range" in with_first_line(low_min=10**6)
    assert "changeovers: has a likely range" in found(changeover_low_min=10**6)
    assert "rests on 0 simulated weeks" in found(weeks=0)


def with_all(line: LineChance, chance: float, minute: int) -> LineChance:
    """A line that is done at one minute in all weeks."""
    same = dict.fromkeys(("low_min", "median_min", "high_min"), minute)
    return line.model_copy(update={"chance": chance, **same})


def test_certain_weeks_and_lines_that_are_never_in_time_hold() -> None:
    first, *others = risk().lines
    due = a_plan().done[0].due_min
    lines = (with_all(first, 0.0, due + 1), *(with_all(line, 1.0, 9) for line in others))
    still = tuple(one.model_copy(update={"run": 0.0, "setup": 0.0}) for one in risk().spreads)
    assert found(lines=lines, spreads=still, all_on_time=0.0, weeks=1) == ""


def test_a_spread_below_zero() -> None:
    first, *others = risk().spreads
    for name in ("run", "setup"):
        spreads = (first.model_copy(update={name: -0.1}), *others)
        assert f"{first.station}: has a spread below zero" in found(spreads=spreads)


def test_everything_on_time_more_often_than_one_line() -> None:
    assert "more often than one of them" in found(all_on_time=1.0)


def test_all_late_more_often_than_the_lines_are() -> None:
    words = "late more often than all of them, one by one, added up"
    lines = tuple(line.model_copy(update={"chance": 0.9}) for line in risk().lines)
    least = 1 - 0.1 * len(lines)
    assert words not in found(lines=lines, all_on_time=least)
    assert words in found(lines=lines, all_on_time=least - 0.01)


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


@pytest.mark.parametrize(
    ("chance", "field", "by", "right"),
    [
        *((0.904, "high_min", 0, True), (0.904, "high_min", 1, False)),
        *((0.896, "high_min", 0, True), (0.896, "high_min", -1, False)),
        *((0.502, "median_min", 0, True), (0.502, "median_min", 1, False)),
        *((0.498, "median_min", 0, True), (0.498, "median_min", -1, False)),
        *((0.104, "low_min", 0, True), (0.104, "low_min", 1, False)),
        *((0.096, "low_min", 0, True), (0.096, "low_min", -1, False)),
        *((0.9, "high_min", 1, True), (0.9, "high_min", -1, True)),
    ],
)
def test_a_chance_and_a_quantile_lie_on_one_side_of_the_due_time(
    chance: float, field: str, by: int, right: bool
) -> None:
    first = risk().lines[-1]
    due = a_plan().done[-1].due_min
    shares = {"low_min": 0.1, "median_min": 0.5, "high_min": 0.9}
    told = {
        name: due + (by if name == field else (1 if share > shares[field] else -1) * 50)
        for name, share in shares.items()
    }
    line = first.model_copy(update={"chance": chance, **told})
    text = found(lines=(*risk().lines[:-1], line))
    assert (f"{line.line}: is on time in {round(chance * 500)} of 500 weeks" not in text) == right


def test_a_chance_that_is_no_number_of_weeks() -> None:
    assert "which is no share of 500 weeks" in with_first_line(chance=0.0011)
    assert "which is no share of 500 weeks" in found(all_on_time=risk().all_on_time + 1e-4)
    assert "which is no share" not in with_first_line(chance=0.002)


def test_weeks_that_are_drawn_with_another_seed() -> None:
    assert "is drawn with seed 7, not that of the options" in found(seed=7)


def test_no_line_is_done_before_its_work_can_begin() -> None:
    options = a_plan().options.model_copy(update={"start_min": 400})
    for low, right in ((400, True), (399, False)):
        line = risk().lines[-1].model_copy(update={"low_min": low})
        new = risk().model_copy(update={"lines": (*risk().lines[:-1], line)})
        text = breaches(a_plan().model_copy(update={"options": options, "risk": new}), 6)
        assert (f"{line.line}: is likely to be done before its work" not in text) == right


@cache
def half_done() -> Plan:
    """A small week planned again at noon, some of its lines done."""
    orders = [line.model_copy(update={"quantity": 30}) for line in some_orders(8)]
    args = orders, some_stock(), a_week_shop()
    issued = make_plan(*args, options(seconds=0.2, lots=LotPolicy.BY_DUE_DATE))
    return with_risk(replan(issued, *args, options(seconds=0.2, start_min=720)), Spreads(), 500)


def test_what_is_done_is_so_in_all_weeks() -> None:
    plan = half_done()
    assert audit(plan) == ()
    assert plan.risk is not None
    open_ = {one.line for one in plan.risk.lines if one.low_min < one.high_min}
    done = next(one for one in plan.risk.lines if one.line not in open_)
    words = f"{done.line}: is done by now, and not said to be so in all weeks"
    for changes in (
        {"low_min": done.low_min - 1},
        {"high_min": done.high_min + 1},
        {"chance": 1 - done.chance},
    ):
        lines = tuple(
            one.model_copy(update=changes) if one is done else one for one in plan.risk.lines
        )
        risk = plan.risk.model_copy(update={"lines": lines})
        assert words in breaches(plan.model_copy(update={"risk": risk}), 6)
    just = edited(plan, "done", lambda one: one.line == done.line, due_min=done.low_min)
    assert words not in breaches(just, 6)


@pytest.mark.parametrize(
    ("confidence", "pace", "right"),
    [
        *((50, 1.0, True), (50, 1.01, False), (80, 1.0, False)),
        *((80, 1.1345, True), (80, 1.1347, False), (80, 1.1343, False)),
    ],
)
def test_a_pace_is_that_of_the_confidence(confidence: int, pace: float, right: bool) -> None:
    """exp(0.15 · 0.8416) = 1.1346, by hand with the quantile of 80 % from a table."""
    options = a_plan().options.model_copy(update={"confidence": confidence})
    stations = tuple(one.model_copy(update={"pace": pace}) for one in a_plan().shop.stations)
    shop = a_plan().shop.model_copy(update={"stations": stations})
    text = breaches(simulated().model_copy(update={"options": options, "shop": shop}), 6)
    assert (f"{stations[0].name}: has a pace of {pace}, its spread" not in text) == right
