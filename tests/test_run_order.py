"""From a week to the engine's problem: time to spare before due dates."""

from __future__ import annotations

from typing import Any

from planner import schedule
from planner.drafts import Draft, draft
from planner.engines import Engines
from planner.lots import windowed
from planner.schedule import Term
from tests.week import DAY, a_desk, a_week_shop


def a_draft(**house: Any) -> Draft:
    shop = a_week_shop()
    desk = a_desk(shop=shop.model_copy(update={"house": shop.house.model_copy(update=house)}))
    groups = windowed(desk.free, desk.blanks, desk.due_min, 1)
    return draft(desk, groups, Engines().cutter(desk.options).quick)


def aims(made: Draft) -> set[int | None]:
    """Aims of the lines that are due on Tuesday at 15:30."""
    return {job.aim_min for job in made.problem.jobs if job.due_min == DAY + 930}


def test_lines_are_wanted_two_working_hours_ahead_of_their_due_times() -> None:
    assert aims(a_draft()) == {DAY + 810}
    assert aims(a_draft(spare_min=240)) == {DAY + 660}


def test_a_shop_may_want_no_time_to_spare() -> None:
    assert aims(a_draft(spare_min=0)) == {None}


def test_time_to_spare_is_weighed_against_changeovers_only_where_the_shop_says_so() -> None:
    assert a_draft().problem.levels == schedule.LEXICOGRAPHIC
    _, lateness, changeover, _ = a_draft(spare_worth_min=15).problem.levels
    assert lateness == {Term.LATENESS: 1}
    assert changeover[Term.TIGHTNESS] * 100 == 15 * changeover[Term.CHANGEOVER]
