"""Generated weeks of an invented shop: groups with several stock lengths and remnants.

`python -m tests.benchmarks.cutlist_weeks [--groups 60] [--seed 1] [--work 1.0] [--workers 2]`
prints one row a group (name, cost, floor, gap, stage, effort) and the summary: mean and worst
gap, share closed to the cent, seconds, peak memory.
"""

from __future__ import annotations

import argparse
import random
import resource
import time

from planner.cutlist import Demand, DropValue, Problem, Result, StockKind, solve_all
from planner.stop import Stop

TENTH_MM, SIXTY_FOURTH = 100_000, 396_875
FOOT = 64 * 12 * SIXTY_FOURTH


def a_group(dice: random.Random, name: str) -> Problem:
    """5 to 40 lengths; 2 to 4 stock lengths, some limited; 0 to 6 remnants; saw and drops."""
    metric = dice.random() < 0.5
    unit = TENTH_MM if metric else SIXTY_FOURTH
    stock_nm = [3_000 * 10**6, 4_000 * 10**6, 6_000 * 10**6, 7_000 * 10**6]
    if not metric:
        stock_nm = [10 * FOOT, 17 * FOOT, 20 * FOOT, 24 * FOOT]
    chosen = sorted(dice.sample(stock_nm, dice.randint(2, 4)))
    cents_per_m = dice.randint(300, 2_500)
    kinds = [
        StockKind(
            f"stick {number}",
            length,
            round(cents_per_m * length / 1e9 * dice.uniform(0.94, 1.08)),
            dice.randint(2, 30) if number != len(chosen) - 1 and dice.random() < 0.5 else None,
        )
        for number, length in enumerate(chosen)
    ]
    for number in range(dice.randint(0, 6)):
        length = dice.randint(800 * 10**6, chosen[-1] - 500 * 10**6) // unit * unit
        price = round(cents_per_m * length / 1e9 * 0.6)
        kinds.append(StockKind(f"remnant {number}", length, price, 1))
    demands = [
        Demand(f"line {number}", _length(dice, unit), dice.choice([1, 2, 4, 6, 8, 10, 12, 20, 40]))
        for number in range(dice.randint(5, 40))
    ]
    has_values = dice.random() < 0.5
    steps = [(600, 0.3), (1_200, 0.45), (2_400, 0.55)]
    values = [DropValue(mm * 10**6, round(cents_per_m * mm / 1000 * share)) for mm, share in steps]
    return Problem(
        tuple(demands),
        tuple(kinds),
        kerf_nm=30 * TENTH_MM if metric else 8 * SIXTY_FOURTH,
        trim_end_nm=10 * 10**6 if metric else 32 * SIXTY_FOURTH,
        clamp_nm=dice.choice([0, 80 * 10**6]),
        shortest_remnant_nm=600 * 10**6,
        drop_values=tuple(values) if has_values else (),
        label=name,
    )


def _length(dice: random.Random, unit: int) -> int:
    low, high = dice.choice([(150, 600), (400, 1_500), (900, 2_800)])
    return dice.randint(low * 10**6 // unit, high * 10**6 // unit) * unit


def a_week(groups: int, seed: int) -> list[Problem]:
    """The same week for the same seed."""
    return [a_group(random.Random(f"{seed}/{number}"), f"g{number}") for number in range(groups)]


def gap_percent(result: Result) -> float:
    """The gap as a share of the cost."""
    return 100 * result.gap_cents / result.cost_cents if result.cost_cents else 0.0


def main() -> None:
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--groups", type=int, default=60)
    parser.add_argument("--seed", type=int, default=1)
    parser.add_argument("--work", type=float, default=1.0, help="nominal seconds a group")
    parser.add_argument("--workers", type=int, default=2)
    options = parser.parse_args()
    week = a_week(options.groups, options.seed)
    start = time.perf_counter()
    stop = Stop(10 * options.work * options.groups, time.perf_counter)
    work = options.work * options.groups
    results = solve_all(week, stop, 0, work, options.workers)
    seconds = time.perf_counter() - start
    for problem, result in zip(week, results, strict=True):
        print(
            f"{problem.label:6} {result.cost_cents:9} {result.bound_cents:9} "
            f"{gap_percent(result):8.4f} % {result.status:8} {result.stage:14} {result.work:6.2f}"
        )
    gaps = [gap_percent(result) for result in results]
    closed = sum(result.gap_cents == 0 for result in results)
    peak = sum(
        resource.getrusage(who).ru_maxrss // 1024
        for who in (resource.RUSAGE_SELF, resource.RUSAGE_CHILDREN)
    )
    print(
        f"mean gap {sum(gaps) / len(gaps):.4f} %, worst {max(gaps):.4f} %, closed "
        f"{closed} of {len(gaps)}, {seconds:.1f} s, peak {peak} MB (self and largest worker)"
    )


if __name__ == "__main__":
    main()
