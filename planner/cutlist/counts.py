"""How many sticks of each slot: branching on the numbers, by cuts.

A packing's cost depends only on how many sticks use each slot. Every set of prices gives a cut
on these numbers (see `Cut`), so the cheapest numbers that satisfy all cuts seen so far cost a
floor, found by CP-SAT in whole numbers (Benders' decomposition, Numerische Mathematik 4, 1962,
with the pattern program as its subproblem). The numbers are then tried: column generation with
just these sticks either ends in a cut that forbids them, or dives look for the packing.
"""

from __future__ import annotations

import random
from collections.abc import Sequence

from planner.cutlist.cheapest import Numbers, cheapest_numbers
from planner.cutlist.dive import dive
from planner.cutlist.exact import settle_sticks
from planner.cutlist.floors import Cut
from planner.cutlist.generation import Generator
from planner.cutlist.master import Master, limit_rows
from planner.cutlist.model import Model, Slot
from planner.cutlist.search import Search

DIVES = 4
"""Dives that look for a packing with one set of sticks. Few, as it may not suffice, and what is not
found is settled exactly; later dives take other numbers."""
RELAXATIONS = 40
"""Rests that a dive tries at most, in the question of one set of sticks."""
CUTS_KEPT = 60
"""Cuts of the root that the choice of numbers begins with: the latest, whose prices are nearest to
the best ones. Each is a row of the program that is solved for every set of sticks."""
FREE = 1
"""Given sticks cost nothing, and so does a packing with them: a floor of a cent rules it out."""
SETTLING_WORK = 0.5
"""Nominal seconds to settle one set of sticks over its patterns."""
PRICE_OF_ROOM = 1000.0
"""Cents for a missing piece that fills the largest room."""


class Trial:
    """The question whether given sticks suffice: every slot a kind of its own, for nothing."""

    def __init__(self, search: Search) -> None:
        model = search.model
        free = tuple(Slot(index, slot.room, 0) for index, slot in enumerate(model.slots))
        self.model = Model(model.sizes, model.wanted, free, (0,) * len(free), model.few, model.grid)
        self.search = search
        missing = [PRICE_OF_ROOM * size / model.room for size in model.sizes]
        self.master = Master(self.model, limit_rows(self.model), search.effort, missing)
        if search.master is not None:
            self.master.add(search.master.columns)

    def sticks(self, numbers: Sequence[int], cuts: list[Cut], dives: range) -> bool | None:
        """Whether these sticks suffice: True and offered, False for proven not, None undecided."""
        search = self.search
        model = self.model.rest(self.model.wanted, numbers)
        inner = Search(model, search.effort, search.table, search.seed, cost=FREE)
        self.master.restrict(model.wanted, numbers)
        generator = Generator(model, search.table, search.effort)
        relaxed = generator.run(self.master, FREE, cuts=cuts)
        if relaxed.floor >= FREE:
            return False
        for number in dives:
            dice = random.Random(f"{search.seed}/{number}") if number else None
            dive(inner, self.master, relaxed.point, dice, RELAXATIONS)
            if inner.best is not None:
                return search.offer(inner.best)
            if search.effort.is_over():
                return None
        settle_sticks(inner, cuts, SETTLING_WORK)
        if inner.best is not None:
            return search.offer(inner.best)
        return False if inner.is_proven else None

    def may_suffice(self, wanted: Sequence[int], numbers: Sequence[int]) -> bool:
        """Whether the relaxation can cut these pieces from these sticks."""
        model = self.model.rest(wanted, numbers)
        self.master.restrict(wanted, numbers)
        generator = Generator(model, self.search.table, self.search.effort)
        return generator.run(self.master, FREE).floor < FREE


def count_sticks(search: Search, dives: range = range(DIVES)) -> None:
    """Try the cheapest numbers of sticks in turn until the floor meets the cost.

    `dives` are the numbers of the dives that look for a packing with given sticks.
    """
    if len(search.model.slots) == 1:
        return
    trial = Trial(search)
    cuts = search.cuts[-CUTS_KEPT:]
    tried: list[Numbers] = []
    is_open = False
    while not search.is_proven and not search.effort.is_over():
        assert search.cost is not None
        answer = cheapest_numbers(
            search.model, cuts, tried, search.bound, search.cost - 1, search.effort
        )
        if answer is None:
            return
        if not is_open:
            search.raise_bound(min(answer.floor, search.cost))
        if answer.numbers is None:
            return
        suffices = trial.sticks(answer.numbers, cuts, dives)
        if suffices is None:
            is_open = True
        if not suffices:
            tried.append(answer.numbers)
