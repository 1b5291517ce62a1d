"""Floors of generated weeks beside what a run of the engine reaches.

`python -m tests.benchmarks.floors [--lots 30 80 200] [--seeds 11 12 13] [--seconds S] [--people]
[--hands N] [--finishers 2] [--due-yesterday] [--hurry SHARE]` prints a row for each week and kind
of floor: value that the engine reached in S seconds, floor, share of the value that is proven, and
processor seconds for all floors of the week. `--hands` has so many people who run everything,
`--hurry` brings all due dates forward to that share of their days. `--brute N` compares N small
shops with all of their lists instead.
"""

from __future__ import annotations

import argparse
import time
from collections.abc import Iterable
from dataclasses import replace
from itertools import product

from planner.schedule import Job, Person, Problem, Term, solve
from planner.schedule.compiled import TERMS, compile_problem
from planner.schedule.decoder import decode
from planner.schedule.floors import prove
from planner.schedule.settle import as_given, turns_of
from planner.stop import Stop
from tests.benchmarks.weeks import DAY_MIN, a_week
from tests.schedule.brute import all_orders
from tests.schedule.tubes import a_small_tube_shop

LATENESS, CHANGEOVER = TERMS.index(Term.LATENESS), TERMS.index(Term.CHANGEOVER)


def main() -> None:
    """Print a row for each week and kind of floor."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--lots", type=int, nargs="+", default=[30, 80, 200])
    parser.add_argument("--seeds", type=int, nargs="+", default=[11, 12, 13])
    parser.add_argument("--seconds", type=float, default=5.0)
    parser.add_argument("--people", action="store_true")
    parser.add_argument("--finishers", type=int, default=1)
    parser.add_argument("--hands", type=int, default=0)
    parser.add_argument("--due-yesterday", action="store_true")
    parser.add_argument("--hurry", type=float, default=1.0)
    parser.add_argument("--brute", type=int, default=0)
    options = parser.parse_args()
    if options.brute:
        _against_all_lists(options.brute)
        return
    print(f"{'week':<14}{'value':>10}{'floor':>10}{'share':>8}{'seconds':>9}  argument")
    for lots, seed in product(options.lots, options.seeds):
        week = a_week(lots, seed, finishers=options.finishers, people=options.people)
        if options.hands:
            week = _with_hands(week, options.hands)
        share = 0.0 if options.due_yesterday else options.hurry
        week = replace(week, jobs=tuple(_hurried(job, share) for job in week.jobs))
        _rows(f"{lots} lots, {seed}", week, options.seconds)


def _with_hands(week: Problem, count: int) -> Problem:
    stations = tuple(station.key for station in week.stations)
    hours = week.stations[0].hours
    return replace(
        week, people=tuple(Person(f"hand {i + 1}", stations, hours) for i in range(count))
    )


def _hurried(job: Job, share: float) -> Job:
    """At the same time of an earlier day; at minute 0 where nothing is left."""
    day, minute = divmod(job.due_min, DAY_MIN)
    return replace(job, due_min=int(day * share) * DAY_MIN + minute if share else 0)


def _rows(name: str, week: Problem, seconds: float) -> None:
    result = solve(week, Stop(), 0, seconds=seconds)
    compiled = compile_problem(week)
    best = as_given(compiled, turns_of(result.placed))
    began = time.process_time()
    prove(compiled).of(best, Stop())
    took = time.process_time() - began
    for floor in result.floors:
        value = result.figures.terms[floor.term]
        share = floor.value / value if value else 1.0
        print(
            f"{name:<14}{value:>10}{floor.value:>10}{share:>8.1%}{took:>9.2f}  "
            f"{floor.term.value}: {floor.kind}",
            flush=True,
        )


def _against_all_lists(count: int) -> None:
    """No list may lie below a floor, whatever lateness it is allowed."""
    wrong = compared = met = 0
    for seed in range(count):
        compiled = compile_problem(a_small_tube_shop(seed, 5))
        usable = [
            terms
            for order in all_orders(compiled)
            for modes in product(*(op.modes for op in compiled.ops))
            if not (terms := decode(compiled, order, list(modes))[0].terms)[0]
        ]
        proof = prove(compiled)
        wrong += sum(
            terms[TERMS.index(floor.term)] < floor.value
            for terms in usable
            for floor in proof.holding(terms)
        )
        for lateness in _some(terms[LATENESS] for terms in usable):
            best = min(t[CHANGEOVER] for t in usable if t[LATENESS] <= lateness)
            floor = proof.groups.timed(lateness, 12_000)
            compared, met, wrong = (
                compared + 1, met + (best == floor.value), wrong + (best < floor.value)
            )  # fmt: skip
    print(f"{count} shops, {compared} limits of lateness: {met} met, {wrong} floors wrong")


def _some(values: Iterable[int]) -> list[int]:
    return sorted(set(values))[:6]


if __name__ == "__main__":
    main()
