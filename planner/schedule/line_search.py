"""Iterated local search over the order of one line, where the problem is no more than that.

Annealing pays where work waits for other work, stations and people; on one line a descent over
the whole neighbourhood judges ten to a hundred times as many moves a second.
"""

from __future__ import annotations

from collections.abc import Sequence
from functools import partial

from planner.schedule.compiled import Compiled
from planner.schedule.dispatch import Start
from planner.schedule.lanes import LANES, Enough, Found, Hear, best_of_lanes, ranked, seeds_of
from planner.schedule.line import Line, LineChain
from planner.schedule.rates import line_moves_for
from planner.stop import Stop

SLICE_MOVES = 15_000_000
"""A call of the kernel takes about a tenth of a second."""
SLICES = 20
"""Calls in a round at least, as the temperature may fall from one to the next."""
ROUNDS = (0.6, 0.4)
"""Shares of the budget: the lanes by themselves, and then all from the best."""


def search_line(
    compiled: Compiled,
    line: Line,
    starts: Sequence[Start],
    iterations: int,
    stop: Stop,
    seed: int,
    hear: Hear,
    enough: Enough,
) -> Found:
    """Improve on the best of `starts` in the time of so many moves of annealing a lane."""
    starts = ranked(compiled, starts)
    best, done, tried = starts[0], 0.0, 0
    chains = [LineChain(compiled, line) for _ in range(LANES)]
    for number, share in enumerate(ROUNDS):
        if stop() or enough(best.terms) or iterations <= 0:
            break
        moves = line_moves_for(compiled, round(iterations * share))
        for chain in chains:
            chain.heat(number)
        origins = starts if number == 0 else [best]
        lanes = [
            partial(_lane, chains[lane], origins[lane % len(origins)], each, moves, stop, enough)
            for lane, each in enumerate(seeds_of(seed, number))
        ]
        best = best_of_lanes(compiled, lanes, best, partial(_in_round, done, share, hear))
        done += share
        tried += moves * LANES
    hear(1.0, best.terms)
    return Found(best, tried, finished=not stop() or enough(best.terms))


def _in_round(before: float, share: float, hear: Hear, done: float, terms: tuple[int, ...]) -> None:
    """Tell a share of a round as one of the search."""
    hear(before + share * done, terms)


def _lane(
    chain: LineChain,
    origin: Start,
    seed: int,
    moves: int,
    stop: Stop,
    enough: Enough,
    tell: Hear,
) -> Start:
    """One chain for so many moves, in slices."""
    chain.begin(origin.order, seed)
    chain.descend()
    done, slice_moves = 0, min(SLICE_MOVES, moves // SLICES + 1)
    while done < moves and not stop() and not enough(chain.best_terms()):
        done += chain.improve(min(slice_moves, moves - done), done / moves)
        tell(min(1.0, done / moves), chain.best_terms())
    return chain.best()
