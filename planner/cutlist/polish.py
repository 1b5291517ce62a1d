"""Once money is settled: fewer different patterns at the same cost.

The same sticks are cut again, each time by the pattern that can be repeated most often, as long
as column generation says that the rest can still be cut from the sticks that remain. That is a
heuristic: the number is proven only where a count of lengths does.
"""

from __future__ import annotations

import numpy as np

from planner.cutlist.counts import Trial
from planner.cutlist.heuristics import Filler, add
from planner.cutlist.model import Model, Packing
from planner.cutlist.search import Search

WORK = 0.15
"""Nominal seconds spent on it."""
EASE = 0.75
"""The next number of repeats to try, as a share of the last."""


def use_fewer_patterns(search: Search) -> None:
    """Replace the best packing by one from the same sticks with fewer patterns, if one is found."""
    best = search.best
    if best is None or len(best) <= fewest_patterns(search.model) or search.effort.is_over():
        return
    end = search.effort.spent + WORK
    numbers = [0] * len(search.model.slots)
    for column, count in best.items():
        numbers[column.slot] += count
    rest = _Rest(search, numbers)
    while any(rest.wanted):
        if len(rest.done) + 1 >= len(best) or search.effort.spent > end or search.effort.is_over():
            return
        if not rest.cut_often():
            return
    search.swap(rest.done)


class _Rest:
    """Pieces and sticks that are left while patterns are chosen one by one."""

    def __init__(self, search: Search, numbers: list[int]) -> None:
        self._search = search
        self._trial = Trial(search)
        self.wanted = np.array(search.model.wanted, dtype=np.int64)
        self.sticks = np.array(numbers, dtype=np.int64)
        self.done: Packing = {}

    def cut_often(self) -> bool:
        """Cut one more pattern as often as it goes; False if none leaves a rest that goes."""
        repeats = int(min(self.wanted.max(), self.sticks.max()))
        while repeats:
            if self._cut(repeats):
                return True
            repeats = min(repeats - 1, int(repeats * EASE))
        return False

    def _cut(self, repeats: int) -> bool:
        model = self._trial.model
        filler = Filler(model, self._search.table, self._search.effort)
        open_sticks = np.where(self.sticks >= repeats, self.sticks, 0)
        sizes = np.array(model.sizes, dtype=np.float64)
        column = filler.best(sizes, self.wanted // repeats, open_sticks)
        if column is None:
            return False
        wanted, sticks = self.wanted.copy(), self.sticks.copy()
        for item, copies in column.pieces:
            wanted[item] -= copies * repeats
        sticks[column.slot] -= repeats
        if wanted.any() and not self._trial.may_suffice(wanted.tolist(), sticks.tolist()):
            return False
        self.wanted, self.sticks = wanted, sticks
        add(self.done, column, repeats)
        return True


def fewest_patterns(model: Model) -> int:
    """How many patterns it takes at least to see every length."""
    room, fit = model.room, 0
    for size in reversed(model.sizes):
        if room < size:
            break
        room, fit = room - size, fit + 1
    if model.few is not None:
        fit = min(fit, model.few)
    return -(-len(model.sizes) // max(1, fit))
