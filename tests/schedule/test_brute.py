"""The exact enumeration against every list, and the engine against the exact enumeration."""

from __future__ import annotations

from itertools import product

import pytest

from planner.errors import NoPlanError
from planner.schedule import solve
from planner.schedule.compiled import Compiled, compile_problem
from planner.schedule.decoder import decode
from planner.stop import Stop
from tests.benchmarks.small import KINDS
from tests.schedule.brute import Levels, TooManyError, all_orders, best_of_all_lists, topological
from tests.schedule.shops import a_random_shop


def by_every_list(compiled: Compiled) -> Levels:
    return min(
        compiled.levels(decode(compiled, order, list(modes))[0].terms)
        for order in all_orders(compiled)
        for modes in product(*(op.modes for op in compiled.ops))
    )


@pytest.mark.parametrize("seed", range(40))
def test_leaving_out_branches_loses_no_better_list(seed: int) -> None:
    problem = a_random_shop(seed, operations=4, people=seed % 2 == 0, fixed=seed % 3 == 0)
    compiled = compile_problem(problem)
    best = by_every_list(compiled)
    assert best_of_all_lists(compiled)[0] == best
    assert best_of_all_lists(compiled, (*best[:-1], best[-1] + 1))[0] == best
    assert best_of_all_lists(compiled, best)[0] is None


def test_more_states_than_allowed_are_told() -> None:
    compiled = compile_problem(KINDS["one station"](1, 6))
    with pytest.raises(TooManyError):
        best_of_all_lists(compiled, most_states=10)


def test_predecessors_come_first_in_the_floor() -> None:
    compiled = compile_problem(a_random_shop(3, operations=9))
    order = list(topological(compiled))
    assert all(
        order.index(p.operation) < order.index(i)
        for i, op in enumerate(compiled.ops)
        for p in op.preds
    )


@pytest.mark.parametrize("seed", range(3))
@pytest.mark.parametrize("kind", KINDS)
def test_small_shops_of_every_kind_are_solved_as_well_as_by_brute_force(
    kind: str, seed: int
) -> None:
    problem = KINDS[kind](seed, 8)
    compiled = compile_problem(problem)
    try:
        found = solve(problem, Stop(), seed, seconds=0.25).figures.levels
    except NoPlanError:
        usable = (1, *(0 for _ in compiled.weights[1:]))
        assert best_of_all_lists(compiled, usable)[0] is None
        return
    assert best_of_all_lists(compiled, found)[0] is None
