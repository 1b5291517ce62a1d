"""What is told of running work that somebody is off from, and of holds that leave no plan."""

from __future__ import annotations

from dataclasses import replace
from functools import cache

import pytest

from planner.audit import audit
from planner.errors import NoPlanError
from planner.held import HeldWhy
from planner.plan import make_plan
from planner.progress import Progress, State
from planner.records import Plan
from planner.replan import replan
from planner.shop import HoursKind, HoursRow, Person
from tests.week import MONDAY, a_week_shop, options, some_orders, some_stock

NOW = 440
PEOPLE = (
    Person(name="Ana", stations=("Finisher", "Saw", "Notcher", "Bender")),
    Person(name="Bo", stations=("Finisher", "Saw", "Notcher", "Bender")),
    Person(name="Cy", stations=("Saw", "Notcher", "Bender")),
)


@cache
def issued() -> Plan:
    shop = a_week_shop(people=PEOPLE)
    return make_plan(some_orders(6), some_stock(), shop, options(seconds=0.2))


def told(*off: str) -> tuple[list[str], list[str]]:
    """What is running at 7:20 when these are off, and what is told of it."""
    closed = tuple(HoursRow(who=name, day=MONDAY, kind=HoursKind.CLOSED) for name in off)
    shop = a_week_shop(people=PEOPLE)
    shop = shop.model_copy(update={"hours": (*shop.hours, *closed)})
    now = options(seconds=0.2, start_min=NOW)
    plan = replan(issued(), some_orders(6), some_stock(), shop, now)
    assert audit(plan) == ()
    assert plan.replan is not None
    running = [one.operation for one in plan.replan.held if one.why is HeldWhy.STARTED]
    return running, [one.message for one in plan.findings if "is running, but" in one.message]


def test_nothing_is_told_where_everybody_is_there() -> None:
    running, messages = told()
    assert running
    assert messages == []


@pytest.mark.parametrize("name", ["Ana", "Bo"])
def test_who_is_off_and_was_to_be_at_running_work_is_named(name: str) -> None:
    people = {slot.operation: slot.people for slot in issued().slots}
    running, messages = told(name)
    theirs = [key for key in running if name in people[key]]
    assert [message.partition(" ")[0] for message in messages] == theirs
    assert all(f"but {name}, who was to be at it, is off by now" in each for each in messages)


def test_two_who_are_off_are_named_together() -> None:
    people = {slot.operation: slot.people for slot in issued().slots}
    running, messages = told("Ana", "Bo")
    both = [key for key in running if set(people[key]) >= {"Ana", "Bo"}]
    assert both
    assert [
        each
        for each in messages
        if "go on without Ana and Bo" in each or "go on without Bo and Ana" in each
    ]


@pytest.mark.parametrize("name", ["Bo", "Cy"])
def test_who_is_reported_to_run_it_does_and_does_nothing_else_meanwhile(name: str) -> None:
    """Cy may not run the finisher by the sheet People, and does."""
    first = min(
        (one for one in issued().slots if one.station == "Finisher"), key=lambda one: one.start_min
    )
    start, later = first.start_min, first.start_min + 5
    others = {one.operation for one in issued().slots if one.setup_start_min <= later}
    rows = [
        Progress((first.operation,), State.STARTED, start, later + 120, people=(name,)),
        *(Progress((key,), State.OPEN) for key in sorted(others - {first.operation})),
    ]
    now = options(seconds=0.2, start_min=later)
    shop = a_week_shop(people=PEOPLE)
    plan = replan(issued(), some_orders(6), some_stock(), shop, now, rows)
    assert audit(plan) == ()
    assert plan.replan
    (held,) = (one for one in plan.replan.held if one.why is HeldWhy.STARTED)
    assert held.people == (name,)
    slots = {one.operation: one for one in plan.slots}
    assert slots[first.operation].people == (name,)
    theirs = [one for one in plan.slots if name in one.people and one.operation != first.operation]
    assert all(one.setup_start_min >= held.end_min for one in theirs)


def refusal(row: Progress) -> str:
    """Why there is no plan of the rest of the week with such a row."""
    with pytest.raises(NoPlanError) as refused:
        replan(
            issued(),
            some_orders(6),
            some_stock(),
            a_week_shop(people=PEOPLE),
            options(seconds=0.2, start_min=NOW),
            [row],
        )
    return str(refused.value)


def test_a_pin_that_what_is_before_it_does_not_allow_is_said_as_the_planner_would() -> None:
    last = max(issued().slots, key=lambda slot: slot.start_min)
    pin = Progress((last.operation,), State.PIN, start_min=NOW, end_min=NOW + 30, span=True)
    words = "is pinned to Mon 30 Nov 7:20 – Mon 30 Nov 7:50"
    assert f"{last.operation} {words}, but what is before it" in refusal(pin)
    there = replace(pin, station=last.station)
    assert f"{last.operation} {words} on {last.station}, but what is before" in refusal(there)


def test_a_week_that_does_not_fit_behind_running_work_is_said_so() -> None:
    first = min(issued().slots, key=lambda slot: slot.start_min)
    end = (issued().options.days - 1) * 1440 + 900
    begun = Progress((first.operation,), State.STARTED, min(first.start_min, NOW), end)
    assert "The week does not fit into its 28 days" in refusal(begun)
