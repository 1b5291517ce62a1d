"""Annealing in rounds: lanes of chains from the rules first, then reheats from the best of them."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from functools import partial

from planner.schedule.chain import Chain
from planner.schedule.compiled import Compiled
from planner.schedule.decoder import placed
from planner.schedule.dispatch import Start, topological
from planner.schedule.lanes import LANES, Enough, Found, Hear, best_of_lanes, ranked, seeds_of
from planner.schedule.phases import Phase, plan_phases
from planner.schedule.rates import iterations_for
from planner.stop import Stop

SLICE_SECONDS = 0.05
"""Of a call of the kernel, by the table of rates: how long a stop request waits."""

Plan = Callable[[Compiled, Start, int], list[Phase]]
"""Of the best start and the moves of a lane: its phases."""


def search(
    compiled: Compiled,
    starts: Sequence[Start],
    iterations: int,
    stop: Stop,
    seed: int,
    hear: Hear,
    enough: Enough,
    plan: Plan = plan_phases,
    *,
    unasked: int = 0,
) -> Found:
    """Improve on the best of `starts` with `iterations` moves in each lane, or until `enough`,
    which is asked after `unasked` moves of a lane, as it may not know before."""
    starts = ranked(compiled, [*starts, *_each_way(compiled)])
    best = starts[0]
    if iterations <= 0 or len(compiled.ops) < 2 or (not unasked and enough(best.terms)):
        hear(1.0, best.terms)
        return Found(best, 0, finished=True)
    chains = [Chain(compiled) for _ in range(LANES)]
    for number, phase in enumerate(plan(compiled, best, iterations)):
        moves = max(1, round(iterations * phase.share))
        lanes = [
            partial(
                _lane,
                chains[lane],
                _origin(phase, starts, best, lane),
                each_seed,
                phase,
                phase.hot[min(lane, 1)],
                moves,
                stop,
                enough,
                0 if number else unasked,
            )
            for lane, each_seed in enumerate(seeds_of(seed, number))
        ]
        best = best_of_lanes(compiled, lanes, best, partial(_in_phase, phase, hear))
        hear(phase.done, best.terms)
        if stop() or enough(best.terms):
            break
    return Found(best, sum(chain.tried for chain in chains), finished=not stop())


def _each_way(compiled: Compiled) -> Iterator[Start]:
    """A lone operation in each of its modes; moves need two."""
    for mode in compiled.ops[0].modes if len(compiled.ops) == 1 else ():
        yield placed(compiled, (0,), (mode,))


def _in_phase(phase: Phase, hear: Hear, done: float, terms: tuple[int, ...]) -> None:
    """Tell a share of a phase as one of the search."""
    hear(phase.done - phase.share * (1 - done), terms)


def _origin(phase: Phase, starts: Sequence[Start], best: Start, lane: int) -> Start:
    """Where a lane begins; the best of the starts come first."""
    if phase.from_rule is None:
        return best
    return starts[(phase.from_rule + lane) % len(starts)]


def _lane(
    chain: Chain,
    origin: Start,
    seed: int,
    phase: Phase,
    begin: float,
    iterations: int,
    stop: Stop,
    enough: Enough,
    unasked: int,
    tell: Hear,
) -> Start:
    """One chain through one phase from temperature `begin`, in slices."""
    chain.begin(origin, seed, phase.energy)
    _by_start(chain, origin, seed, phase)
    ratio = phase.cold / begin
    done, slice_moves = 0, max(1, iterations_for(chain.compiled, SLICE_SECONDS))
    while done < iterations and not stop():
        if done >= unasked and enough(chain.best_terms()):
            break
        moves = min(slice_moves, iterations - done)
        hot = begin * ratio ** (done / iterations)
        cold = begin * ratio ** ((done + moves) / iterations)
        chain.anneal(moves, hot, cold, phase.merges)
        done += moves
        tell(done / iterations, chain.best_terms())
    return chain.best()


def _by_start(chain: Chain, origin: Start, seed: int, phase: Phase) -> None:
    """With people, list the operations by start: whoever is free first is then chosen first."""
    if not chain.compiled.people_free:
        return
    starts, _ = chain.times()
    order = topological(chain.compiled, starts)
    terms = chain.begin(Start(tuple(order), origin.modes, ()), seed, phase.energy)
    if chain.compiled.levels(terms) > chain.compiled.levels(origin.terms):
        chain.begin(origin, seed, phase.energy)
