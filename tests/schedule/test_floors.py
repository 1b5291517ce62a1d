"""Floors never lie above the optimum, and reach it where the argument is tight."""

from __future__ import annotations

import pytest

from planner.schedule import Alternative, Base, Job, Operation, Problem, Rule, Station, Term
from planner.schedule.compiled import TERMS, compile_problem
from planner.schedule.decoder import decode
from planner.schedule.floors import changeover_floor, lateness_by_capacity, prove
from tests.schedule.brute import all_orders
from tests.schedule.shops import a_random_shop


@pytest.mark.parametrize("seed", range(40))
def test_no_list_of_a_small_shop_is_below_a_floor(seed: int) -> None:
    problem = a_random_shop(seed, operations=5, people=seed % 2 == 0, fixed=False)
    compiled = compile_problem(problem)
    floors = prove(compiled)
    modes = [op.modes[seed % len(op.modes)] for op in compiled.ops]
    for order in all_orders(compiled):
        terms = decode(compiled, order, modes)[0].terms
        for floor in floors:
            assert terms[TERMS.index(floor.term)] >= floor.value


def a_machine(minutes: list[int], due: list[int], weights: list[int], od: list[str]) -> Problem:
    return Problem(
        bases=(Base("m", (Rule("od", 10, {("1", "2"): 3}), Rule("belt", 2))),),
        stations=(Station("m"),),
        operations=tuple(
            Operation(f"o{i}", (Alternative("m", p),), needs={"od": od[i], "belt": "x"})
            for i, p in enumerate(minutes)
        ),
        jobs=tuple(
            Job(f"j{i}", d, (f"o{i}",), w)
            for i, (d, w) in enumerate(zip(due, weights, strict=True))
        ),
    )


def test_capacity_counts_what_one_machine_must_have_done() -> None:
    problem = a_machine([30, 10, 20], [0, 0, 0], [1, 1, 1], ["1"] * 3)
    assert lateness_by_capacity(compile_problem(problem)).value == 10 + 30 + 60


def test_weights_count_in_layers() -> None:
    problem = a_machine([30, 10], [0, 0], [1, 3], ["1"] * 2)
    assert lateness_by_capacity(compile_problem(problem)).value == (10 + 40) + 2 * 10


def test_the_tour_of_states_is_the_least_changeover() -> None:
    problem = a_machine([5] * 4, [0] * 4, [1] * 4, ["1", "2", "3", "2"])
    floor = changeover_floor(compile_problem(problem))
    assert floor.term is Term.CHANGEOVER
    assert floor.value == 2 + 10 + 3 + 10
