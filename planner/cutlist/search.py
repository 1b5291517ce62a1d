"""What the steps of the search share: the question, the best packing, the floor, the effort."""

from __future__ import annotations

from dataclasses import dataclass, field
from math import gcd

from planner.cutlist.effort import Effort
from planner.cutlist.floors import Cut
from planner.cutlist.generation import Relaxed
from planner.cutlist.heuristics import trim_surplus
from planner.cutlist.knapsack import Knapsack
from planner.cutlist.master import Master
from planner.cutlist.model import Column, Model, Packing, is_complete


@dataclass
class Search:
    """One search in progress; steps improve `best` and raise `bound`."""

    model: Model
    effort: Effort
    table: Knapsack
    seed: int
    best: Packing | None = None
    cost: int | None = None
    """What a packing must cost less than to be of use: the cost of `best` if there is one."""
    bound: int = 0
    pool: dict[Column, None] = field(default_factory=dict[Column, None])
    """Every column seen, in order of arrival."""
    master: Master | None = None
    root: Relaxed | None = None
    cuts: list[Cut] = field(default_factory=list[Cut])

    def __post_init__(self) -> None:
        self.cent_step = gcd(*(slot.cents for slot in self.model.slots)) or 1

    def offer(self, packing: Packing | None) -> bool:
        """Take a packing if it is complete and cheaper; its columns join the pool."""
        if packing is None or not is_complete(self.model, packing):
            return False
        tidy = trim_surplus(self.model, packing)
        self.pool.update(dict.fromkeys(tidy))
        cost = self.model.cost(tidy)
        if self.cost is not None and cost >= self.cost:
            return False
        self.best, self.cost = tidy, cost
        return True

    def swap(self, packing: Packing) -> None:
        """Take another packing of the same cost or less."""
        if is_complete(self.model, packing) and self.cost is not None:
            cost = self.model.cost(packing)
            if cost <= self.cost:
                self.best, self.cost = packing, cost

    def rounded(self, cents: int) -> int:
        """A floor rounded up to a multiple of what all slots cost multiples of."""
        return -(-cents // self.cent_step) * self.cent_step

    def raise_bound(self, cents: int) -> None:
        """Raise the floor to `cents`, rounded up."""
        self.bound = max(self.bound, self.rounded(cents))

    @property
    def is_proven(self) -> bool:
        """Whether nothing cheaper exists."""
        return self.cost is not None and self.bound >= self.cost


def table_for(model: Model) -> Knapsack:
    """Knapsack tables that serve a model and whatever remains of it."""
    return Knapsack(model.table_sizes, model.room // model.grid, model.few)
