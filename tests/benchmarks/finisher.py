"""Random set-ups against an independent numerical solution, and every suggested setting.

`python -m tests.benchmarks.finisher [--setups N] [--seed S]` prints the worst difference of
every output, in micrometres, over set-ups in and out of the usable range.
"""

import argparse
import random
from time import perf_counter

from planner.finisher.set_up import solve
from planner.finisher.suggest import suggest_set_up
from tests.finisher import independent
from tests.finisher.balance import balance
from tests.finisher.builders import a_belt, a_machine, a_problem
from tests.finisher.test_set_up import random_problem


def compare(setups: int, seed: int) -> None:
    rng = random.Random(seed)
    worst: dict[str, float] = {}
    solved = refused = disagreed = usable = 0
    seconds = 0.0
    for _ in range(setups):
        problem = random_problem(rng)
        started = perf_counter()
        result = solve(problem)
        seconds += perf_counter() - started
        reference = independent.solve(problem)
        if (result.value is None) != (reference is None):
            disagreed += 1
            continue
        if reference is None:
            refused += 1
            continue
        solved += 1
        usable += result.usable
        for name, off in independent.differences(problem, reference, result.value).items():
            worst[name] = max(worst.get(name, 0.0), off * 1000)
    print(f"{setups} set-ups: {solved} solved by both, {usable} of them usable")
    print(f"{refused} without a rest for the tube by both; the two disagree on {disagreed}")
    print(f"{1e6 * seconds / setups:.0f} µs a set-up")
    for name, off in worst.items():
        print(f"{name:16} worst {off:.4f} µm")


def hold(setups: int, seed: int) -> None:
    """Every suggested setting that is offered as usable holds the tube down."""
    rng = random.Random(seed)
    usable = bad = 0
    for _ in range(setups):
        problem = a_problem(
            od=rng.uniform(0.4, 4),
            rail=rng.uniform(0.05, 0.5),
            machine=a_machine(rng.uniform(6, 20), rng.uniform(6, 16)),
            belt=a_belt(rng.uniform(0.02, 0.6)),
        )
        made = suggest_set_up(problem)
        value = made.result.value
        if not made.result.usable or value is None:
            continue
        usable += 1
        pushes = balance(value)
        angles = (value.belt_hold_mdeg, value.brake_hold_mdeg)
        bad += not (min(angles) > 0 and min(pushes.belt, pushes.rail) > 0)
    print(f"{setups} suggestions: {usable} usable, {bad} of them do not hold the tube down")


def main() -> None:
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--setups", type=int, default=10_000)
    parser.add_argument("--seed", type=int, default=1)
    asked = parser.parse_args()
    compare(asked.setups, asked.seed)
    hold(asked.setups, asked.seed)


if __name__ == "__main__":
    main()
