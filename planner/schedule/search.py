"""Annealing in rounds: lanes of chains from the rules first, then reheats from the best.

The number of lanes is fixed, so that the result does not depend on the number of cores; each
round the lanes run on threads and all go on from the best of them.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from concurrent.futures import ThreadPoolExecutor, wait
from dataclasses import dataclass

from planner.schedule.chain import Chain
from planner.schedule.compiled import Compiled
from planner.schedule.dispatch import Start, topological
from planner.schedule.phases import Phase, plan_phases
from planner.schedule.rates import iterations_for
from planner.stop import Stop

LANES = 2
SLICE_SECONDS = 0.05
"""Of a call of the kernel, by the table of rates: how long a stop request waits."""
NEWS_SECONDS = 0.25
"""How often progress is told."""
SEED_STEP = 0x5851F42D4C957F2D

Enough = Callable[[tuple[int, ...]], bool]
"""Of the terms of the best so far: whether nothing is left to gain."""
Hear = Callable[[float, tuple[int, ...]], None]
"""Of (share of the budget done, terms of the best so far)."""


@dataclass(frozen=True, slots=True)
class Found:
    """The best schedule, how many moves were tried, and whether the budget was used up."""

    best: Start
    iterations: int
    finished: bool


def search(
    compiled: Compiled,
    starts: Sequence[Start],
    iterations: int,
    stop: Stop,
    seed: int,
    hear: Hear,
    enough: Enough,
) -> Found:
    """Improve on the best of `starts` with `iterations` moves in each lane, or until `enough`."""
    best = min(starts, key=lambda start: compiled.levels(start.terms))
    tried = 0
    if iterations <= 0 or len(compiled.ops) < 2 or enough(best.terms):
        hear(1.0, best.terms)
        return Found(best, 0, finished=True)
    chains = [Chain(compiled) for _ in range(LANES)]
    with ThreadPoolExecutor(LANES) as pool:
        for number, phase in enumerate(plan_phases(compiled, best, iterations)):
            board = _Board(compiled, phase, best.terms, hear)
            moves = max(1, round(iterations * phase.share))
            lanes = [
                pool.submit(
                    _lane,
                    chains[lane],
                    _origin(compiled, phase, starts, best, lane),
                    (seed * SEED_STEP + number * LANES + lane) % (1 << 62),
                    phase,
                    phase.hot[min(lane, 1)],
                    moves,
                    stop,
                    board.notes[lane],
                    enough,
                )
                for lane in range(LANES)
            ]
            while wait(lanes, timeout=NEWS_SECONDS).not_done:
                board.tell()
            ends = [lane.result() for lane in lanes]
            best = min(best, *ends, key=lambda start: compiled.levels(start.terms))
            tried += moves * LANES
            hear(phase.done, best.terms)
            if stop() or enough(best.terms):
                return Found(best, tried, finished=not stop())
    return Found(best, tried, finished=True)


class _Board:
    """What the lanes of one phase have found so far; lanes write, the waiting thread tells."""

    def __init__(
        self, compiled: Compiled, phase: Phase, terms: tuple[int, ...], hear: Hear
    ) -> None:
        self.compiled = compiled
        self.phase = phase
        self.notes: list[dict[float, tuple[int, ...]]] = [{0.0: terms} for _ in range(LANES)]
        self.hear = hear

    def tell(self) -> None:
        """Tell the best so far and the share of the slowest lane."""
        notes = [dict(note) for note in self.notes]
        done = min(max(note) for note in notes)
        best = min((t for note in notes for t in note.values()), key=self.compiled.levels)
        self.hear(self.phase.done - self.phase.share * (1 - done), best)


def _origin(
    compiled: Compiled, phase: Phase, starts: Sequence[Start], best: Start, lane: int
) -> Start:
    if phase.from_rule is None:
        return best
    ranked = sorted(starts, key=lambda start: compiled.levels(start.terms))
    return ranked[(phase.from_rule + lane) % len(ranked)]


def _lane(
    chain: Chain,
    origin: Start,
    seed: int,
    phase: Phase,
    begin: float,
    iterations: int,
    stop: Stop,
    note: dict[float, tuple[int, ...]],
    enough: Enough,
) -> Start:
    """One chain through one phase from temperature `begin`, in slices; `note` takes the best terms
    by share done."""
    chain.begin(origin, seed, phase.energy)
    _by_start(chain, origin, seed, phase)
    ratio = phase.cold / begin
    done, slice_moves = 0, max(1, iterations_for(chain.compiled, SLICE_SECONDS))
    while done < iterations and not stop() and not enough(chain.best_terms()):
        moves = min(slice_moves, iterations - done)
        hot = begin * ratio ** (done / iterations)
        cold = begin * ratio ** ((done + moves) / iterations)
        chain.anneal(moves, hot, cold, phase.merges)
        done += moves
        note[done / iterations] = chain.best_terms()
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
