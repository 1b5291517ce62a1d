"""From a week to the engine's problem: time to spare before due dates."""

from __future__ import annotations

from datetime import datetime
from typing import Any

import pytest

from planner import schedule
from planner.drafts import Draft, draft
from planner.engines import Engines
from planner.errors import InputError
from planner.lots import windowed
from planner.orders import Step
from planner.plan import make_plan
from planner.run_order import run_order_problem
from planner.schedule import Term
from planner.shop import Person
from planner.standing import Standing
from tests.trade import a_line, a_stick
from tests.week import DAY, SPECS, a_desk, a_week_shop, options, some_stock


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


def test_in_a_week_that_is_planned_again_a_minute_late_is_two_of_changeover() -> None:
    desk = a_desk()
    groups = windowed(desk.free, desk.blanks, desk.due_min, 1)
    made = draft(desk, groups, Engines().cutter(desk.options).quick)
    standing = Standing(lots=made.lots[:1])
    levels = run_order_problem(
        desk.shop, made.lots, made.operations, desk.orders, desk.due_min, desk.options, standing
    ).levels
    usable, weighed, rest = levels
    assert usable == {Term.VIOLATION: 1}
    assert weighed[Term.LATENESS] == 2 * weighed[Term.CHANGEOVER]
    assert weighed[Term.DISTURBANCE] == weighed[Term.OVERTIME] == weighed[Term.CHANGEOVER]
    assert rest == schedule.LEXICOGRAPHIC[-1]


def test_work_waits_for_its_tube_and_for_the_start_of_the_plan() -> None:
    def releases(**changes: Any) -> set[int]:
        lines = [a_line(order="7", spec=SPECS[0], due=datetime(2026, 12, 4, 15, 0))]
        stock = [a_stick(SPECS[0], lead_days=2)]
        desk = a_desk(lines, stock, **changes)
        groups = windowed(desk.free, desk.blanks, desk.due_min, 1)
        made = draft(desk, groups, Engines().cutter(desk.options).quick)
        return {one.release_min for one in made.problem.operations if one.key.endswith("P1")}

    assert releases() == {2 * DAY}
    assert releases(start_min=2 * DAY + 600) == {2 * DAY + 600}


def test_a_plan_that_begins_when_a_shift_ends_has_whole_hours_only() -> None:
    desk = a_desk(start_min=720)
    groups = windowed(desk.free, desk.blanks, desk.due_min, 1)
    problem = draft(desk, groups, Engines().cutter(desk.options).quick).problem
    schedule.check(problem)
    for station in problem.stations:
        assert station.hours is not None
        assert station.hours[0].start_min == 750


def test_work_that_finds_nobody_is_named_by_step_lot_and_order_line() -> None:
    shop = a_week_shop(people=(Person(name="Ann", stations=("Finisher", "Saw")),))
    line = a_line(order="7", spec=SPECS[0], due=datetime(2026, 12, 4, 15, 0))
    with pytest.raises(InputError) as refused:
        make_plan([line], some_stock((SPECS[0],)), shop, options(seconds=0.1))
    (message,) = (finding.message for finding in refused.value.findings)
    assert message.startswith("Pass 1 of lot L01 (7/1) finds nobody to do it at Finisher: ")


def test_operations_are_named_by_two_order_lines_and_how_many_more() -> None:
    desk = a_desk()
    groups = windowed(desk.free, desk.blanks, desk.due_min, None)
    made = draft(desk, groups, Engines().cutter(desk.options).quick)
    names = {one.key: one.name for one in made.problem.operations}
    lot = made.lots[0]
    assert len(lot.lines) == 3
    lines = f"({lot.lines[0]}, {lot.lines[1]} and 1 more)"
    assert names[f"{lot.key}.P2"] == f"pass 2 of lot {lot.key} {lines}"
    assert names[f"{lot.key}.SAW"] == f"saw of lot {lot.key} {lines}"
    bend = next(one for one in made.operations if one.step is Step.BEND)
    assert names[bend.key] == f"bend of lot {bend.lot} ({bend.line})"
