"""The compiled kernel against the plain-Python decoder."""

from __future__ import annotations

import random
from dataclasses import replace

import numpy as np
import pytest

from planner.schedule import Alternative, Fixed, Job, Operation, Person, Problem, Station
from planner.schedule.chain import Chain
from planner.schedule.compiled import TERMS, Compiled, compile_problem
from planner.schedule.decoder import decode
from planner.schedule.dispatch import Start, topological
from planner.schedule.phases import energies
from planner.schedule.validate import check
from tests.schedule.shops import DAY_MIN, a_random_shop


def a_compiled_shop(seed: int, *, operations: int = 14, people: bool = True) -> Compiled:
    problem = a_random_shop(seed, operations, people=people)
    check(problem)
    return compile_problem(problem)


def a_shop_without_charges(seed: int, operations: int) -> Problem:
    """No people, overtime or issued work; some are punctual when well ordered."""
    problem = a_random_shop(seed, operations, people=False, fixed=seed % 5 == 0)
    spare = DAY_MIN // 2 * (seed % 8)
    usual = tuple(
        replace(s, hours=tuple(i for i in s.hours or () if not i.overtime_price) or None)
        for s in problem.stations
    )
    return replace(
        problem,
        stations=usual,
        operations=tuple(
            replace(op, issued=None, latest_end_min=None if seed % 4 else op.latest_end_min)
            for op in problem.operations
        ),
        jobs=tuple(replace(job, due_min=job.due_min + spare, spare_min=0) for job in problem.jobs),
    )


def a_random_start(compiled: Compiled, seed: int) -> Start:
    dice = random.Random(seed)
    rank = [dice.randrange(1000) for _ in compiled.ops]
    modes = tuple(dice.choice(op.modes) for op in compiled.ops)
    return Start(tuple(topological(compiled, rank)), modes, ())


def assert_decodes_to(compiled: Compiled, start: Start, starts: list[int], ends: list[int]) -> None:
    decoder, _ = decode(compiled, start.order, list(start.modes))
    assert tuple(decoder.terms) == start.terms
    assert decoder.start == starts
    assert decoder.end == ends


@pytest.mark.parametrize("seed", range(60))
def test_a_list_is_decoded_to_the_same_times_and_terms(seed: int) -> None:
    compiled = a_compiled_shop(seed, people=seed % 2 == 0)
    chain = Chain(compiled)
    for number in range(5):
        chain.begin(a_random_start(compiled, number), 1, energies(compiled, 0.01))
        assert_decodes_to(compiled, chain.now(), *chain.times())


@pytest.mark.parametrize("seed", range(60))
def test_after_every_few_moves_the_current_plan_is_what_its_list_decodes_to(seed: int) -> None:
    compiled = a_compiled_shop(seed, operations=10 + seed, people=seed % 2 == 0)
    chain = Chain(compiled)
    chain.begin(a_random_start(compiled, seed), seed, energies(compiled, 0.01))
    for _ in range(15):
        chain.anneal(40, 1e5, 1e3, 40)
        assert_decodes_to(compiled, chain.now(), *chain.times())


@pytest.mark.parametrize("seed", range(40))
@pytest.mark.parametrize("temperature", [3.0, 300.0, 30000.0])
def test_latest_minutes_decide_as_decoding_to_the_end_does(seed: int, temperature: float) -> None:
    compiled = compile_problem(a_shop_without_charges(seed, operations=30 + seed))
    assert Chain(compiled).simple
    ends: list[Start] = []
    for foresees in (True, False):
        chain = Chain(compiled, foresees=foresees)
        chain.begin(a_random_start(compiled, seed), seed, energies(compiled, 0.0))
        chain.anneal(1500, 1000 * temperature, temperature, 40)
        chain.anneal(1500, temperature, temperature / 100, 40)
        ends.append(chain.now())
    assert ends[0] == ends[1]


@pytest.mark.parametrize("seed", range(20))
def test_every_list_respects_precedence_and_every_mode_is_of_its_operation(seed: int) -> None:
    compiled = a_compiled_shop(seed, operations=40)
    chain = Chain(compiled)
    chain.begin(a_random_start(compiled, seed), seed, energies(compiled, 0.0))
    for _ in range(10):
        chain.anneal(50, 1e6, 1e6, 40)
        now = chain.now()
        assert all(mode in op.modes for mode, op in zip(now.modes, compiled.ops, strict=True))
        place = {op: p for p, op in enumerate(now.order)}
        assert len(place) == len(compiled.ops)
        for i, op in enumerate(compiled.ops):
            assert all(place[pred.operation] < place[i] for pred in op.preds)


def on_base(chain: Chain, base: int) -> list[int]:
    """The operations of a base in the current schedule, as the kernel has them linked."""
    ops, bases = len(chain.compiled.ops), len(chain.compiled.bases)
    links = chain.kernel.view(chain.at["next"], np.int32, ops + bases).tolist()
    found: list[int] = []
    op = links[ops + base]
    while op >= 0 and len(found) < ops:
        found.append(op)
        op = links[op]
    return found


@pytest.mark.parametrize("seed", range(30))
def test_the_neighbours_on_each_base_are_those_of_the_list(seed: int) -> None:
    compiled = a_compiled_shop(seed, operations=30, people=seed % 2 == 0)
    chain = Chain(compiled)
    chain.begin(a_random_start(compiled, seed), seed, energies(compiled, 0.0))
    for _ in range(10):
        chain.anneal(50, 1e6, 1e6, 40)
        now = chain.now()
        bases = [compiled.modes[mode].base for mode in now.modes]
        for base in range(len(compiled.bases)):
            assert on_base(chain, base) == [op for op in now.order if bases[op] == base]


def test_the_best_is_never_worse_than_the_start_and_its_figures_are_true() -> None:
    compiled = a_compiled_shop(3, operations=30)
    chain = Chain(compiled)
    terms = chain.begin(a_random_start(compiled, 1), 5, energies(compiled, 0.0))
    chain.anneal(3000, 1e4, 1.0, 40)
    best = chain.best()
    assert compiled.levels(best.terms) <= compiled.levels(terms)
    decoder, _ = decode(compiled, best.order, list(best.modes))
    assert tuple(decoder.terms) == best.terms


def test_fixed_work_that_nobody_may_run_is_loaded() -> None:
    fixed = Operation("a", (Alternative("m", 40),), fixed=Fixed(5, 45, "m"))
    jobs = (Job("a", 300, ("a",)),)
    problem = Problem((Station("m"),), (fixed,), jobs=jobs, people=(Person("Ann", ()),))
    check(problem)
    chain = Chain(compile_problem(problem))
    chain.begin(Start((0,), (0,), ()), 0, [0.0] * len(TERMS))
    assert chain.times() == ([5], [45])
