"""A generated week against the dispatch rules.

`python -m tests.benchmarks.week --lots N --seed S --seconds T [--people] [--finishers 2]
[--runs R] [--cpsat]` prints a row for each rule and for the engine (value of the levels, floors,
seconds); `--runs` repeats the engine with R seeds, `--cpsat` adds the models of
`tests.benchmarks.cpsat` with the same seconds of two cores: without a hint, with the best rule's
plan as one, and with the engine's.
`--sweep N` plans N small odd shops instead and counts plans and refusals.
"""

from __future__ import annotations

import argparse
import time
from collections import Counter

from planner.errors import InputError, NoPlanError
from planner.schedule import Problem, Result, Term, solve
from planner.stop import Stop
from tests.benchmarks.cpsat import cpsat_answer
from tests.benchmarks.odd import an_odd_shop
from tests.benchmarks.weeks import a_week
from tests.schedule.audit import assert_schedule_valid


def main() -> None:
    """Run what the options ask for."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--lots", type=int, default=80)
    parser.add_argument("--seed", type=int, default=1)
    parser.add_argument("--seconds", type=float, default=10.0)
    parser.add_argument("--people", action="store_true")
    parser.add_argument("--finishers", type=int, default=1)
    parser.add_argument("--runs", type=int, default=1)
    parser.add_argument("--cpsat", action="store_true")
    parser.add_argument("--sweep", type=int, default=0)
    options = parser.parse_args()
    if options.sweep:
        _sweep(options.sweep, options.seed)
        return
    problem = a_week(options.lots, options.seed, finishers=options.finishers, people=options.people)
    print(f"{options.lots} lots, {len(problem.operations)} operations, {len(problem.jobs)} lines")
    print(f"{'order':<24}{'lateness':>10}{'changeover':>12}{'flow':>12}{'seconds':>9}")
    results = [_run(problem, run, options.seconds) for run in range(options.runs)]
    for floor in results[0].floors:
        print(f"floor of {floor.term.value}: {floor.value} ({floor.kind})")
    if options.cpsat:
        _against_cpsat(problem, results[0], options.seconds)


def _run(problem: Problem, seed: int, seconds: float) -> Result:
    began = time.perf_counter()
    result = solve(problem, Stop(), seed, seconds=seconds)
    took = time.perf_counter() - began
    assert_schedule_valid(problem, result)
    if seed == 0:
        for name, rule in result.rules.items():
            _row(name, rule.levels, 0.0)
    _row(f"engine, seed {seed}", result.figures.levels, took)
    return result


def _against_cpsat(problem: Problem, result: Result, seconds: float) -> None:
    rule = min(result.rules, key=lambda name: result.rules[name].levels)
    hints = {"": (), f", hint {rule}": result.rule_orders[rule], ", hint engine": result.placed}
    for name, hint in hints.items():
        began = time.perf_counter()
        answer = cpsat_answer(problem, seconds, hint)
        took = time.perf_counter() - began
        if answer is None:
            print(f"{'CP-SAT' + name:<24}{'no plan found':>34}{took:>9.1f}", flush=True)
        else:
            _row("CP-SAT" + name, answer.levels, took)
            print(f"  by its own count {answer.own}, bound {answer.bound}", flush=True)


def _row(name: str, levels: tuple[int, ...], took: float) -> None:
    print(f"{name:<24}{levels[1]:>10}{levels[2]:>12}{levels[3]:>12}{took:>9.1f}", flush=True)


def _sweep(count: int, seed: int) -> None:
    """Every odd shop must end in a valid plan or in one clear refusal."""
    ends: Counter[str] = Counter()
    began = time.perf_counter()
    for number in range(count):
        problem = an_odd_shop(seed * 1_000_000 + number)
        try:
            result = solve(problem, Stop(), number, seconds=0.02)
            assert_schedule_valid(problem, result)
            late = result.figures.terms[Term.LATENESS] > 0
            ends["plan, something late" if late else "plan, all on time"] += 1
        except (InputError, NoPlanError) as refusal:
            ends["refused with a reason" if str(refusal) else "refused without a reason"] += 1
    for end, times in sorted(ends.items()):
        print(f"{end:<24}{times:>8}")
    print(f"{count} shops in {time.perf_counter() - began:.0f} s")


if __name__ == "__main__":
    main()
