"""Invariant 6 catches other orders of the week that cannot be, or come to something else."""

from __future__ import annotations

import re
from collections.abc import Callable
from functools import cache

import pytest

from planner.audit import audit
from planner.options import Options
from planner.orders import Step
from planner.records import Plan
from planner.replan import replan
from planner.shop import What
from planner.yardsticks import BY_DUE_DATE, Placing, Yardstick
from tests.audit.edits import Change, breaches, edited, operation_of
from tests.audit.test_lost import again as after_losses
from tests.audit.weeks import MONDAY, a_plan, orders, shop, stock


def found(plan: Plan) -> str:
    return breaches(plan, 6)


def by_due_date(plan: Plan) -> Yardstick:
    (one,) = (one for one in plan.yardsticks if one.name == BY_DUE_DATE)
    return one


def with_due(**changes: Change) -> Plan:
    return edited(a_plan(), "yardsticks", lambda one: one.name == BY_DUE_DATE, **changes)


def with_placing(
    operation: str, change: Callable[[Placing], Placing], name: str = BY_DUE_DATE
) -> Plan:
    def placings(one: Yardstick) -> tuple[Placing, ...]:
        return tuple(
            change(placing) if placing.operation == operation else placing
            for placing in one.placings
        )

    return edited(a_plan(), "yardsticks", lambda one: one.name == name, placings=placings)


def later(minutes: int) -> Callable[[Placing], Placing]:
    def moved(placing: Placing) -> Placing:
        pieces = tuple((begin + minutes, end + minutes) for begin, end in placing.pieces)
        start = placing.setup_start_min + minutes
        return placing.model_copy(update={"setup_start_min": start, "pieces": pieces})

    return moved


def test_every_order_but_that_of_the_plan_has_all_its_work() -> None:
    this, *others = a_plan().yardsticks
    assert this.placings == ()
    assert len(others) == 5
    for one in others:
        assert {placing.operation for placing in one.placings} == {
            operation.key for operation in a_plan().operations
        }
    assert audit(a_plan()) == ()


@cache
def planned_again() -> Plan:
    issued = a_plan()
    return replan(issued, orders(), stock(), shop(), Options(start=MONDAY, start_min=600))


@pytest.mark.parametrize("plan", [planned_again, after_losses])
def test_the_orders_of_a_week_that_is_planned_again_hold_too(plan: Callable[[], Plan]) -> None:
    assert {one.name for one in plan().yardsticks} >= {"as issued", BY_DUE_DATE}
    assert audit(plan()) == ()


@pytest.mark.parametrize("name", ["late_lines", "weighted_late_min"])
def test_lateness_that_is_not_that_of_the_order(name: str) -> None:
    right = getattr(by_due_date(a_plan()), name)
    text = f"{BY_DUE_DATE}: its yardstick says {name} {right + 1}, {right} is right"
    assert text in found(with_due(**{name: right + 1}))


def test_changeover_minutes_that_are_not_those_of_the_order() -> None:
    right = by_due_date(a_plan())
    more = {**right.by_what, What.OD: right.by_what[What.OD] + 60}
    plan = with_due(by_what=more, changeover_min=right.changeover_min + 60)
    text = f"changeover_min {right.changeover_min + 60}, {right.changeover_min} is right"
    assert f"{BY_DUE_DATE}: its yardstick says {text}" in found(plan)
    assert f"says {more[What.OD]} minutes of OD, {right.by_what[What.OD]} is right" in found(plan)


def test_work_that_is_left_out_or_done_twice() -> None:
    def fewer(one: Yardstick) -> tuple[Placing, ...]:
        return one.placings[1:]

    def twice(one: Yardstick) -> tuple[Placing, ...]:
        return (*one.placings, one.placings[0])

    key = by_due_date(a_plan()).placings[0].operation
    assert f"{BY_DUE_DATE}: places {key} 0 times" in found(with_due(placings=fewer))
    assert f"{BY_DUE_DATE}: places {key} 2 times" in found(with_due(placings=twice))


@pytest.mark.parametrize(
    ("changes", "words"),
    [
        ({"station": "Bender"}, "on Bender, which is none of its own"),
        ({"people": ("Zoe",)}, "by people who are not in the shop"),
        ({"pieces": ()}, "at no time"),
        ({"operation": "L99.SAW"}, "places L99.SAW 1 times"),
    ],
)
def test_names_and_times_that_mean_nothing(changes: dict[str, object], words: str) -> None:
    saw = operation_of("1187/1", Step.SAW)
    assert words in found(with_placing(saw, lambda one: one.model_copy(update=changes)))


def test_work_out_of_hours_or_before_what_it_waits_for() -> None:
    saw = operation_of("1187/1", Step.SAW)
    assert f"in this order, {saw}: works out of hours" in found(with_placing(saw, later(10_000)))
    early = found(with_placing(saw, later(-100)))
    assert re.search(f"in this order, {saw}: begins \\d+ minutes before it is ready", early)


def test_a_person_at_two_things_at_once() -> None:
    pairs = [
        (one, other)
        for one in by_due_date(a_plan()).placings
        for other in by_due_date(a_plan()).placings
        if one.station != other.station
        and one.pieces[0][0] < other.pieces[0][0] < one.pieces[-1][1]
        and len(other.people) == 1
    ]
    one, other = pairs[0]
    plan = with_placing(
        other.operation, lambda placing: placing.model_copy(update={"people": one.people[:1]})
    )
    text = f"in this order, {one.people[0]}: does "
    assert re.search(f"{text}.*{other.operation}.* at once", found(plan))


def test_another_order_that_is_called_by_due_date() -> None:
    """The order by OD has other work first, so it is no order by due date."""
    orders = tuple(
        one.model_copy(update={"name": BY_DUE_DATE})
        for one in a_plan().yardsticks
        if one.name == "by OD"
    )
    first = a_plan().yardsticks[0]
    text = found(a_plan().model_copy(update={"yardsticks": (first, *orders)}))
    assert "which waits and is due earlier" in text


def test_held_work_stays_in_every_order() -> None:
    plan = planned_again()
    held = plan.replan.held[0].operation if plan.replan else ""

    def placings(one: Yardstick) -> tuple[Placing, ...]:
        return tuple(
            later(1)(placing) if placing.operation == held else placing for placing in one.placings
        )

    moved = edited(plan, "yardsticks", lambda one: one.name == "by OD", placings=placings)
    assert f"by OD: in this order, {held}: is " in breaches(moved, 6)
