"""Quick packings: first fit, best fit, filling by value, and value correction.

First-fit and best-fit decreasing are the classics. `fill` cuts one pattern after another,
each the most value a cent; with the value of a piece its size this is the subset-sum fill.
`correct_values` repeats that, each time raising the value of pieces that came out of
wasteful patterns (sequential value correction: Mukhacheva and Zalgaller 1993; Belov and
Scheithauer 2007, section 3).
"""

from __future__ import annotations

import random
from collections.abc import Callable, Sequence

import numpy as np
from numpy.typing import NDArray

from planner.cutlist.effort import Effort
from planner.cutlist.knapsack import TOP, Knapsack
from planner.cutlist.model import Column, Model, Packing, make_column

Floats = NDArray[np.float64]
Order = Callable[[NDArray[np.int64]], NDArray[np.int64]]


def first_fit(room: NDArray[np.int64]) -> NDArray[np.int64]:
    """Try open sticks in the order in which they were opened."""
    return np.arange(len(room))


def best_fit(room: NDArray[np.int64]) -> NDArray[np.int64]:
    """Try the open stick with the least room first."""
    return np.argsort(room, kind="stable")


def decreasing(model: Model, order: Order, kinds: Sequence[int]) -> Packing | None:
    """Place the longest pieces first; open the first of `kinds` that is left and fits.

    Equal pieces are placed together, which gives what placing them one by one gives. Each
    stick then moves to the cheapest slot of its kind. None if the sticks end.
    """
    sticks = _Sticks(model)
    limits = list(model.limits)
    for item, wanted in enumerate(model.wanted):
        left = sticks.place(item, wanted, order) if wanted else 0
        size = model.sizes[item]
        while left:
            kind = next((k for k in kinds if limits[k] != 0 and model.room_of(k) >= size), None)
            if kind is None:
                return None
            limit = limits[kind]
            limits[kind] = None if limit is None else limit - 1
            left -= sticks.open(kind, item, left)
    packing: Packing = {}
    for kind, pieces in zip(sticks.kinds, sticks.held, strict=True):
        add(packing, _column(model, kind, tuple(sorted(pieces.items()))), 1)
    return packing


class _Sticks:
    """The sticks that are open, with the room left in each."""

    def __init__(self, model: Model) -> None:
        self._model = model
        self._room = np.zeros(max(1, sum(model.wanted)), dtype=np.int64)
        self.kinds: list[int] = []
        self.held: list[dict[int, int]] = []

    def open(self, kind: int, item: int, left: int) -> int:
        """Open a stick and put in as many pieces as it holds; returns how many."""
        size, room = self._model.sizes[item], self._model.room_of(kind)
        count = min(left, room // size)
        self._room[len(self.held)] = room - count * size
        self.kinds.append(kind)
        self.held.append({item: count})
        return count

    def place(self, item: int, wanted: int, order: Order) -> int:
        """Put pieces into open sticks; returns how many found no room."""
        size, few = self._model.sizes[item], self._model.few
        room = self._room[: len(self.held)]
        fit = room // size
        if few is not None:
            fit = np.where([len(pieces) < few for pieces in self.held], fit, 0)
        left = wanted
        for stick in order(room)[fit[order(room)] > 0].tolist():
            count = min(left, int(fit[stick]))
            self._room[stick] -= count * size
            self.held[stick][item] = count
            left -= count
            if not left:
                break
        return left


def _column(model: Model, kind: int, pieces: tuple[tuple[int, int], ...]) -> Column:
    return Column(model.slot_for(kind, model.used(pieces)), pieces)


def add(packing: Packing, column: Column, count: int) -> None:
    """Cut `count` more sticks by `column`."""
    packing[column] = packing.get(column, 0) + count


def trim_surplus(model: Model, packing: Packing) -> Packing:
    """Leave out pieces beyond what is wanted, and sticks that then yield nothing."""
    surplus = [-want for want in model.wanted]
    for column, count in packing.items():
        for item, copies in column.pieces:
            surplus[item] += copies * count
    if not any(surplus):
        return {model.tidy(column): count for column, count in packing.items()}
    trimmed: Packing = {}
    for column, count in packing.items():
        for _ in range(count):
            pieces = dict(column.pieces)
            for item, copies in column.pieces:
                drop = min(max(0, surplus[item]), copies)
                pieces[item] = copies - drop
                surplus[item] -= drop
            kept = tuple((item, copies) for item, copies in pieces.items() if copies)
            if kept:
                add(trimmed, model.tidy(Column(column.slot, kept)), 1)
    return trimmed


def kind_orders(model: Model) -> list[list[int]]:
    """Orders of the kinds to try: cheapest a unit of room first, and each endless kind first."""

    def dear(kind: int) -> float:
        last = model.slots[model.slots_of[kind][-1]]
        return last.cents / last.room

    usable = [kind for kind in range(len(model.limits)) if model.slots_of[kind]]
    by_cost = sorted(usable, key=dear)
    orders = [by_cost, sorted(usable, key=model.room_of, reverse=True)]
    for kind in by_cost:
        if model.limits[kind] is None:
            orders.append([kind, *(other for other in by_cost if other != kind)])
    return [order for index, order in enumerate(orders) if order not in orders[:index]]


def decreasing_packings(model: Model, orders: int | None = None) -> list[Packing]:
    """First-fit and best-fit decreasing under (the first few) orders of the kinds."""
    tries = (
        decreasing(model, choose, kinds)
        for kinds in kind_orders(model)[:orders]
        for choose in (first_fit, best_fit)
    )
    return [packing for packing in tries if packing is not None]


class Filler:
    """Builds packings pattern by pattern over one set of tables."""

    def __init__(self, model: Model, table: Knapsack, effort: Effort) -> None:
        self.model = model
        self._table = table
        self._effort = effort
        self._rooms = np.array([slot.room // model.grid for slot in model.slots])
        self._cents = np.array([max(slot.cents, 0.01) for slot in model.slots])
        self._kinds = np.array([slot.kind for slot in model.slots])

    def fill(
        self,
        values: Floats,
        wanted: Sequence[int] | None = None,
        limits: Sequence[int | None] | None = None,
        learn: Callable[[Column, int], None] | None = None,
    ) -> Packing | None:
        """Cut the pattern of most value a cent as often as it goes, until nothing is wanted."""
        model = self.model
        left = np.array(model.wanted if wanted is None else wanted, dtype=np.int64)
        limits = model.limits if limits is None else limits
        sticks = np.array([-1 if limit is None else limit for limit in limits], dtype=np.int64)
        packing: Packing = {}
        while left.any():
            if self._effort.is_over():
                return None
            column = self.best(values, left, sticks)
            if column is None:
                return None
            count = min(int(left[item]) // copies for item, copies in column.pieces)
            kind = model.slots[column.slot].kind
            if sticks[kind] >= 0:
                count = min(count, int(sticks[kind]))
                sticks[kind] -= count
            for item, copies in column.pieces:
                left[item] -= copies * count
            add(packing, column, count)
            if learn:
                learn(column, count)
        return packing

    def best(
        self, values: Floats, left: NDArray[np.int64], sticks: NDArray[np.int64]
    ) -> Column | None:
        """The pattern of most value a cent from the sticks left (-1: endless), None for none."""
        model, table = self.model, self._table
        open_slots = (sticks != 0)[self._kinds]
        if not open_slots.any():
            return None
        table.bound(np.minimum(left, TOP).astype(np.int32))
        whole = scaled_values(values, model, self._rooms.max())
        best = table.fill(whole)
        self._effort.spend_cells(table.cells)
        worth = np.where(open_slots, best[self._rooms] / self._cents, -1.0)
        slot = int(np.argmax(worth))
        if worth[slot] <= 0:
            return None
        column = make_column(slot, table.trace(int(self._rooms[slot])).tolist())
        if not model.fits(column):
            column = shortened(model, column)
        return model.tidy(column) if column.pieces else None


def shortened(model: Model, column: Column) -> Column:
    """Take pieces off a pattern that fits by rounded sizes only, the shortest first."""
    pieces = dict(column.pieces)
    while pieces and not model.fits(Column(column.slot, tuple(pieces.items()))):
        last = max(pieces)
        pieces[last] -= 1
        if not pieces[last]:
            del pieces[last]
    return Column(column.slot, tuple(pieces.items()))


def scaled_values(values: Floats, model: Model, room: int) -> NDArray[np.int32]:
    """Whole values in proportion to `values`, at least 1, that no pattern sums beyond TOP."""
    sizes = np.maximum(np.array(model.table_sizes), 1)
    most = float(np.max(np.maximum(values, 0) * (room / sizes + 1), initial=1e-9))
    return np.maximum(values * ((TOP / 2) / most), 1).astype(np.int32)


def correct_values(filler: Filler, start: Floats, seed: int) -> Packing | None:
    """Fill once more, learning values from the waste of each pattern; `start` is updated."""
    model = filler.model
    dice = random.Random(seed)
    sizes = np.array(model.sizes, dtype=float)

    def learn(column: Column, count: int) -> None:
        slot = model.slots[column.slot]
        price = slot.cents / max(1, model.used(column.pieces))
        for item, copies in column.pieces:
            fresh = price * sizes[item] ** 1.02
            share = copies * count / (model.wanted[item] + copies * count) * dice.uniform(0.5, 1)
            start[item] += share * (fresh - start[item])

    return filler.fill(start.copy(), learn=learn)
