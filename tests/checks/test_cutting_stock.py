"""Cutting stock against published values, and instances with an optimum by construction."""

from __future__ import annotations

import random

import pytest

from planner.cutlist import Problem, solve
from planner.cutlist.effort import Effort
from planner.cutlist.generation import Generator, root_columns
from planner.cutlist.master import Master, limit_rows
from planner.cutlist.model import scale
from planner.cutlist.search import table_for
from planner.stop import Status
from tests.benchmarks.cutlist import as_problem
from tests.benchmarks.cutlist_instances import triplets
from tests.cutlist.builders import a_problem

PUBLISHED = [
    pytest.param(
        110,
        ((20, 48), (45, 35), (50, 24), (55, 10), (75, 8)),
        46.25,
        47,
        id="P university coursework set: LP 46.25, optimum 47",
    ),
    pytest.param(
        100,
        ((45, 97), (36, 610), (31, 395), (14, 211)),
        452.25,
        453,
        id="P Chvátal, Linear Programming (1983), ch. 13: LP 452.25, optimum 453",
    ),
]


def lp_value(problem: Problem) -> float:
    """What the linear program over all patterns is worth, by column generation to the end."""
    model, effort = scale(problem).model, Effort()
    master = Master(model, limit_rows(model), effort)
    master.add(root_columns(model))
    generator = Generator(model, table_for(model), effort)
    return float(generator.run(master, None, step=0).point.value)


@pytest.mark.parametrize(("stick", "pieces", "lp", "optimum"), PUBLISHED)
def test_published_optima_are_found_and_proven(
    stick: int, pieces: tuple[tuple[int, int], ...], lp: float, optimum: int
) -> None:
    problem = a_problem(*pieces, stick=stick, price=1)
    result = solve(problem)
    assert (result.cost_cents, result.status) == (optimum, Status.PROVEN)
    assert lp_value(problem) == pytest.approx(lp, abs=1e-9)


@pytest.mark.parametrize("number", range(4))
def test_triplets_fill_every_stick_exactly(number: int) -> None:
    """P Falkenauer (1996): built so that a third of the number of items is optimal."""
    instance = triplets(random.Random(f"check/{number}"), number, 60)
    result = solve(as_problem(instance))
    assert (result.cost_cents, result.status) == (20, Status.PROVEN)
    assert all(pattern.drop_nm == 0 for pattern in result.patterns)
