"""What a search promises besides a good plan: the same bytes, a stop, progress."""

from __future__ import annotations

from dataclasses import replace
from itertools import pairwise

import pytest

from planner.schedule import Progress, Term, solve
from planner.stop import Status, Stop
from tests.benchmarks.weeks import a_week
from tests.schedule.audit import assert_schedule_valid
from tests.schedule.shops import a_random_shop


def test_the_same_seed_gives_the_same_result() -> None:
    problem = a_random_shop(4, operations=30, fixed=False)
    once, again = (solve(problem, Stop(), seed=7, seconds=0.05) for _ in range(2))
    assert once == again


def test_a_stop_request_returns_the_best_so_far() -> None:
    stop = Stop()
    stop.ask()
    problem = a_random_shop(4, operations=30, fixed=False)
    result = solve(problem, stop, seconds=1000.0)
    assert result.figures.levels <= min(rule.levels for rule in result.rules.values())


@pytest.mark.parametrize("seed", [4, 9, 15, 17, 20, 24])
def test_progress_tells_the_best_so_far_and_what_is_proven_of_it(seed: int) -> None:
    """Some of the shops are punctual, some late; some offer overtime, needed or not."""
    heard: list[Progress] = []
    problem = a_random_shop(seed, operations=14, fixed=False)
    result = solve(problem, Stop(), seconds=0.3, progress=heard.append)
    assert all(a.done <= b.done for a, b in pairwise(heard))
    assert all(a.figures.levels >= b.figures.levels for a, b in pairwise(heard))
    assert (heard[-1].done, heard[-1].figures) == (1.0, result.figures)
    assert heard[-1].floors
    known = {floor.kind for floor in result.floors}
    for news in heard:
        late = news.figures.terms[Term.LATENESS]
        assert {floor.term for floor in news.floors} in ({Term.LATENESS, Term.CHANGEOVER}, set())
        assert all(floor.holds(late) for floor in news.floors)
        assert all(news.figures.terms[floor.term] >= floor.value for floor in news.floors)
        assert {floor.kind for floor in news.floors} <= known
    for a, b in pairwise(heard):
        assert all(floor in b.floors for floor in a.floors)
    assert all(
        max(floor.value for floor in heard[-1].floors if floor.term is term) <= result.floor(term)
        for term in (Term.LATENESS, Term.CHANGEOVER)
    )


def test_progress_does_not_go_back_where_a_part_of_late_work_takes_less_than_its_share() -> None:
    week = a_week(80, 6)
    hurried = tuple(replace(job, due_min=round(0.7 * job.due_min)) for job in week.jobs)
    heard: list[float] = []
    late = replace(week, jobs=hurried)
    solve(late, Stop(), 1, seconds=3.0, progress=lambda news: heard.append(news.done))
    assert heard == sorted(heard)


@pytest.mark.parametrize("seed", [4, 15])
def test_a_stop_on_the_way_returns_the_best_that_was_told(seed: int) -> None:
    stop, heard = Stop(), list[Progress]()

    def hear(news: Progress) -> None:
        heard.append(news)
        if news.done > 0:
            stop.ask()

    problem = a_random_shop(seed, operations=14, fixed=False)
    result = solve(problem, stop, seconds=200.0, progress=hear)
    assert result.status is Status.LIMIT
    assert result.figures.levels == heard[-1].figures.levels
    assert_schedule_valid(problem, result)
