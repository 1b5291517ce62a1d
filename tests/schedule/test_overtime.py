"""Overtime is worked only where it makes the plan better."""

from __future__ import annotations

from dataclasses import replace

import pytest

from planner.schedule import (
    Alternative,
    Base,
    Fixed,
    Interval,
    Job,
    Operation,
    Person,
    Problem,
    Result,
    Rule,
    Station,
    Term,
    solve,
)
from planner.stop import Stop
from tests.schedule.audit import assert_schedule_valid

WITH_OVERTIME = (
    Interval(0, 100),
    Interval(100, 150, overtime_price=2),
    Interval(1000, 1100),
    Interval(1100, 1150, overtime_price=2),
    Interval(2000, 2100),
)


def a_week(due_min: int, minutes: int = 120) -> Problem:
    return Problem(
        stations=(Station("m", hours=WITH_OVERTIME),),
        operations=(Operation("a", (Alternative("m", minutes),)),),
        jobs=(Job("a", due_min, ("a",)),),
        horizon_min=3000,
    )


def solved(problem: Problem) -> Result:
    result = solve(problem, Stop(), seconds=0.05)
    assert_schedule_valid(problem, result)
    return result


def test_a_punctual_week_works_no_overtime() -> None:
    result = solved(a_week(due_min=1020))
    assert result.placed[0].pieces == ((0, 100), (1000, 1020))
    assert result.figures.terms[Term.OVERTIME] == 0


def test_overtime_that_saves_lateness_is_worked_and_priced() -> None:
    result = solved(a_week(due_min=140))
    assert result.placed[0].pieces == ((0, 120),)
    assert result.figures.terms[Term.OVERTIME] == 40


def test_overtime_that_saves_nothing_is_left_out_again() -> None:
    result = solved(a_week(due_min=140, minutes=260))
    assert result.placed[0].end_min == 1110
    assert result.figures.terms[Term.OVERTIME] == 2 * 60


def test_rules_decide_in_the_hours_that_are_worked() -> None:
    """In overtime `first` would end before `soon` arrives; without it `first` ends on the next day,
    when `soon` is there and due before `late`."""
    week = Problem(
        bases=(Base("m", rules=(Rule("od", 45),), mounted={"od": "A"}),),
        stations=(Station("m", hours=WITH_OVERTIME),),
        operations=(
            Operation("first", (Alternative("m", 110),), {"od": "A"}),
            Operation("soon", (Alternative("m", 10),), {"od": "A"}, release_min=900),
            Operation("late", (Alternative("m", 30),), {"od": "B"}),
        ),
        jobs=(
            Job("1", 1020, ("first",)),
            Job("2", 1050, ("soon",)),
            Job("3", 2050, ("late",)),
        ),
        horizon_min=3000,
    )
    result = solved(week)
    assert result.figures.terms[Term.OVERTIME] == 0
    by_due = sorted(result.rule_orders["due date"], key=lambda placed: placed.start_min)
    assert [placed.operation for placed in by_due] == ["first", "soon", "late"]
    assert result.rules["due date"].terms[Term.LATENESS] == 0


def test_locked_work_in_overtime_is_priced_and_lets_in_no_other() -> None:
    week = a_week(due_min=1100, minutes=100)
    locked = Operation("b", (Alternative("m", 30),), fixed=Fixed(90, 120, "m"))
    result = solved(replace(week, operations=(*week.operations, locked)))
    placed = {each.operation: each for each in result.placed}
    assert placed["a"].pieces == ((1000, 1100),)
    assert result.figures.terms[Term.OVERTIME] == 2 * 20


def a_week_with_a_saturday(due_min: int) -> Problem:
    """Two jobs at `m` on weekdays, or at `n`, which only Zed may run and only on Saturday."""
    week = tuple(Interval(day * 1440, day * 1440 + 300) for day in range(4))
    saturday = (Interval(7200, 7500, overtime_price=2),)
    ways = (Alternative("n", 100), Alternative("m", 140))
    return Problem(
        stations=(Station("m", hours=week), Station("n", hours=saturday)),
        operations=(Operation("a", ways), Operation("b", (*ways[:1], Alternative("m", 100)))),
        jobs=(Job("a", 100, ("a",)), Job("b", due_min, ("b",))),
        people=(Person("Ann", ("m",), week), Person("Zed", ("n",), saturday)),
        horizon_min=10000,
    )


@pytest.mark.parametrize("due_min", [60, 240])
def test_a_station_that_is_run_in_overtime_only_is_left_alone_where_that_saves_nothing(
    due_min: int,
) -> None:
    result = solved(a_week_with_a_saturday(due_min))
    assert {each.station for each in result.placed} == {"m"}
    assert result.figures.terms[Term.OVERTIME] == 0


def test_a_station_that_is_run_in_overtime_only_is_used_for_what_has_no_place_elsewhere() -> None:
    week = a_week_with_a_saturday(240)
    long = Operation("c", (Alternative("m", 1000),))
    result = solved(replace(week, operations=(*week.operations, long)))
    assert {each.station for each in result.placed} == {"m", "n"}
    assert result.figures.terms[Term.OVERTIME] > 0


def test_what_a_rule_comes_to_is_counted_in_the_hours_in_which_it_is_shown() -> None:
    result = solved(a_week(due_min=1020))
    assert result.rules
    for name, (placed,) in result.rule_orders.items():
        assert result.rules[name].terms[Term.COMPLETION] == placed.end_min
