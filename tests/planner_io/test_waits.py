"""A line with hours to spare may wait for somebody who is off the day after; who that is is told.

Bo bends 1187/1 on Tuesday until 8:40; the shop closes at 15:30.
"""

from __future__ import annotations

from planner.records import Plan
from planner.shop import HoursKind, HoursRow
from planner_io.views.index import Index
from planner_io.views.waits import Waits
from tests.planner_io.plans import a_plan

WEDNESDAY_9_00, THURSDAY_9_00 = 2 * 1440 + 540, 3 * 1440 + 540


def a_plan_with(*rows: HoursRow) -> Plan:
    plan = a_plan()
    shop = plan.shop.model_copy(update={"hours": (*plan.shop.hours, *rows)})
    return plan.model_copy(update={"shop": shop})


def off(who: str, weekday: int, start_min: int = 0) -> HoursRow:
    return HoursRow(who=who, weekday=weekday, kind=HoursKind.CLOSED, start_min=start_min)


def said(plan: Plan, latest_min: int = THURSDAY_9_00) -> str:
    return Waits(Index(plan)).words("1187/1", latest_min)


LEAVES_AT_TEN = off("Bo", 1, 10 * 60)


def test_who_is_off_the_day_after_is_named_with_the_day_of_coming_back() -> None:
    plan = a_plan_with(LEAVES_AT_TEN, off("Bo", 2))
    assert said(plan) == "L01.BEND not done by Tue 1 Dec 10:00 waits for Bo until Thu 3 Dec 7:00"
    both = a_plan_with(LEAVES_AT_TEN, off("Bo", 2), off("Bender", 2))
    assert "waits for Bender and Bo until Thu 3 Dec 7:00" in said(both)


def test_who_leaves_before_the_shop_closes_is_named_too() -> None:
    plan = a_plan_with(LEAVES_AT_TEN)
    assert said(plan) == "L01.BEND not done by Tue 1 Dec 10:00 waits for Bo until Wed 2 Dec 7:00"


def test_a_step_that_the_last_one_follows_may_be_what_waits() -> None:
    """On Monday Bo saws and notches 1187/2 at 11:28 and later, after what Ana has finished."""
    plan = a_plan_with(off("Ana", 0, 13 * 60), off("Ana", 1))
    expected = "L02.P2 not done by Mon 30 Nov 13:00 waits for Ana until Wed 2 Dec 7:00"
    assert Waits(Index(plan)).words("1187/2", THURSDAY_9_00) == expected


def test_what_is_done_hours_before_anybody_leaves_is_not_thought_to_run_over() -> None:
    assert said(a_plan_with(off("Bo", 2))) == ""
    assert Waits(Index(a_plan_with(off("Ana", 1)))).words("1187/2", THURSDAY_9_00) == ""


def test_a_night_is_no_wait_for_anybody() -> None:
    assert said(a_plan()) == ""
    assert said(a_plan_with(off("Ana", 1, 10 * 60))) == ""


def test_a_line_that_is_hardly_ever_that_late_waits_for_nobody() -> None:
    assert said(a_plan_with(LEAVES_AT_TEN, off("Bo", 2)), WEDNESDAY_9_00) == ""


def test_hours_in_which_the_whole_shop_is_closed_are_no_wait_for_anybody() -> None:
    assert said(a_plan_with(off("shop", 1, 10 * 60), off("shop", 2))) == ""
