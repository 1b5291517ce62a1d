"""How the cost of planning grows with the week.

`python -m tests.benchmarks.growth [--sizes 80 200 600 1000 2000] [--moves 10] [--long 30]
[--seed S] [--no-floors]` plans one generated week of every size with so many moves of each lane for
every operation, and once more with `--long` of them, whose value is the reference. Seconds are
processor seconds of all threads. The value is changeover minutes plus `LATE` for every weighted
minute late, so that it is changeover minutes once nothing is late; the gap is between the best
classical rule and the reference, and a share of it is closed when the best so far is so near. The
exponents are those of a straight line through the logarithms of seconds over operations.
"""

from __future__ import annotations

import argparse
import math
import resource
import time
from collections import defaultdict
from collections.abc import Iterator, Sequence

from planner.schedule.chain import Chain
from planner.schedule.compiled import Compiled, compile_problem
from planner.schedule.dispatch import Start
from planner.schedule.floors import prove
from planner.schedule.phases import LATE, energies, temperatures
from planner.schedule.problem import Term
from planner.schedule.rules import IN_TIME, make_rules
from planner.schedule.search import search
from planner.stop import Stop
from tests.benchmarks.weeks import a_week

CLOSED = (0.5, 0.8, 0.9)
SAMPLE = 20_000
"""Moves whose cost is measured at the hottest and at the coolest temperature."""
TERMS = tuple(Term)

News = list[tuple[float, float]]
"""Of (processor seconds, value of the best so far)."""


def main() -> None:
    """Run what the options ask for."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--sizes", type=int, nargs="+", default=[80, 200, 600, 1000, 2000])
    parser.add_argument("--moves", type=int, default=10)
    parser.add_argument("--long", type=int, default=30)
    parser.add_argument("--seed", type=int, default=14)
    parser.add_argument("--no-floors", action="store_true")
    options = parser.parse_args()
    print(f"{'week, part':<34}{'value':>10}{'floor':>8}{'seconds':>11}")
    seen: dict[str, list[tuple[int, float]]] = defaultdict(list)
    for lots in options.sizes:
        growth = _Growth(lots, options.seed, options.moves, options.long, not options.no_floors)
        for part, seconds in growth.measure():
            seen[part].append((growth.operations, seconds))
    for part, points in seen.items():
        if len(points) > 1:
            print(f"{part:<34} grows with the operations to the power {exponent(points):.2f}")


class _Growth:
    """One week, measured part by part; every part is printed as soon as it is known."""

    def __init__(self, lots: int, seed: int, moves: int, long: int, floors: bool) -> None:
        self.problem = a_week(lots, seed)
        self.lots, self.moves, self.long, self.floors = lots, moves, long, floors
        self.floor = 0
        self.operations = len(self.problem.operations)

    def measure(self) -> Iterator[tuple[str, float]]:
        """Of (part, processor seconds)."""
        began = time.process_time()
        compiled = compile_problem(self.problem)
        yield self._row("compile", time.process_time() - began)
        began = time.process_time()
        rules = make_rules(compiled)
        ruled = time.process_time() - began
        starts = rules.starts
        yield self._row("rules", ruled, min(value(compiled, s.terms) for s in starts))
        if self.floors:
            yield self._prove(compiled)
        for name, at in zip(("hot", "cool"), move_seconds(compiled, starts), strict=True):
            yield self._row(f"a million {name} moves", 1e6 * at)
        classical = min(
            value(compiled, start.terms) for name, start in rules.named.items() if name != IN_TIME
        )
        self._row("best classical rule", 0.0, classical)
        news = self._search(compiled, starts, self.moves)
        yield self._row(f"{self.moves} moves an operation", news[-1][0], news[-1][1])
        reference = min(news[-1][1], self._search(compiled, starts, self.long)[-1][1])
        self._row(f"{self.long} moves an operation", 0.0, reference)
        for share in CLOSED:
            target = classical - share * (classical - reference)
            when = next((seconds for seconds, found in news if found <= target), None)
            if when is not None:
                yield self._row(f"{share:.0%} of the gap closed", ruled + when, target)
        memory = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024
        self._row(f"memory so far {memory:.0f} MB", 0.0)

    def _prove(self, compiled: Compiled) -> tuple[str, float]:
        began = time.process_time()
        floors = prove(compiled).floors
        took = time.process_time() - began
        self.floor = max((f.value for f in floors if f.term is Term.CHANGEOVER), default=0)
        return self._row("floors", took)

    def _search(self, compiled: Compiled, starts: Sequence[Start], moves: int) -> News:
        began = time.process_time()
        news: News = [(0.0, min(value(compiled, start.terms) for start in starts))]

        def hear(_: float, terms: tuple[int, ...]) -> None:
            news.append((time.process_time() - began, value(compiled, terms)))

        search(compiled, starts, moves * len(compiled.ops), Stop(), 0, hear, lambda _: False)
        return news

    def _row(self, part: str, seconds: float, found: float | None = None) -> tuple[str, float]:
        shown = "" if found is None else f"{found:.0f}"
        name = f"{self.lots} lots, {part}"
        print(f"{name:<34}{shown:>10}{self.floor or '':>8}{seconds:>11.2f}", flush=True)
        return part, seconds


def value(compiled: Compiled, terms: Sequence[int]) -> float:
    """Changeover minutes, and `LATE` of them for every weighted minute late."""
    late, changes = (terms[TERMS.index(term)] for term in (Term.LATENESS, Term.CHANGEOVER))
    return changes + LATE * late


def move_seconds(compiled: Compiled, starts: Sequence[Start]) -> tuple[float, float]:
    """What a move costs at the beginning and at the end of a search from the best start."""
    best = min(starts, key=lambda start: compiled.levels(start.terms))
    chain = Chain(compiled)
    chain.begin(best, 1, energies(compiled, 0.0))
    found: list[float] = []
    for temperature in temperatures(compiled, best):
        began = time.process_time()
        chain.anneal(SAMPLE, temperature, temperature, 40)
        found.append((time.process_time() - began) / SAMPLE)
    return found[0], found[1]


def exponent(points: Sequence[tuple[int, float]]) -> float:
    """Slope of the line through the logarithms."""
    xs = [math.log(n) for n, _ in points]
    ys = [math.log(max(seconds, 1e-4)) for _, seconds in points]
    x, y = sum(xs) / len(xs), sum(ys) / len(ys)
    return sum((a - x) * (b - y) for a, b in zip(xs, ys, strict=True)) / sum(
        (a - x) ** 2 for a in xs
    )


if __name__ == "__main__":
    main()
