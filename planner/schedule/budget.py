"""Seconds that are spent on one search after the other."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from planner.schedule.compiled import Compiled
from planner.schedule.dispatch import Start
from planner.schedule.lanes import LANES, Enough, Hear
from planner.schedule.phases import plan_phases
from planner.schedule.rates import iterations_for, proving_s
from planner.schedule.search import Plan, search
from planner.stop import Stop


@dataclass(slots=True)
class Budget:
    """What is left for searches, and whom they tell; a search that ends early leaves its rest."""

    total_s: float
    stop: Stop
    seed: int
    hear: Hear
    enough: Enough
    """Whether floors are reached; not asked before they are proven."""
    spent_s: float = 0.0
    tried: int = 0
    """Moves in all lanes."""
    searches: int = 0

    @property
    def left_s(self) -> float:
        """What is left of it."""
        return max(0.0, self.total_s - self.spent_s)

    def search(
        self,
        compiled: Compiled,
        starts: Sequence[Start],
        seconds: float,
        plan: Plan = plan_phases,
        *,
        late: bool = False,
        cost: float = 1.0,
        enough: Enough | None = None,
        instead: Start | None = None,
    ) -> Start:
        """Spend some of it on the best that annealing makes of `starts`. Where they are `late`
        moves cost what they do then, or `cost` times as much as usual; what is told is what
        `instead` comes to, if that is given."""
        begun_s = self.spent_s
        whole_s = max(self.total_s, begun_s + seconds)

        def heard(done: float, terms: tuple[int, ...]) -> None:
            share = (begun_s + done * seconds) / whole_s if whole_s else done
            self.hear(share, terms if instead is None else instead.terms)

        moves = iterations_for(compiled, seconds / cost, late=late)
        unasked = iterations_for(compiled, max(0.0, proving_s(compiled) - begun_s))
        how = (self.stop, self.seed + self.searches, heard, enough or self.enough, plan)
        found = search(compiled, starts, moves, *how, unasked=0 if enough else unasked)
        self.spent_s += seconds * found.iterations / max(1, LANES * moves)
        self.tried += found.iterations
        self.searches += 1
        return found.best
