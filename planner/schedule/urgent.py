"""Starts for weeks that rules leave late: the work that is due first is planned alone.

Lateness is decided where the work is dense, mostly in the first days. There a few hundred
operations decide, and each has a better place when all work that is due later is out of the way:
moves are several times cheaper, none is spent on work that has time, and nothing that only saves a
changeover stands before something late. So the jobs due first are searched alone, then with them
those due next, and so on until the last that is late; the rules order what is left. Each part
begins from the order of the one before, so that only what is new has to find its place; one that
is not later than that is not searched at all. Most of the budget goes to orders of the bottleneck,
and what they lead to is annealed.
"""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from functools import partial

from planner.schedule.bottleneck_search import search_bottleneck
from planner.schedule.compiled import TERMS, Compiled, compile_problem
from planner.schedule.decoder import decode
from planner.schedule.dispatch import Start
from planner.schedule.lanes import LANES, Hear
from planner.schedule.overtime import punctual
from planner.schedule.phases import plan_late_phases
from planner.schedule.problem import Problem, Term
from planner.schedule.rates import iterations_for
from planner.schedule.rules import make_rules
from planner.schedule.search import search
from planner.stop import Stop

SHARE = 0.75
"""Of the budget, at most, for all of it."""
PARTS = (0.2, 0.35, 0.5, 0.65, 0.8, 1.0, 1.2)
"""How many jobs are planned one after the other, of those due up to the last late one; what is late
there delays some that the rules had on time."""
LEADING = 0.85
"""Of the budget of a part, for orders of its bottleneck where that is a line."""
TRIES = 2
"""How often each part is planned anew, with an equal share of its budget; the best is kept. With
two finishers and people two tries came to 28,976 weighted minutes late, one to 35,680 (weeks 600/23
and 600/29, 60 s, three seeds each)."""
FEWEST, MOST = 60, 0.75
"""Operations below which a part is left out, and share of all operations above which it is."""
LATENESS = TERMS.index(Term.LATENESS)


@dataclass(frozen=True, slots=True)
class Urgent:
    """Starts with the urgent work in front, and what they took."""

    starts: tuple[Start, ...]
    seconds: float
    """Of the budget, that they took."""
    tried: int
    """Moves in all lanes."""
    done: float
    """Share of the budget that was told to be done."""


def start_with_urgent(
    compiled: Compiled,
    starts: Sequence[Start],
    seconds: float,
    stop: Stop,
    seed: int,
    hear: Hear,
) -> Urgent:
    """Better starts than the rules' where the best of those is late and there is work that has
    time; `seconds` are those for all of the search."""
    best = min(starts, key=lambda start: compiled.levels(start.terms))
    parts = list(_parts(compiled, best)) if seconds > 0 and not punctual(best) else []
    found: tuple[Compiled, tuple[Start, ...]] | None = None
    spent_s, tried = 0.0, 0
    for number, due in enumerate(parts):
        if stop():
            break
        part = compile_problem(_due_by(compiled.problem, due))
        known = _continued(part, *found) if found else tuple(make_rules(part).starts)
        if found is not None:
            first = min(known, key=lambda start: part.levels(start.terms))
            if first.terms[LATENESS] <= found[1][0].terms[LATENESS]:  # no more late than before
                found = part, (first,)
                continue

        def heard(done: float, _: tuple[int, ...], number: int = number) -> None:
            hear(SHARE * (number + done) / len(parts), best.terms)

        each_s = (SHARE * seconds - spent_s) / (len(parts) - number)
        better = _best_of_tries(part, known, each_s, stop, seed + number, heard)
        found = part, better.starts
        tried += better.tried
        spent_s += better.seconds
    if found is None:
        return Urgent((), 0.0, 0, 0.0)
    part, (first, *_) = found
    return Urgent(_continued(compiled, part, (first,)), spent_s, tried, SHARE)


@dataclass(frozen=True, slots=True)
class _Improved:
    starts: tuple[Start, ...]
    """The best; and what its bottleneck led to, if that is another: what annealing has fitted
    together is no order that the shop would make of its lines, and so no place to go on from."""
    seconds: float
    """Of the budget, that both took."""
    tried: int


def _best_of_tries(
    part: Compiled, known: Sequence[Start], seconds: float, stop: Stop, seed: int, hear: Hear
) -> _Improved:
    """The best of some tries that share `seconds`."""
    tries: list[_Improved] = []
    for number in range(TRIES):
        told = partial(_between, number / TRIES, (number + 1) / TRIES, hear)
        each_seed = seed + number * len(PARTS)
        tries.append(_improved(part, known, seconds / TRIES, stop, each_seed, told))
        if stop() or _nothing_late(tries[-1].starts[0].terms):
            break
    best = min(tries, key=lambda tried: part.levels(tried.starts[0].terms))
    spent_s, moves = sum(each.seconds for each in tries), sum(each.tried for each in tries)
    return _Improved(best.starts, spent_s, moves)


def _improved(
    part: Compiled, known: Sequence[Start], seconds: float, stop: Stop, seed: int, hear: Hear
) -> _Improved:
    """What its bottleneck leads to, and what annealing makes of that."""
    how = (stop, seed)
    told = partial(_between, 0.0, LEADING, hear)
    led = search_bottleneck(part, known, LEADING * seconds, *how, told, _nothing_late)
    begin = LEADING if led else 0.0
    starts = (*known, led.best) if led else known
    rest_s = seconds - (led.seconds if led else 0.0)
    budget = iterations_for(part, rest_s, late=True)
    told = partial(_between, begin, 1.0, hear)
    found = search(part, starts, budget, *how, told, _nothing_late, plan_late_phases)
    took_s = rest_s * found.iterations / max(1, LANES * budget)
    if led is None:
        return _Improved((found.best,), took_s, found.iterations)
    both = tuple(dict.fromkeys((found.best, led.best)))
    return _Improved(both, took_s + led.seconds, found.iterations + led.tried)


def _between(begin: float, end: float, hear: Hear, done: float, terms: tuple[int, ...]) -> None:
    """Tell a share of what lies between two shares of all."""
    hear(begin + done * (end - begin), terms)


def _nothing_late(terms: tuple[int, ...]) -> bool:
    return terms[LATENESS] == 0


def _parts(compiled: Compiled, start: Start) -> Iterator[int]:
    """Due dates up to which the work is planned alone, rising."""
    late = decode(compiled, start.order, list(start.modes))[0].late_dues()
    if not late:
        return
    dues = sorted(compiled.due)
    jobs = bisect_right(dues, max(late))
    most = MOST * len(compiled.ops)
    last = -1
    for share in PARTS:
        due = dues[min(round(share * jobs), len(dues)) - 1]
        size = len(_due_by(compiled.problem, due).operations)
        if due > last and FEWEST <= size <= most:
            yield due
            last = due


def _due_by(problem: Problem, due_min: int) -> Problem:
    """Only the jobs due by then, what they wait for, and what is fixed before."""
    jobs = tuple(job for job in problem.jobs if job.due_min <= due_min)
    before: dict[str, list[str]] = {}
    for arc in problem.arcs:
        before.setdefault(arc.after, []).append(arc.before)
    fixed = [o.key for o in problem.operations if o.fixed and o.fixed.start_min <= due_min]
    waiting = [*fixed, *(key for job in jobs for key in job.finals)]
    kept: set[str] = set()
    while waiting:
        key = waiting.pop()
        if key not in kept:
            kept.add(key)
            waiting += before.get(key, [])
    return replace(
        problem,
        jobs=jobs,
        operations=tuple(op for op in problem.operations if op.key in kept),
        arcs=tuple(arc for arc in problem.arcs if arc.after in kept),
    )


def _continued(whole: Compiled, part: Compiled, starts: Sequence[Start]) -> tuple[Start, ...]:
    """What the rules make of all the work after a part of it that is in each of these orders."""
    each = (make_rules(whole, _placed(whole, part, start)).starts for start in starts)
    return tuple(start for many in each for start in many)


def _placed(whole: Compiled, part: Compiled, start: Start) -> list[int]:
    """The modes of a start of a part of the work, in its order, as numbered in all of it."""
    number = {op.key: i for i, op in enumerate(whole.ops)}
    modes: list[int] = []
    for i in start.order:
        op = whole.ops[number[part.ops[i].key]]
        modes.append(op.modes[start.modes[i] - part.ops[i].modes[0]])
    return modes
