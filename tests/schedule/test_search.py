"""The search against every possible list of small shops."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import pairwise, product

import pytest

from planner.errors import NoPlanError
from planner.schedule import Problem, solve
from planner.schedule.compiled import Compiled, compile_problem
from planner.schedule.decoder import decode
from planner.stop import Stop
from tests.schedule.shops import a_random_shop


def all_orders(compiled: Compiled) -> Iterator[list[int]]:
    """Every order that respects precedence."""
    waits = [len({pred.operation for pred in op.preds}) for op in compiled.ops]

    def extend(order: list[int]) -> Iterator[list[int]]:
        if len(order) == len(waits):
            yield order
        for i in range(len(waits)):
            if i in order or any(p.operation not in order for p in compiled.ops[i].preds):
                continue
            yield from extend([*order, i])

    return extend([])


def best_by_brute_force(problem: Problem) -> tuple[int, ...]:
    compiled = compile_problem(problem)
    return min(
        compiled.levels(decode(compiled, order, list(modes))[0].terms)
        for order in all_orders(compiled)
        for modes in product(*(op.modes for op in compiled.ops))
    )


@pytest.mark.parametrize("seed", range(25))
def test_small_shops_are_solved_as_well_as_by_brute_force(seed: int) -> None:
    problem = a_random_shop(seed, operations=5, people=seed % 2 == 0, fixed=False)
    best = best_by_brute_force(problem)
    if best[0]:
        with pytest.raises(NoPlanError):
            solve(problem, Stop(), seed=seed, seconds=0.3)
        return
    assert solve(problem, Stop(), seed=seed, seconds=0.3).figures.levels == best


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
