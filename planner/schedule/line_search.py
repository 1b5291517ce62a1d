"""Iterated local search over the order of one line, where the problem is no more than that.

Annealing pays where work waits for other work, stations and people; on one line a descent over
the whole neighbourhood judges ten to a hundred times as many moves a second.
"""

from __future__ import annotations

from collections.abc import Sequence
from concurrent.futures import ThreadPoolExecutor, wait

from planner.schedule.compiled import Compiled
from planner.schedule.dispatch import Start
from planner.schedule.line import Line, LineChain
from planner.schedule.rates import line_moves_for
from planner.schedule.search import LANES, NEWS_SECONDS, SEED_STEP, Enough, Found, Hear
from planner.stop import Stop

SLICE_MOVES = 15_000_000
"""A call of the kernel takes about a tenth of a second."""
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
    best = min(starts, key=lambda start: compiled.levels(start.terms))
    done, tried = 0.0, 0
    chains = [LineChain(compiled, line) for _ in range(LANES)]
    with ThreadPoolExecutor(LANES) as pool:
        for number, share in enumerate(ROUNDS):
            if stop() or enough(best.terms) or iterations <= 0:
                break
            moves = line_moves_for(compiled, round(iterations * share))
            origins = _origins(compiled, starts if number == 0 else [best])
            seeds = [seed * SEED_STEP + number * LANES + lane for lane in range(LANES)]
            this = _Round(compiled, stop, hear, enough, done, share)
            best = this.run(pool, chains, origins, seeds, moves, best)
            done += share
            tried += moves * LANES
    hear(1.0, best.terms)
    return Found(best, tried, finished=not stop() or enough(best.terms))


def _origins(compiled: Compiled, starts: Sequence[Start]) -> list[Start]:
    """Where each lane begins: the best for the first, the next for the second."""
    ranked = sorted(starts, key=lambda start: compiled.levels(start.terms))
    return [ranked[lane % len(ranked)] for lane in range(LANES)]


class _Round:
    """All lanes for a share of the budget, and what they tell meanwhile."""

    def __init__(
        self,
        compiled: Compiled,
        stop: Stop,
        hear: Hear,
        enough: Enough,
        done: float,
        share: float,
    ) -> None:
        self.compiled = compiled
        self.stop = stop
        self.hear = hear
        self.enough = enough
        self.done = done
        self.share = share

    def run(
        self,
        pool: ThreadPoolExecutor,
        chains: Sequence[LineChain],
        origins: Sequence[Start],
        seeds: Sequence[int],
        moves: int,
        best: Start,
    ) -> Start:
        """The best that any lane finds with `moves` each."""
        notes = [(0.0, best.terms)] * LANES
        lanes = [
            pool.submit(self._lane, chains[i], origins[i], seeds[i] % (1 << 62), moves, notes, i)
            for i in range(LANES)
        ]
        while wait(lanes, timeout=NEWS_SECONDS).not_done:
            told = list(notes)
            terms = min((note[1] for note in told), key=self.compiled.levels)
            self.hear(self.done + self.share * min(note[0] for note in told), terms)
        ends = [lane.result() for lane in lanes]
        return min(best, *ends, key=lambda start: self.compiled.levels(start.terms))

    def _lane(
        self,
        chain: LineChain,
        origin: Start,
        seed: int,
        moves: int,
        notes: list[tuple[float, tuple[int, ...]]],
        number: int,
    ) -> Start:
        chain.begin(origin.order, seed)
        done = 0
        while done < moves and not self.stop() and not self.enough(chain.best_terms()):
            done += chain.improve(min(SLICE_MOVES, moves - done))
            notes[number] = (min(1.0, done / moves), chain.best_terms())
        return chain.best()
