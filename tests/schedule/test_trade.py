"""Two bases that trade what they do, and the list by start."""

from __future__ import annotations

import random
from dataclasses import replace

import pytest

from planner.schedule import (
    Alternative,
    Base,
    Fixed,
    Job,
    Operation,
    Problem,
    Rule,
    Station,
    Term,
)
from planner.schedule.chain import Chain
from planner.schedule.compiled import TERMS, Compiled, compile_problem
from planner.schedule.decoder import decode
from planner.schedule.dispatch import Start
from planner.schedule.phases import energies
from planner.schedule.validate import check
from tests.benchmarks.weeks import a_week
from tests.schedule.test_chain import a_random_start, assert_decodes_to, on_base

MINUTES, CHANGE = 10, 10
VIOLATION, LATENESS, CHANGEOVER = (
    TERMS.index(term) for term in (Term.VIOLATION, Term.LATENESS, Term.CHANGEOVER)
)


def two_grinders(ods: str, due_min: int, quick: str = "") -> Compiled:
    """An operation for each OD, on either of two bases, all due at the same minute; what is done on
    `quick` ODs takes no time."""
    names = ("left", "right")
    keys = [f"{number} {od}" for number, od in enumerate(ods)]

    def ways(od: str) -> tuple[Alternative, ...]:
        return tuple(Alternative(name, 0 if od in quick else MINUTES) for name in names)

    problem = Problem(
        bases=tuple(Base(name, rules=(Rule("od", CHANGE),)) for name in names),
        stations=tuple(Station(name) for name in names),
        operations=tuple(Operation(key, ways(key[-1]), {"od": key[-1]}) for key in keys),
        jobs=tuple(Job(key, due_min, (key,)) for key in keys),
    )
    check(problem)
    return compile_problem(problem)


def test_the_ends_of_two_bases_change_places() -> None:
    """Both are busy until all is due, so that nothing alone may go to the other."""
    compiled = two_grinders("AAAAABBBBBBBBBBAAAAA", 10 * MINUTES + 2 * CHANGE)
    modes = tuple(op.modes[number // 10] for number, op in enumerate(compiled.ops))
    chain = Chain(compiled)
    terms = chain.begin(Start(tuple(range(20)), modes, ()), 1, energies(compiled, 0.0))
    assert (terms[LATENESS], terms[CHANGEOVER]) == (0, 4 * CHANGE)
    chain.anneal(4000, 0.01, 0.01, 40)
    best = chain.best().terms
    assert (best[LATENESS], best[CHANGEOVER]) == (0, 2 * CHANGE)


@pytest.mark.parametrize("seed", range(8))
def test_what_begins_at_the_same_minute_stays_in_its_order(seed: int) -> None:
    compiled = two_grinders("BZZBBZBBYYB", 1000, quick="YZ")
    chain = Chain(compiled)
    chain.begin(a_random_start(compiled, seed), seed, energies(compiled, 0.0))
    for _ in range(100):
        chain.anneal(10, 30.0, 30.0, 40)
        assert_decodes_to(compiled, chain.now(), *chain.times())


def a_week_with_ties(seed: int) -> tuple[Compiled, Start]:
    """Some work takes no time and some is fixed; and a list in which nothing is late."""
    dice = random.Random(seed)
    week = a_week(6, seed, finishers=2)
    quick = [_quick(op) if dice.random() < 0.3 else op for op in week.operations]
    jobs = tuple(replace(job, due_min=30_000) for job in week.jobs)
    week = replace(week, operations=tuple(quick), jobs=jobs)
    start = a_random_start(compile_problem(week), seed)
    before, after = compile_problem(week), compile_problem(_fixed_as_in(week, start, dice))
    ways = [op.modes.index(m) for op, m in zip(before.ops, start.modes, strict=True)]
    modes = [op.modes[min(w, len(op.modes) - 1)] for op, w in zip(after.ops, ways, strict=True)]
    return after, replace(start, modes=tuple(modes))


def _quick(op: Operation) -> Operation:
    return replace(op, alternatives=tuple(replace(a, duration_min=0) for a in op.alternatives))


def _fixed_as_in(week: Problem, start: Start, dice: random.Random) -> Problem:
    """Some work with two alternatives, fixed at the minutes that it has in the list."""
    compiled = compile_problem(week)
    decoder, _ = decode(compiled, start.order, list(start.modes))
    operations = list(week.operations)
    either = [number for number, op in enumerate(compiled.ops) if len(op.modes) == 2]
    for number in dice.sample(either, 3):
        way = compiled.ops[number].modes.index(start.modes[number])
        station = operations[number].alternatives[way].station
        fixed = Fixed(decoder.start[number], decoder.end[number], station)
        operations[number] = replace(operations[number], fixed=fixed)
    return replace(week, operations=tuple(operations))


@pytest.mark.parametrize("seed", range(30))
def test_after_trades_the_plan_is_what_its_list_decodes_to(seed: int) -> None:
    compiled, start = a_week_with_ties(seed)
    chain = Chain(compiled)
    terms = chain.begin(start, seed, energies(compiled, 0.0))
    assert terms[LATENESS] + terms[VIOLATION] == 0
    for _ in range(40):
        chain.anneal(100, 30.0, 30.0, 40)
        now = chain.now()
        assert_decodes_to(compiled, now, *chain.times())
        bases = [compiled.modes[mode].base for mode in now.modes]
        for base in range(len(compiled.bases)):
            assert on_base(chain, base) == [op for op in now.order if bases[op] == base]
