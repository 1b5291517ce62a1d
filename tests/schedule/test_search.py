"""What a search promises besides a good plan: the same bytes, a stop, progress."""

from __future__ import annotations

from itertools import pairwise

from planner.schedule import solve
from planner.stop import Stop
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


def test_progress_tells_the_best_so_far_and_the_floors() -> None:
    heard: list[tuple[float, tuple[int, ...]]] = []
    problem = a_random_shop(4, operations=30, fixed=False)
    result = solve(
        problem,
        Stop(),
        seconds=0.05,
        progress=lambda news: heard.append((news.done, news.figures.levels)),
    )
    assert [done for done, _ in heard] == sorted(done for done, _ in heard)
    assert heard[-1][1] == result.figures.levels
    assert all(a[1] >= b[1] for a, b in pairwise(heard))
