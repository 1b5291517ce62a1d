"""Lanes: the chains of one search side by side, each on a thread, and what is told meanwhile.

The number of lanes is fixed, so that the result does not depend on the number of cores.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from concurrent.futures import ThreadPoolExecutor, wait
from dataclasses import dataclass

from planner.schedule.compiled import Compiled
from planner.schedule.dispatch import Start

LANES = 2
NEWS_SECONDS = 0.25
"""How often progress is told."""
SEED_STEP = 0x5851F42D4C957F2D

Terms = tuple[int, ...]
Enough = Callable[[Terms], bool]
"""Of the terms of the best so far: whether nothing is left to gain."""
Hear = Callable[[float, Terms], None]
"""Of (share of the work done, terms of the best so far)."""
Lane = Callable[[Hear], Start]
"""Does its work, tells how far it is, and returns the best that it found."""


@dataclass(frozen=True, slots=True)
class Found:
    """The best schedule, how many moves were tried, and whether the budget was used up."""

    best: Start
    iterations: int
    finished: bool


def unheard(done: float, terms: Terms) -> None:
    """Nobody listens."""


def seeds_of(seed: int, number: int) -> tuple[int, ...]:
    """A seed for each lane of a search's round of this number."""
    return tuple((seed * SEED_STEP + number * LANES + lane) % (1 << 62) for lane in range(LANES))


def ranked(compiled: Compiled, starts: Sequence[Start]) -> list[Start]:
    """The best first."""
    return sorted(starts, key=lambda start: compiled.levels(start.terms))


def best_of_lanes(compiled: Compiled, lanes: Sequence[Lane], best: Start, hear: Hear) -> Start:
    """`best`, or what a lane finds that is better; `hear` is told of the slowest lane's share."""
    notes = [(0.0, best.terms)] * len(lanes)

    def note_of(number: int) -> Hear:
        def note(done: float, terms: Terms) -> None:
            notes[number] = done, terms

        return note

    with ThreadPoolExecutor(len(lanes)) as pool:
        running = [pool.submit(lane, note_of(number)) for number, lane in enumerate(lanes)]
        while wait(running, timeout=NEWS_SECONDS).not_done:
            told = list(notes)
            terms = min((best.terms, *(note[1] for note in told)), key=compiled.levels)
            hear(min(note[0] for note in told), terms)
        return ranked(compiled, (best, *(lane.result() for lane in running)))[0]
