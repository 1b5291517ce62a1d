"""Plans hold for a stranger too, who knows docs/plan.md and shares no code with the planner."""

from __future__ import annotations

import ast
import json
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest
from hypothesis import given, settings

from planner.confidence import Spread, Spreads, confident_shop
from planner.errors import NoPlanError
from planner.options import Options
from planner.plan import make_plan
from planner.records import Plan
from planner.risk import with_risk
from planner.shop import HoursKind, HoursRow
from planner_io.plan_file import plan_bytes
from tests.audit.random_weeks import Week, weeks
from tests.audit.test_lost import again as after_losses
from tests.audit.weeks import MONDAY, a_plan, orders, shop, stock
from tests.checks.stranger import Stranger
from tests.checks.stranger.weeks import Weeks


def planned_surely() -> Plan:
    """At the minutes that 80 of 100 runs keep, with overtime offered on some evenings."""
    over = HoursRow(weekday=0, kind=HoursKind.OVERTIME, start_min=930, end_min=1080)
    made = shop().model_copy(update={"hours": (*shop().hours, over)})
    sure = confident_shop(made, 80, WIDE)
    return make_plan(orders(), stock(), sure, Options(start=MONDAY, seconds=0.4, confidence=80))


def as_json() -> dict[str, Any]:
    plan: dict[str, Any] = json.loads(plan_bytes(a_plan()))
    return plan


def test_a_plan_holds_for_a_stranger() -> None:
    assert list(Stranger(as_json()).faults()) == []


@settings(max_examples=15)
@given(weeks())
def test_random_weeks_hold_for_a_stranger(week: Week) -> None:
    try:
        plan = make_plan(*week)
    except NoPlanError:
        return
    assert list(Stranger(json.loads(plan_bytes(plan))).faults()) == []


@pytest.mark.parametrize(
    ("part", "field", "by"),
    [
        ("blanks", "length_nm", 1_000),
        ("cut_lists", "cost_cents", 1),
        ("cut_lists", "floor_cents", 10**9),
        ("slots", "setup_min", 1),
        ("slots", "minutes", 1),
        ("slots", "start_min", -3),
        ("slots", "end_min", 900),
        ("done", "done_min", 1),
        ("late", "late_min", 1),
        ("buy", "count", 1),
        ("ledger", "minutes", 1),
        ("yardsticks", "changeover_min", 1),
        ("floors", "floor", 10**9),
    ],
)
def test_a_stranger_finds_what_does_not_hold(part: str, field: str, by: int) -> None:
    plan = as_json()
    plan[part][0][field] += by
    assert list(Stranger(plan).faults()) != []


@pytest.mark.parametrize("field", ["changeover_min", "late_lines", "late_min"])
def test_a_stranger_finds_that_another_order_comes_to_something_else(field: str) -> None:
    plan = as_json()
    for one in plan["yardsticks"][1:]:
        one[field] += 1
    others = [fault.partition(":")[0] for fault in Stranger(plan).faults()]
    assert others == [one["name"] for one in plan["yardsticks"][1:]]


def test_a_stranger_finds_that_an_order_is_none_by_due_date() -> None:
    plan = as_json()
    this, *others = plan["yardsticks"]
    (by_od,) = (one for one in others if one["name"] == "by OD")
    plan["yardsticks"] = [this, {**by_od, "name": "by due date"}]
    faults = list(Stranger(plan).faults())
    assert faults
    assert all("goes before" in fault for fault in faults)


WIDE = Spreads(Spread(0.15, 0.25, 0.3, 0.1))


@pytest.mark.parametrize(
    ("plan", "weeks"), [(a_plan, 1_050), (after_losses, 60), (planned_surely, 60)]
)
def test_the_simulated_weeks_are_the_same_for_a_stranger(
    plan: Callable[[], Plan], weeks: int
) -> None:
    drawn = json.loads(plan_bytes(with_risk(plan(), WIDE, weeks)))
    assert list(Weeks(drawn).risk()) == []
    drawn["risk"]["lines"][0]["chance"] += 1 / weeks
    drawn["risk"]["changeover_high_min"] += 1
    assert len(list(Weeks(drawn).risk())) == 2


def test_a_stranger_knows_nothing_of_the_planner() -> None:
    for path in (Path(__file__).parent / "stranger").glob("*.py"):
        for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
            if isinstance(node, ast.ImportFrom):
                assert not (node.module or "").startswith("planner")
