"""Problems of one line: what counts as one, and the kernel against the plain-Python decoder."""

from __future__ import annotations

import random
from collections.abc import Iterator
from dataclasses import replace
from itertools import permutations

import pytest

from planner.schedule import (
    LEXICOGRAPHIC,
    Alternative,
    Arc,
    Base,
    Combine,
    Interval,
    Job,
    Operation,
    Person,
    Problem,
    Rule,
    Station,
    Term,
    solve,
)
from planner.schedule.compiled import TERMS, Compiled, compile_problem
from planner.schedule.decoder import decode
from planner.schedule.dispatch import Start, topological
from planner.schedule.lanes import unheard
from planner.schedule.line import BLOCK, COUNTED, LineChain, as_line, line_energy
from planner.schedule.line_search import search_line
from planner.stop import Stop

LATENESS = ({Term.LATENESS: 1},)
CHANGEOVER = ({Term.CHANGEOVER: 1},)


def a_line(
    seed: int,
    operations: int = 12,
    *,
    arcs: int = 0,
    levels: tuple[dict[Term, int], ...] = LATENESS,
    combine: Combine = Combine.SUM,
) -> Problem:
    """Two attributes with random minutes; every operation needs both, most end a job."""
    dice = random.Random(seed)
    values = [f"v{i}" for i in range(5)]
    rules = tuple(
        Rule(name, 9, {(a, b): dice.randint(0, 40) for a in values for b in values})
        for name in ("od", "belt")
    )
    keys = [f"o{i}" for i in range(operations)]
    pairs = [sorted(dice.sample(range(operations), 2)) for _ in range(arcs)]
    return Problem(
        bases=(Base("m", rules, combine, mounted={"od": "v0"}, free_from_min=7),),
        stations=(Station("m"),),
        operations=tuple(
            Operation(
                key,
                (Alternative("m", dice.randint(0, 30)),),
                needs={"od": dice.choice(values), "belt": dice.choice(values)},
            )
            for key in keys
        ),
        arcs=tuple(Arc(keys[a], keys[b]) for a, b in pairs),
        jobs=tuple(
            Job(key, dice.randint(0, 20 * operations), (key,), dice.randint(0, 5))
            for key in keys
            if dice.random() < 0.8
        ),
        levels=levels,
    )


def a_chain(problem: Problem) -> tuple[Compiled, LineChain]:
    compiled = compile_problem(problem)
    line = as_line(compiled)
    assert line is not None
    return compiled, LineChain(compiled, line)


def terms_of(compiled: Compiled, order: list[int]) -> tuple[int, ...]:
    decoder, _ = decode(compiled, order, [op.modes[0] for op in compiled.ops])
    return tuple(decoder.terms)


def energy_of(compiled: Compiled, order: list[int]) -> float:
    terms = dict(zip(TERMS, terms_of(compiled, order), strict=True))
    return sum(e * terms[t] for e, t in zip(line_energy(compiled), COUNTED, strict=True))


def respects(compiled: Compiled, order: list[int]) -> bool:
    place = {op: p for p, op in enumerate(order)}
    return all(
        place[pred.operation] < place[i] for i, op in enumerate(compiled.ops) for pred in op.preds
    )


def neighbours(order: list[int], *, timed: bool) -> Iterator[list[int]]:
    """Every exchange of two adjacent blocks; with times one of them short, or of two operations."""
    n = len(order)
    for a in range(n):
        for b in range(a + 1, n):
            for c in range(b + 1, n + 1):
                if min(b - a, c - b) <= BLOCK or not timed:
                    yield order[:a] + order[b:c] + order[a:b] + order[c:]
            if not timed:
                continue
            swapped = list(order)
            swapped[a], swapped[b] = swapped[b], swapped[a]
            yield swapped


MIXES = [
    {"levels": LATENESS},
    {"levels": LATENESS, "arcs": 6},
    {"levels": CHANGEOVER, "arcs": 6},
    {"levels": CHANGEOVER, "arcs": 30},
    {"levels": LEXICOGRAPHIC, "combine": Combine.LONGEST},
    {"levels": ({Term.LATENESS: 2, Term.CHANGEOVER: 5, Term.COMPLETION: 1},), "arcs": 3},
]


@pytest.mark.parametrize("mix", MIXES)
@pytest.mark.parametrize("seed", range(6))
def test_the_figures_of_an_order_are_those_of_the_decoder(
    seed: int, mix: dict[str, object]
) -> None:
    problem = a_line(seed, **mix)  # type: ignore[arg-type]  # each mix names its own arguments
    compiled, chain = a_chain(problem)
    counted = [TERMS.index(term) for term in COUNTED]
    order = topological(compiled, random.Random(seed).sample(range(12), 12))
    chain.begin(order, seed)
    assert [chain.best_terms()[i] for i in counted] == [
        terms_of(compiled, order)[i] for i in counted
    ]
    chain.improve(20_000)
    best = chain.best()
    assert respects(compiled, list(best.order))
    found = terms_of(compiled, list(best.order))
    assert [best.terms[i] for i in counted] == [found[i] for i in counted]
    assert compiled.levels(found) <= compiled.levels(terms_of(compiled, order))


@pytest.mark.parametrize("mix", MIXES)
@pytest.mark.parametrize("seed", range(4))
def test_a_descent_ends_where_no_move_gains(seed: int, mix: dict[str, object]) -> None:
    problem = a_line(seed, **mix)  # type: ignore[arg-type]  # each mix names its own arguments
    compiled, chain = a_chain(problem)
    start = topological(compiled)
    chain.begin(start, seed)
    chain.descend()
    order = list(chain.best().order)
    reached = energy_of(compiled, order)
    assert reached < energy_of(compiled, start)
    near = neighbours(order, timed=chain.timed)
    worth = [energy_of(compiled, each) for each in near if respects(compiled, each)]
    assert min(worth) >= reached


@pytest.mark.parametrize("seed", range(4))
def test_a_search_of_few_moves_goes_down_from_where_it_begins(seed: int) -> None:
    compiled, chain = a_chain(replace(a_line(seed, 40, arcs=10), jobs=(), levels=CHANGEOVER))
    order = topological(compiled)
    chain.begin(order, seed)
    chain.descend()
    line = as_line(compiled)
    assert line is not None
    assert not line.timed
    start = Start(tuple(order), tuple(order), tuple(terms_of(compiled, order)))
    found = search_line(compiled, line, [start], 3, Stop(), seed, unheard, lambda _: False)
    down = chain.best()
    assert compiled.levels(down.terms) < compiled.levels(start.terms)
    assert compiled.levels(found.best.terms) <= compiled.levels(down.terms)


@pytest.mark.parametrize("seed", range(4))
def test_a_hop_leads_to_an_order_near_by_that_can_be_done(seed: int) -> None:
    compiled, chain = a_chain(a_line(seed, 40, arcs=10))
    chain.begin(topological(compiled), seed)
    chain.descend()
    order = chain.best().order
    reached = energy_of(compiled, list(order))
    found = [chain.hop(order) for _ in range(20)]
    assert all(respects(compiled, list(other)) and moves > 0 for other, moves in found)
    assert all(sorted(other) == list(range(40)) for other, _ in found)
    assert len({other for other, _ in found} - {order}) > 1
    disturbed = [energy_of(compiled, list(other)) for other, _ in found]
    assert sorted(disturbed)[10] <= 1.02 * reached


@pytest.mark.parametrize("seed", range(4))
def test_an_order_of_some_of_the_work_goes_down_like_one_of_all(seed: int) -> None:
    problem = a_line(seed, 40, arcs=10)
    compiled, chain = a_chain(problem)
    order = topological(compiled)
    chain.begin(order, seed)
    some = [i for i in order if i % 3]
    keys = {compiled.ops[i].key for i in some}
    fewer, alone = a_chain(
        replace(
            problem,
            operations=tuple(op for op in problem.operations if op.key in keys),
            arcs=tuple(arc for arc in problem.arcs if {arc.before, arc.after} <= keys),
            jobs=tuple(job for job in problem.jobs if job.key in keys),
        )
    )
    number = {op.key: i for i, op in enumerate(fewer.ops)}
    known = [number[compiled.ops[i].key] for i in some]
    alone.begin(known, seed)
    here, there = energy_of(fewer, known), list[float]()
    for place in (0, 9, 18):
        found, moves = chain.close_up(some, place, place + 1)
        assert sorted(found) == sorted(some)
        assert moves > 0
        as_numbered = [number[compiled.ops[i].key] for i in found]
        assert respects(fewer, as_numbered)
        there.append(energy_of(fewer, as_numbered))
    assert max(there) <= here
    assert min(there) < here


@pytest.mark.parametrize("seed", range(4))
def test_a_descent_turns_stretches_round_where_changeovers_are_the_same_both_ways(
    seed: int,
) -> None:
    dice = random.Random(seed)
    keys = [f"o{i}" for i in range(11)]
    places = {key: (dice.randint(0, 99), dice.randint(0, 99)) for key in keys}
    minutes = {
        (a, b): abs(places[a][0] - places[b][0]) + abs(places[a][1] - places[b][1])
        for a in keys
        for b in keys
    }
    problem = Problem(
        bases=(Base("m", (Rule("place", 99, minutes),), mounted={"place": "o0"}),),
        stations=(Station("m"),),
        operations=tuple(
            Operation(key, (Alternative("m", 0),), needs={"place": key}) for key in keys
        ),
        arcs=(Arc("o3", "o7"),),
        levels=CHANGEOVER,
    )
    compiled, chain = a_chain(problem)
    start = list(range(11))
    chain.begin(start, seed)
    chain.descend()
    order = list(chain.best().order)
    turned = [order[:i] + order[i:j][::-1] + order[j:] for i in range(11) for j in range(i + 2, 12)]
    worth = [energy_of(compiled, each) for each in turned if respects(compiled, each)]
    assert min(worth) >= energy_of(compiled, order)


@pytest.mark.parametrize("seed", range(6))
def test_small_lines_are_solved_like_trying_every_order(seed: int) -> None:
    problem = a_line(seed, 6, arcs=seed % 3)
    compiled, _ = a_chain(problem)
    orders = (list(order) for order in permutations(range(6)))
    least = min(
        compiled.levels(terms_of(compiled, order)) for order in orders if respects(compiled, order)
    )
    assert solve(problem, Stop(), 1, seconds=0.05).figures.levels == least


def test_the_same_seed_gives_the_same_order() -> None:
    problem = a_line(3, 25, arcs=5)
    found = [solve(problem, Stop(), 5, seconds=0.1).placed for _ in range(2)]
    assert found[0] == found[1]


def test_a_request_to_stop_is_heard() -> None:
    stop = Stop()
    stop.ask()
    result = solve(a_line(3, 25), stop, 5, seconds=60.0)
    assert len(result.placed) == 25


def with_operation(problem: Problem, operation: Operation) -> Problem:
    return replace(problem, operations=(operation, *problem.operations[1:]))


def test_more_than_a_line_is_not_taken_for_one() -> None:
    problem = a_line(1)
    first = problem.operations[0]
    hours = (Interval(0, 100_000),)
    others = {
        "hours": replace(problem, stations=(Station("m", hours=hours),), horizon_min=100_000),
        "people": replace(problem, people=(Person("ann", ("m",)),)),
        "release": with_operation(problem, replace(first, release_min=50)),
        "partly mounted": with_operation(problem, replace(first, needs={"od": "v1"})),
        "latest end": with_operation(problem, replace(first, latest_end_min=9_000)),
        "lag": replace(problem, arcs=(Arc("o0", "o1", lag_min=5),)),
        "two finals": replace(problem, jobs=(Job("j", 5, ("o0", "o1")),)),
        "too large": replace(problem, jobs=(Job("j", 5, ("o0",), 10_000_000),)),
    }
    assert as_line(compile_problem(problem)) is not None
    assert [name for name, each in others.items() if as_line(compile_problem(each))] == []
