"""Simulated weeks: the plan itself without spread, closed forms with it, and a slow twin."""

from dataclasses import replace
from datetime import datetime, timedelta
from math import exp
from statistics import NormalDist
from typing import Any

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from planner.confidence import Spread, Spreads
from planner.plan import make_plan
from planner.replan import replan
from planner.risk import week_of
from planner.shop import HoursKind, HoursRow, SawSettings, Shop, StationKind
from planner.simulation import Hours, Line, Task, WeekProblem, simulate
from tests.week import a_week_shop, options, some_orders, some_stock

DAY = ((480, 720), (750, 990), (1920, 2160), (2190, 2430))
STILL = Spread(0, 0, 0, 0)


def a_task(key: str = "A", run: int = 100, setup: int = 0, **changes: Any) -> Task:
    usual = Task(
        key=key,
        base=0,
        people=(),
        hours=0,
        own_hours=0,
        setup_min=setup,
        run_min=run,
        spread=STILL,
    )
    return replace(usual, **changes)


def a_week(*tasks: Task, due: int = 10_000, **changes: Any) -> WeekProblem:
    lines = tuple(Line(task.key, due, number) for number, task in enumerate(tasks))
    bases = max(task.base for task in tasks) + 1
    people = max((p + 1 for task in tasks for p in task.people), default=0)
    usual = WeekProblem(tasks, lines, (DAY,), bases, people)
    return replace(usual, **changes)


def ends(problem: WeekProblem) -> dict[str, int]:
    return {line.key: line.median_min for line in simulate(problem, 1, 2).lines}


@pytest.mark.parametrize("unattended", [False, True])
def test_without_spread_every_line_ends_when_the_plan_says(unattended: bool) -> None:
    shop = a_week_shop()
    saw = SawSettings(unattended=unattended)
    stations = tuple(
        s.model_copy(update={"saw": saw}) if s.kind is StationKind.SAW else s for s in shop.stations
    )
    shop = shop.model_copy(update={"stations": stations})
    plan = make_plan(some_orders(), some_stock(), shop, options(seconds=1))
    result = simulate(week_of(plan, Spreads(STILL)), 1, 2)
    assert {line.key: line.median_min for line in result.lines} == {
        done.line: done.done_min for done in plan.done
    }
    changeover = sum(slot.setup_min for slot in plan.slots)
    assert result.changeover_low_min == result.changeover_high_min == changeover


def with_overtime(shop: Shop, start: int, end: int) -> Shop:
    rows = tuple(
        HoursRow(weekday=day, kind=HoursKind.OVERTIME, start_min=start, end_min=end)
        for day in range(5)
    )
    return shop.model_copy(update={"hours": (*shop.hours, *rows)})


@pytest.mark.parametrize("due_day", [1, 4])
def test_overtime_that_the_plan_leaves_out_is_not_worked(due_day: int) -> None:
    shop = with_overtime(a_week_shop(), 930, 1080)
    due = datetime(2026, 11, 29, 15, 30) + timedelta(days=due_day)
    orders = [line.model_copy(update={"due": due, "quantity": 40}) for line in some_orders()]
    plan = make_plan(orders, some_stock(), shop, options(seconds=1))
    result = simulate(week_of(plan, Spreads(STILL)), 1, 2)
    assert {line.key: line.median_min for line in result.lines} == {
        done.line: done.done_min for done in plan.done
    }


@pytest.mark.parametrize("now", [500, 640, 1000])
def test_a_week_planned_again_is_simulated_from_now_on(now: int) -> None:
    issued = make_plan(some_orders(), some_stock(), a_week_shop(), options(seconds=0.5))
    wish = options(seconds=0.5, start_min=now)
    plan = replan(issued, some_orders(), some_stock(), a_week_shop(), wish)
    still = simulate(week_of(plan, Spreads(STILL)), 1, 2)
    assert {line.key: line.median_min for line in still.lines} == {
        done.line: done.done_min for done in plan.done
    }
    unsure = simulate(week_of(plan), 1, 500)
    past = {done.line for done in plan.done if done.done_min <= now}
    sure = {line.key for line in unsure.lines if line.low_min == line.high_min}
    assert past <= sure
    assert len(sure) < len(unsure.lines) or now == 1000


def test_a_run_pauses_over_a_break_and_a_changeover_waits_for_a_whole_window() -> None:
    assert ends(a_week(a_task(run=300))) == {"A": 810}
    late = a_task("B", run=10, setup=60)
    assert ends(a_week(a_task("A", run=200), late)) == {"A": 680, "B": 820}


def test_a_changeover_longer_than_any_window_waits_until_after_all_hours() -> None:
    assert ends(a_week(a_task(run=1, setup=500)))["A"] > DAY[-1][1]


def test_a_person_cannot_be_in_two_places_unless_the_run_is_unattended() -> None:
    first = a_task("A", people=(0,), base=0, setup=20)
    second = a_task("B", people=(0,), base=1)
    assert ends(a_week(first, second)) == {"A": 600, "B": 700}
    assert ends(a_week(replace(first, attended=False), second)) == {"A": 600, "B": 600}


def test_what_is_not_released_or_waits_for_another_begins_later() -> None:
    first = a_task("A", release_min=600)
    second = a_task("B", base=1, after=(0,), setup=30)
    assert ends(a_week(first, second)) == {"A": 700, "B": 830}


def test_the_chance_to_be_on_time_is_that_of_a_log_normal() -> None:
    task = a_task(run=100, spread=Spread(0.2, 0))
    for due in (560, 580, 600, 620):
        chance = simulate(a_week(task, due=due), 3, 20_000).lines[0].chance
        exact = NormalDist().cdf(np.log((due - 480) / 100) / 0.2)
        assert chance == pytest.approx(exact, abs=0.012)


def test_the_range_of_changeover_minutes_is_that_of_a_log_normal() -> None:
    task = a_task(run=1, setup=100, spread=Spread(0, 0.3))
    result = simulate(a_week(task), 4, 20_000)
    reach = NormalDist().inv_cdf(0.9) * 0.3
    assert result.changeover_low_min == pytest.approx(100 * exp(-reach), abs=1.5)
    assert result.changeover_median_min == pytest.approx(100, abs=1.5)
    assert result.changeover_high_min == pytest.approx(100 * exp(reach), abs=2)


def test_a_shared_factor_makes_lines_late_together() -> None:
    tasks = [a_task(k, base=n, spread=Spread(0.2, 0)) for n, k in enumerate("AB")]
    grouped = [replace(task, spread=STILL, run_group=0) for task in tasks]
    alone = simulate(a_week(*tasks, due=580), 5, 10_000)
    together = simulate(a_week(*grouped, due=580, group_spreads=(0.2,)), 5, 10_000)
    assert alone.all_on_time == pytest.approx(0.25, abs=0.02)
    assert together.all_on_time == pytest.approx(0.5, abs=0.02)


def test_the_same_seed_gives_the_same_weeks() -> None:
    problem = a_week(a_task(spread=Spread()))
    assert simulate(problem, 7, 3000) == simulate(problem, 7, 3000)
    assert simulate(problem, 7, 3000) != simulate(problem, 8, 3000)
    assert simulate(problem, 7, 2500).weeks == 2500


class Minutewise:
    """The same hours, looked at one minute at a time."""

    def __init__(self, spans: tuple[tuple[int, int], ...]) -> None:
        self.spans = spans

    def works(self, minute: int) -> bool:
        return any(start <= minute < end for start, end in self.spans)

    def advance(self, moment: int, minutes: int) -> int:
        while minutes > 0:
            minutes -= self.works(moment)
            moment += 1
        return moment

    def fit(self, moment: int, minutes: int) -> int:
        while not all(self.works(moment + step) for step in range(minutes)):
            moment += 1
        return moment


@settings(max_examples=60)
@given(st.integers(0, 2300), st.integers(1, 90), st.integers(1, 120))
def test_hours_agree_with_counting_single_minutes(moment: int, run: int, setup: int) -> None:
    fast, slow = Hours(DAY), Minutewise((*DAY, (2430, 9999)))
    at = np.array([float(moment)])
    assert fast.advance(at, np.array([float(run)]))[0] == slow.advance(moment, run)
    assert fast.fit(at, np.array([float(setup)]))[0] == slow.fit(moment, setup)
