"""Weeks planned again hold for a stranger too, and what is bent about their records shows."""

from __future__ import annotations

import json
from collections.abc import Callable
from functools import cache
from typing import Any

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from planner.errors import InputError, NoPlanError
from planner.plan import make_plan
from planner.records import Plan
from planner.replan import Progress, State, replan
from planner.replan.scrap import Scrapped
from planner.scrap import Scrap
from planner_io.plan_file import plan_bytes
from tests.audit.random_weeks import Week, weeks
from tests.audit.test_lost import again as after_losses
from tests.checks.stranger import Stranger
from tests.week import a_week_shop, options, some_orders, some_stock

Json = dict[str, Any]
DAY = 1440


@cache
def again() -> Plan:
    """A week planned again on its first day: passes done, one that gave way to another, one
    operation locked, one pinned, and a piece lost."""
    lines = [line.model_copy(update={"quantity": 60}) for line in some_orders(6)]
    args = lines, some_stock(), a_week_shop()
    issued = make_plan(*args, options(seconds=0.2))
    finishing = sorted(
        (one for one in issued.slots if one.operation.endswith(".P1")),
        key=lambda one: one.start_min,
    )
    done, gave_way, *_, put_in = finishing
    begun = gave_way.start_min
    last = sorted(issued.slots, key=lambda slot: slot.start_min)
    rows = (
        Progress((gave_way.operation,), State.PAUSED, begun, begun + 6, pieces=1),
        Progress((put_in.operation,), State.STARTED, begun + 25, pieces=1),
        Progress((last[-2].operation,), State.LOCK),
        Progress((last[-1].operation,), State.PIN, 4 * DAY, 5 * DAY, span=True),
    )
    lot = next(one.lot for one in issued.operations if one.key == done.operation)
    line = next(one.lines[0] for one in issued.lots if one.key == lot)
    lost = Scrapped(Scrap(operation=done.operation, line=line, pieces=1))
    now = options(seconds=0.2, start_min=begun + 30)
    return replan(issued, *args, now, rows, scrapped=[lost])


def as_json() -> Json:
    plan: Json = json.loads(plan_bytes(again()))
    return plan


def faults(plan: Json) -> str:
    return "\n".join(Stranger(plan).faults())


@pytest.mark.parametrize("plan", [again, after_losses])
def test_a_week_planned_again_holds_for_a_stranger(plan: Callable[[], Plan]) -> None:
    assert faults(json.loads(plan_bytes(plan()))) == ""


def test_the_week_has_all_that_a_record_may_say() -> None:
    replanned = again().replan
    assert replanned
    whys = {one.why.value for one in replanned.held}
    assert whys == {"done", "started", "locked", "pinned"}
    assert replanned.paused
    assert replanned.scrap
    assert replanned.moved


@settings(max_examples=10)
@given(weeks(), st.integers(420, 2 * DAY))
def test_random_weeks_planned_again_hold_for_a_stranger(week: Week, now: int) -> None:
    try:
        issued = make_plan(*week)
        first = week[3].start_min
        later = week[3].model_copy(update={"start_min": max(now, first)})
        plan = replan(issued, week[0], week[1], week[2], later)
    except (NoPlanError, InputError):
        assume(False)
        return
    assert faults(json.loads(plan_bytes(plan))) == ""


def held(plan: Json, why: str) -> Json:
    """Work held for this, as it was recorded on the floor rather than as it was issued."""
    found: list[Json] = [one for one in plan["replan"]["held"] if one["why"] == why]
    return max(found, key=lambda one: bool(one["actual"]))


@pytest.mark.parametrize(
    ("why", "field", "value", "words"),
    [
        ("done", "end_min", 5 * DAY, "is done after now"),
        ("done", "start_min", 0, "at times that are not in order"),
        ("done", "station", "Saw", "not where its slot is"),
        ("done", "exact", False, "and to no minute"),
        ("done", "pieces", 1, "is done with 1 of"),
        ("started", "end_min", 430, "runs, and not now"),
        ("started", "pieces", 10_000, "is started with 10000 of"),
        ("started", "actual", False, "and was issued elsewhere"),
        ("locked", "start_min", 430, "and was issued elsewhere"),
        ("locked", "people", ["Ann"], "is locked to others"),
        ("pinned", "end_min", 430, "is not within the time to which it is pinned"),
        ("pinned", "exact", True, "is not at the time to which it is pinned"),
        ("pinned", "station", "Saw 9", "is pinned to another station"),
    ],
)
def test_a_stranger_finds_held_work_that_is_not_so(
    why: str, field: str, value: object, words: str
) -> None:
    plan = as_json()
    held(plan, why)[field] = value
    assert words in faults(plan)


@pytest.mark.parametrize(
    ("field", "value", "words"),
    [
        ("left", 0, "stands still with 0 of"),
        ("left", 1, "by the model"),
        ("end_min", 5 * DAY, "or after now"),
        ("setup_start_min", 5 * DAY, "before it began"),
        ("changes", [], "by the table"),
        ("start_min", 0, "was begun before"),
        ("station", "Saw", "was begun where it cannot be done"),
        ("pieces", 10_000, "stood still with 10000 done"),
    ],
)
def test_a_stranger_finds_what_cannot_stand_still_so(field: str, value: object, words: str) -> None:
    plan = as_json()
    part = plan["replan"]["paused"][0]
    if field == "start_min":
        before = held(plan, "done")["operation"]
        for one in plan["operations"]:
            one["after"] += [before] if one["key"] == part["operation"] else []
    part[field] = value
    assert words in faults(plan)


def edited(part: str, **changes: object) -> Json:
    """The plan with the first row of a part of its record changed; with none, without that row."""
    plan = as_json()
    rows: list[Json] = plan["replan"][part]
    if changes:
        rows[0].update(changes)
    else:
        rows.pop(0)
    return plan


def moved_to(minute: int) -> Json:
    """Where the first operation that moved is, but at another minute."""
    replan: Json = as_json()["replan"]
    return {**replan["moved"][0]["after"], "start_min": minute}


@pytest.mark.parametrize(
    ("part", "changes", "words"),
    [
        ("moved", {}, "moved are"),
        ("moved", {"before": None}, "did not move as it is listed"),
        ("moved", {"after": moved_to(5)}, "did not move as it is listed"),
        ("paused", {}, "by the model"),
        ("held", {}, "its changeover is not before it"),
        ("issued", {"end_min": 1}, "was issued at times"),
        ("scrap", {"pieces": 10_000}, "has lost 10000 of"),
        ("scrap", {"line": "9/9"}, "does not work on 9/9"),
        ("scrap", {"told_at": "L99"}, "has lost nothing at L99"),
    ],
)
def test_a_stranger_finds_a_record_that_is_bent(part: str, changes: Json, words: str) -> None:
    assert words in faults(edited(part, **changes))


@pytest.mark.parametrize(("part", "words"), [("issued", "is issued 2"), ("scrap", "is lost 2")])
def test_a_stranger_finds_what_is_said_twice(part: str, words: str) -> None:
    plan = as_json()
    plan["replan"][part].append(plan["replan"][part][0])
    assert words in faults(plan)


def test_a_stranger_finds_other_days_of_planning_and_ordering() -> None:
    plan = as_json()
    plan["replan"]["now_min"] = 1
    plan["lots"][0]["ordered_day"] = 1
    assert "at another time than its first" in faults(plan)
    assert "is ordered on day 1" in faults(plan)


@cache
def gone_on() -> Plan:
    """The same week once more, as planned, when what stood still has gone on for a while."""
    before = again()
    assert before.replan
    (part,) = before.replan.paused
    rest = next(one for one in before.slots if one.operation == part.operation)
    now = options(seconds=0.2, start_min=rest.start_min + 5)
    orders = [line for line in before.orders if "+" not in line.key]
    return replan(before, orders, before.stock, before.shop, now)


def test_what_went_on_after_it_stood_still_holds_for_a_stranger() -> None:
    replanned = gone_on().replan
    assert replanned
    assert replanned.resumed
    assert not replanned.paused
    assert faults(json.loads(plan_bytes(gone_on()))) == ""


@pytest.mark.parametrize(
    ("changes", "words"),
    [
        ({"end_min": 1_000}, "goes on before the end of a part"),
        ({"left": 0}, "stands still with 0 of"),
        ({"changes": []}, "by the table"),
        ({"station": "Saw"}, "was begun where it cannot be done"),
    ],
)
def test_a_stranger_finds_a_part_that_cannot_have_been(changes: Json, words: str) -> None:
    plan = json.loads(plan_bytes(gone_on()))
    plan["replan"]["resumed"][0].update(changes)
    assert words in faults(plan)


def test_a_stranger_finds_that_what_went_on_is_neither_done_nor_running() -> None:
    plan = json.loads(plan_bytes(gone_on()))
    (part,) = plan["replan"]["resumed"]
    plan["replan"]["held"] = [
        one for one in plan["replan"]["held"] if one["operation"] != part["operation"]
    ]
    assert "went on, and neither runs nor stands still" in faults(plan)
