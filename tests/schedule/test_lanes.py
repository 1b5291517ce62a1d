"""Lanes side by side: the best of all, and what is told while they work."""

from __future__ import annotations

import time
from dataclasses import replace

import pytest

from planner.schedule import lanes
from planner.schedule.compiled import TERMS, Compiled, compile_problem
from planner.schedule.dispatch import Start
from planner.schedule.lanes import Hear, Lane, best_of_lanes, seeds_of, unheard
from planner.schedule.problem import Term
from planner.schedule.rules import make_rules
from tests.benchmarks.small import KINDS

CHANGEOVER = TERMS.index(Term.CHANGEOVER)


def a_start() -> tuple[Compiled, Start]:
    compiled = compile_problem(KINDS["matrix"](1, 5))
    return compiled, make_rules(compiled).starts[0]


def with_changeover(start: Start, by: int) -> Start:
    terms = list(start.terms)
    terms[CHANGEOVER] += by
    return replace(start, terms=tuple(terms))


def finds(start: Start) -> Lane:
    """A lane that does nothing but find it."""

    def lane(_: Hear) -> Start:
        return start

    return lane


def test_the_best_of_all_lanes_is_found_and_the_known_one_kept_where_none_is_better() -> None:
    compiled, best = a_start()
    worse, better = with_changeover(best, 5), with_changeover(best, -1)
    found = best_of_lanes(compiled, [finds(worse), finds(better)], best, unheard)
    assert found is better
    assert best_of_lanes(compiled, [finds(worse)], best, unheard) is best


def test_the_slowest_lane_and_the_best_so_far_are_told(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(lanes, "NEWS_SECONDS", 0.01)
    compiled, best = a_start()
    worse, better = with_changeover(best, 5), with_changeover(best, -1)
    heard: list[tuple[float, tuple[int, ...]]] = []

    def slow(tell: Hear) -> Start:
        tell(0.25, worse.terms)
        while not any(share == 0.25 for share, _ in heard):
            time.sleep(0.001)
        return worse

    def fast(tell: Hear) -> Start:
        tell(0.75, better.terms)
        return better

    def hear(done: float, terms: tuple[int, ...]) -> None:
        heard.append((done, terms))

    best_of_lanes(compiled, [slow, fast], best, hear)
    assert heard[-1] == (0.25, better.terms)
    assert all(compiled.levels(terms) <= compiled.levels(best.terms) for _, terms in heard)


def test_what_a_lane_raises_is_raised() -> None:
    compiled, best = a_start()

    def broken(_: Hear) -> Start:
        raise ZeroDivisionError

    with pytest.raises(ZeroDivisionError):
        best_of_lanes(compiled, [broken, finds(best)], best, unheard)


def test_no_two_rounds_share_a_seed() -> None:
    seeds = [each for seed in range(3) for number in range(9) for each in seeds_of(seed, number)]
    assert len(set(seeds)) == len(seeds)
    assert all(0 <= each < 1 << 62 for each in seeds)
