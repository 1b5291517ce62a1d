"""How long it takes to simulate a week, on a plan of many lots.

`python -m tests.benchmarks.risk [--lots N] [--weeks N]` builds a week of lots by hand (three
passes, a saw, notching or bending for most), with four stations, five people and breaks.
"""

import argparse
import random
from time import perf_counter

from planner.confidence import Spread
from planner.simulation import Line, Task, WeekProblem, simulate

DAYS = 5
STATIONS = 4


def hours() -> tuple[tuple[int, int], ...]:
    spans: list[tuple[int, int]] = []
    for day in range(DAYS):
        start = 1440 * day
        spans += [(start + 420, start + 720), (start + 750, start + 930)]
    return tuple(spans)


def a_week(lots: int, seed: int) -> WeekProblem:
    rng = random.Random(seed)
    tasks: list[Task] = []
    lines: list[Line] = []
    for lot in range(lots):
        before: tuple[int, ...] = ()
        last = 0
        steps = [(0, f"P{n}") for n in range(rng.choice((2, 3, 3, 4)))] + [(1, "SAW")]
        steps += [(2, "N")] * rng.choice((0, 1)) + [(3, "B")] * rng.choice((0, 1, 1))
        for base, name in steps:
            tasks.append(
                Task(
                    key=f"L{lot}.{name}",
                    base=base,
                    people=(rng.randrange(5),),
                    hours=0,
                    own_hours=0,
                    setup_min=rng.choice((0, 0, 5, 10, 20)),
                    run_min=rng.randint(5, 40),
                    spread=Spread(),
                    after=before,
                )
            )
            last = len(tasks) - 1
            before = (last,)
        lines.append(Line(f"O{lot}", 1440 * rng.randint(1, DAYS), last))
    return WeekProblem(tuple(tasks), tuple(lines), (hours(),), STATIONS, 5)


def main() -> None:
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--lots", type=int, default=60)
    parser.add_argument("--weeks", type=int, default=10_000)
    parser.add_argument("--seed", type=int, default=1)
    asked = parser.parse_args()
    problem = a_week(asked.lots, asked.seed)
    started = perf_counter()
    found = simulate(problem, asked.seed, asked.weeks)
    seconds = perf_counter() - started
    print(
        f"{asked.lots} lots, {len(problem.tasks)} operations, {found.weeks} weeks: {seconds:.2f} s"
    )
    print(
        f"changeovers {found.changeover_low_min} to {found.changeover_high_min} min in 80 % of "
        f"weeks; all on time in {found.all_on_time:.0%}"
    )


if __name__ == "__main__":
    main()
