"""Short runs of the run-order engine against long ones of the same engine.

`python -m tests.benchmarks.references [--long 600] [--seed 21] [--only 80]` takes generated weeks
of 30, 80, 200 and 600 lots (tests.benchmarks.weeks), without and with people and with two
finishers, gives each the budget that a planner would wait for and then the long one, and prints
rows: name, value (changeover minutes), floor, seconds, lateness, what the long run found, the
gap to it, and the best dispatch rule's lateness and changeovers. Every result is checked by
tests/schedule/audit.py. Budgets are moves, so values do not depend on what else runs; seconds do.
"""

from __future__ import annotations

import argparse
import statistics
import time
from dataclasses import dataclass

from planner.schedule import Problem, Result, Term, solve
from planner.stop import Stop
from tests.benchmarks.weeks import a_week
from tests.schedule.audit import assert_schedule_valid

BUDGETS = {30: 5.0, 80: 10.0, 200: 30.0, 600: 60.0}
"""Seconds by number of lots."""
SHOPS = {"plain": (1, False), "people": (1, True), "two": (2, False), "two, people": (2, True)}
"""Finishers, and whether there are people."""


@dataclass(frozen=True, slots=True)
class Case:
    """One generated week."""

    lots: int
    shop: str
    seed: int

    @property
    def name(self) -> str:
        """Size, shop and seed."""
        return f"{self.lots} {self.shop} #{self.seed}"

    def problem(self) -> Problem:
        """The week."""
        finishers, people = SHOPS[self.shop]
        return a_week(self.lots, self.seed, finishers=finishers, people=people)


def main() -> None:
    """Print a row for each short run, and the mean gap by size."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--long", type=float, default=600.0, help="seconds; 0: no long run")
    parser.add_argument("--seed", type=int, default=21, help="of the weeks")
    parser.add_argument("--weeks", type=int, default=1, help="of each kind")
    parser.add_argument("--runs", type=int, default=1, help="short ones of each week")
    parser.add_argument("--only", type=int, nargs="*", default=list(BUDGETS))
    parser.add_argument("--shops", nargs="*", default=list(SHOPS))
    options = parser.parse_args()
    print(
        f"{'name':<22}{'value':>8}{'floor':>8}{'seconds':>9}{'late':>8}{'long':>8}{'late':>8}"
        f"{'gap %':>8}   best rule: late, changeovers"
    )
    for lots in options.only:
        gaps: list[float] = []
        for shop in options.shops:
            for seed in range(options.seed, options.seed + options.weeks):
                gaps += _compare(Case(lots, shop, seed), options.long, options.runs)
        if gaps:
            worst = max(gaps)
            print(f"{lots} lots: gap mean {statistics.mean(gaps):.2f} %, worst {worst:.2f} %")


def _compare(case: Case, long_s: float, runs: int) -> list[float]:
    problem = case.problem()
    long = _solved(problem, 1000, long_s)[0] if long_s else None
    gaps: list[float] = []
    for run in range(runs):
        result, took = _solved(problem, run, BUDGETS[case.lots])
        gap = _gap(result, long) if long else None
        gaps += [gap] if gap is not None else []
        _row(case, result, took, long, gap)
    return gaps


def _solved(problem: Problem, seed: int, seconds: float) -> tuple[Result, float]:
    began = time.perf_counter()
    result = solve(problem, Stop(), seed, seconds=seconds)
    took = time.perf_counter() - began
    assert_schedule_valid(problem, result)
    best = min(rule.levels for rule in result.rules.values())
    assert result.figures.levels <= best, "a dispatch rule is better"
    return result, took


def _gap(result: Result, long: Result) -> float | None:
    """By how many percent more changeover; None where they differ in lateness."""
    if result.figures.terms[Term.LATENESS] != long.figures.terms[Term.LATENESS]:
        return None
    mine, least = (each.figures.terms[Term.CHANGEOVER] for each in (result, long))
    return 100 * (mine - least) / max(1, least)


def _row(case: Case, result: Result, took: float, long: Result | None, gap: float | None) -> None:
    terms = result.figures.terms
    rule = min(result.rules.values(), key=lambda each: each.levels).terms
    compared = ("-", "-") if long is None else (
        long.figures.terms[Term.CHANGEOVER], long.figures.terms[Term.LATENESS]
    )  # fmt: skip
    print(
        f"{case.name:<22}{terms[Term.CHANGEOVER]:>8}{result.floor(Term.CHANGEOVER):>8}"
        f"{took:>9.1f}{terms[Term.LATENESS]:>8}{compared[0]:>8}{compared[1]:>8}"
        f"{'-' if gap is None else f'{gap:.2f}':>8}   "
        f"{rule[Term.LATENESS]}, {rule[Term.CHANGEOVER]}",
        flush=True,
    )


if __name__ == "__main__":
    main()
