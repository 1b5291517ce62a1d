"""Plans hold for a stranger too, who knows docs/plan.md and shares no code with the planner."""

from __future__ import annotations

import ast
import json
from pathlib import Path
from typing import Any

import pytest
from hypothesis import given, settings

from planner.errors import NoPlanError
from planner.plan import make_plan
from planner_io.plan_file import plan_bytes
from tests.audit.random_weeks import Week, weeks
from tests.audit.weeks import a_plan
from tests.checks.stranger import Stranger


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


def test_a_stranger_knows_nothing_of_the_planner() -> None:
    for path in (Path(__file__).parent / "stranger").glob("*.py"):
        for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
            if isinstance(node, ast.ImportFrom):
                assert not (node.module or "").startswith("planner")
