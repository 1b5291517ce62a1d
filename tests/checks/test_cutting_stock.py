"""Cutting stock against published values, and instances with an optimum by construction."""

from __future__ import annotations

import random

import pytest

from planner.cutlist import solve
from planner.stop import Status
from tests.benchmarks.cutlist import as_problem
from tests.benchmarks.cutlist_instances import triplets
from tests.cutlist.builders import a_problem

PUBLISHED = [
    pytest.param(
        110,
        ((20, 48), (45, 35), (50, 24), (55, 10), (75, 8)),
        47,
        id="P university coursework set: LP 46.25, optimum 47",
    ),
    pytest.param(
        100,
        ((45, 97), (36, 610), (31, 395), (14, 211)),
        453,
        id="P Chvátal, Linear Programming (1983), ch. 13: LP 452.25, optimum 453",
    ),
]


@pytest.mark.parametrize(("stick", "pieces", "optimum"), PUBLISHED)
def test_published_optima_are_found_and_proven(
    stick: int, pieces: tuple[tuple[int, int], ...], optimum: int
) -> None:
    result = solve(a_problem(*pieces, stick=stick, price=1))
    assert (result.cost_cents, result.status) == (optimum, Status.PROVEN)


@pytest.mark.parametrize("number", range(4))
def test_triplets_fill_every_stick_exactly(number: int) -> None:
    """P Falkenauer (1996): built so that a third of the number of items is optimal."""
    instance = triplets(random.Random(f"check/{number}"), number, 60)
    result = solve(as_problem(instance))
    assert (result.cost_cents, result.status) == (20, Status.PROVEN)
    assert all(pattern.drop_nm == 0 for pattern in result.patterns)
