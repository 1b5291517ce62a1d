from __future__ import annotations

from typing import NoReturn

import pytest

from planner.cutlist import Problem, solve_all
from planner.stop import Status, Stop
from tests.benchmarks.cutlist_weeks import a_week
from tests.cutlist.builders import a_problem, assert_plan_valid


def a_small_week() -> list[Problem]:
    return [a_problem((40 + n, 5), (30 - n, 7), (17, 9), stick=120) for n in range(6)]


def test_the_result_is_the_same_for_any_number_of_processes(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    monkeypatch.setattr("planner.cutlist.week.SHARED_WORK", 0.0)
    week = a_week(3, 5)
    alone = solve_all(week, seed=1, work=0.6, workers=1)
    assert solve_all(week, seed=1, work=0.6, workers=2) == alone


def test_little_work_starts_no_processes(monkeypatch: pytest.MonkeyPatch) -> None:
    def start(*_: object) -> NoReturn:
        raise AssertionError

    monkeypatch.setattr("planner.cutlist.week.ProcessPoolExecutor", start)
    assert len(solve_all(a_small_week(), work=2.0, workers=2)) == 6
    with pytest.raises(AssertionError):
        solve_all(a_small_week(), work=8.0, workers=2)


def test_progress_rises_to_the_number_of_groups() -> None:
    seen: list[tuple[int, int]] = []
    solve_all(a_small_week(), work=6.0, progress=lambda closed, total: seen.append((closed, total)))
    assert seen[-1] == (6, 6)
    assert seen == sorted(seen)


def test_what_is_left_of_the_budget_goes_to_the_groups_still_open() -> None:
    week = a_week(4, 2)
    little, much = solve_all(week, work=0.2), solve_all(week, work=12.0)
    assert sum(r.gap_cents for r in much) < sum(r.gap_cents for r in little)
    assert all(b.cost_cents <= a.cost_cents for a, b in zip(little, much, strict=True))


def test_a_stop_leaves_every_group_with_a_valid_cut_list() -> None:
    week, stop = a_week(3, 4), Stop()
    stop.ask()
    for problem, result in zip(week, solve_all(week, stop), strict=True):
        assert result.status is not Status.NO_PLAN
        assert_plan_valid(problem, result)


def test_a_week_without_groups_is_no_error() -> None:
    assert solve_all([]) == ()
