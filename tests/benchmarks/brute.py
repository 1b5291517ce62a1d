"""The engine against brute force on small shops of every kind.

`python -m tests.benchmarks.brute N SEED [--operations 12] [--seconds 2] [--states 300000]`
draws N shops of each kind of `tests.benchmarks.small`, solves each with the engine and exactly
(`tests.schedule.brute`: all lists that the engine can express), prints a row for each shop where
they differ and a count for each kind. A shop that needs more states than allowed is left open.
"""

from __future__ import annotations

import argparse
import time
from collections import Counter

from planner.errors import InputError, NoPlanError
from planner.schedule import Problem, solve
from planner.schedule.compiled import compile_problem
from planner.stop import Stop
from tests.benchmarks.small import KINDS
from tests.schedule.brute import Levels, TooManyError, best_of_all_lists

EQUAL, WORSE, OPEN, REFUSED = "equal", "worse", "open", "refused"


def main() -> None:
    """Run what the options ask for."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("shops", type=int)
    parser.add_argument("seed", type=int)
    parser.add_argument("--operations", type=int, default=12)
    parser.add_argument("--seconds", type=float, default=2.0)
    parser.add_argument("--states", type=int, default=300_000)
    parser.add_argument("--kind", choices=sorted(KINDS))
    options = parser.parse_args()
    print(f"{'kind':<16}{EQUAL:>8}{WORSE:>8}{OPEN:>8}{REFUSED:>9}{'engine s':>10}{'exact s':>9}")
    for kind in [options.kind] if options.kind else KINDS:
        ends: Counter[str] = Counter()
        spent = [0.0, 0.0]
        for number in range(options.shops):
            seed = options.seed * 1_000_000 + number
            problem = KINDS[kind](seed, options.operations)
            ends[_compare(f"{kind} {seed}", problem, options, spent)] += 1
        row = f"{kind:<16}{ends[EQUAL]:>8}{ends[WORSE]:>8}{ends[OPEN]:>8}{ends[REFUSED]:>9}"
        print(f"{row}{spent[0]:>10.1f}{spent[1]:>9.1f}", flush=True)


def _compare(name: str, problem: Problem, options: argparse.Namespace, spent: list[float]) -> str:
    began = time.perf_counter()
    try:
        found = solve(problem, Stop(), 0, seconds=options.seconds).figures.levels
    except NoPlanError:
        found = None
    except InputError:
        return REFUSED
    spent[0] += time.perf_counter() - began
    began = time.perf_counter()
    try:
        best, states = _better(problem, found, options.states)
    except TooManyError:
        return OPEN
    finally:
        spent[1] += time.perf_counter() - began
    if best is None:
        return REFUSED if found is None else EQUAL
    print(f"{name}: engine {found}, best {best}, {states} states", flush=True)
    return WORSE


def _better(problem: Problem, found: Levels | None, most: int) -> tuple[Levels | None, int]:
    """A better list than the engine's, or one without violation where it found none."""
    compiled = compile_problem(problem)
    known = found or (1, *(0 for _ in compiled.weights[1:]))
    return best_of_all_lists(compiled, known, most)


if __name__ == "__main__":
    main()
