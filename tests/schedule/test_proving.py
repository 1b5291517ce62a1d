"""Floors are proven beside the search: the result does not depend on which is quicker."""

from __future__ import annotations

import threading
from dataclasses import replace
from itertools import pairwise

import pytest

from planner.schedule import Progress, Term, proving, solve
from planner.schedule.compiled import Compiled, compile_problem
from planner.schedule.floors import Proof, prove
from planner.schedule.rates import after_preparing, iterations_for, proving_s
from planner.stop import Status, Stop
from tests.benchmarks.weeks import a_week
from tests.schedule.shops import a_random_shop


@pytest.mark.parametrize("seed", [4, 9, 20])
def test_slow_floors_change_nothing_but_when_they_are_told(
    seed: int, monkeypatch: pytest.MonkeyPatch
) -> None:
    problem = a_random_shop(seed, operations=14, fixed=False)
    soon = solve(problem, Stop(), seconds=0.3)
    told = threading.Event()
    heard: list[Progress] = []

    def slowly(compiled: Compiled) -> Proof:
        assert told.wait(60)
        return prove(compiled)

    def hear(progress: Progress) -> None:
        heard.append(progress)
        told.set()

    monkeypatch.setattr(proving, "prove", slowly)
    assert solve(problem, Stop(), seconds=0.3, progress=hear) == soon
    assert not heard[0].floors
    assert heard[-1].floors
    assert all(len(a.floors) <= len(b.floors) for a, b in pairwise(heard))


def test_a_search_ends_once_the_best_is_proven() -> None:
    """Two lots are at their floor long before ten seconds of moves are over."""
    levels = ({Term.VIOLATION: 1}, {Term.LATENESS: 1}, {Term.CHANGEOVER: 1})
    problem = replace(a_week(2, 3), levels=levels)
    compiled = compile_problem(problem)
    result = solve(problem, Stop(), seconds=10.0)
    assert result.status is Status.PROVEN
    lanes = 2 * iterations_for(compiled, after_preparing(compiled, 10.0))
    assert 0 < result.iterations < lanes / 10
    assert result.iterations >= 2 * iterations_for(compiled, proving_s(compiled))


def test_what_goes_wrong_in_the_proof_is_raised(monkeypatch: pytest.MonkeyPatch) -> None:
    def wrongly(_: Compiled) -> Proof:
        raise MemoryError

    monkeypatch.setattr(proving, "prove", wrongly)
    with pytest.raises(MemoryError):
        solve(a_random_shop(4, operations=14, fixed=False), Stop(), seconds=0.1)
