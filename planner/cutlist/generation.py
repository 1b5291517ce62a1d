"""Column generation: the linear relaxation over all patterns, to the end.

Gilmore and Gomory's scheme (Operations Research 9, 1961) with three additions: prices are
smoothed towards those of the best floor (Wentges 1997), exchange columns steady the start, and
one pricing yields several patterns that do not compete for the same pieces.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from planner.cutlist.effort import Effort
from planner.cutlist.floors import Cut, DualPoint, Floats, evaluate
from planner.cutlist.heuristics import shortened
from planner.cutlist.knapsack import TOP, Knapsack
from planner.cutlist.master import Master, Point
from planner.cutlist.model import Column, Model, make_column

NEGATIVE = 1e-7
"""A reduced cost below minus this share of the dearest slot counts as negative."""
SMOOTHING = 0.6
"""The share of the best floor's prices in those that are tried (Wentges's weight): nearer 1 they
move too little from round to round, nearer 0 they swing as without it."""
CENTRES = 60
"""Pricing rounds to reach the middle of the optimal prices, which is done without otherwise."""
ROUNDS = 10_000
"""Pricing rounds that no program needs: the effort ends one sooner."""
CLOSE = 10
"""Tolerances by which the floor, rounded up, may miss the program's value and still meet it."""
PARTS = (0.95, 0.9, 0.8, 0.7, 0.6, 0.5, 0.4, 0.3)
"""Shares of the items that further patterns from one table are made of."""
REPRICED_SHARE, REPRICED, REPRICED_CELLS = 1 / 4, 12, 4_000_000
"""A column's pieces are left out and the rest priced again for this share of the items, at most so
often, and while the tables filled for it have no more cells in all: a small part of what one alone
may have (`TABLE_CELLS`)."""


@dataclass(frozen=True)
class Relaxed:
    """Where column generation ended: a point, and the floor that is proven."""

    point: Point
    floor: int


@dataclass
class _Centre:
    """The prices with the best Lagrangian value so far, and the best floor."""

    prices: Floats | None = None
    side: Floats | None = None
    value: float = float("-inf")
    dual: DualPoint | None = None

    @property
    def floor(self) -> int:
        return self.dual.floor if self.dual else 0

    def mix(self, point: Point, share: float) -> tuple[Floats, Floats]:
        """Prices between those of `point` and the centre."""
        if self.prices is None or self.side is None or not share:
            return point.prices, point.side
        return (
            share * self.prices + (1 - share) * point.prices,
            share * self.side + (1 - share) * point.side,
        )

    def learn(self, dual: DualPoint, prices: Floats, side: Floats) -> None:
        """Move the centre to prices that prove more."""
        value = dual.lagrangian[0] / dual.lagrangian[1]
        if value > self.value:
            self.prices, self.side, self.value = prices, side, value
        if self.dual is None or dual.floor >= self.dual.floor:
            self.dual = dual


class Generator:
    """Prices patterns for one model and feeds them to a master."""

    def __init__(self, model: Model, table: Knapsack, effort: Effort) -> None:
        self.model = model
        self._table = table
        self._effort = effort
        self._tolerance = 0.0

    def run(
        self,
        master: Master,
        cost: int | None,
        step: int = 1,
        rounds: int = ROUNDS,
        cuts: list[Cut] | None = None,
        guess: Floats | None = None,
    ) -> Relaxed:
        """Generate columns until none pays, the floor meets the program's value, or `cost`.

        Floors count as rounded up to multiples of `step`; with a step of 0 they end nothing and
        the program is solved to the end. Every set of prices that is tried
        leaves its cut in `cuts`. `guess` is a guess at the prices, to begin from.
        """
        self._tolerance = NEGATIVE * master.scale
        centre = _Centre()
        if guess is not None:
            side = np.zeros(len(master.side_rows))
            rows, effort = master.side_rows, self._effort
            dual = evaluate(self.model, self._table, guess, rows, side, cost, effort)
            centre.learn(dual, guess, side)
        point = master.solve()
        for _ in range(rounds):
            if not self._price(master, point, centre, cost, cuts):
                return Relaxed(point, centre.floor)
            if self._effort.is_over() or (cost is not None and centre.floor >= cost):
                break
            point = master.solve()
            if step and -(-centre.floor // step) * step >= point.value - CLOSE * self._tolerance:
                return Relaxed(point, centre.floor)
        return Relaxed(point, centre.floor)

    def to_centre(self, master: Master, cost: int) -> DualPoint | None:
        """The prices in the middle of all optimal ones, None if they were not reached."""
        self.run(master, None, 0)
        for _ in range(CENTRES):
            if self._effort.is_over():
                return None
            point, centre = master.centre(), _Centre()
            if not self._price(master, point, centre, cost, None):
                return centre.dual
        return None

    def _price(
        self,
        master: Master,
        point: Point,
        centre: _Centre,
        cost: int | None,
        cuts: list[Cut] | None,
    ) -> int:
        """Add patterns found at smoothed prices, failing those at the prices of `point`."""
        for share in (SMOOTHING, 0.0) if centre.prices is not None else (0.0,):
            prices, side = centre.mix(point, share)
            dual = evaluate(
                self.model, self._table, prices, master.side_rows, side, cost, self._effort
            )
            centre.learn(dual, prices, side)
            if cuts is not None:
                cuts.append(dual.cut)
            added = master.add(self._columns(dual, point, master))
            if added:
                return added
        return 0

    def _columns(self, dual: DualPoint, point: Point, master: Master) -> list[Column]:
        """For each kind the best patterns whose reduced cost at `point` is negative."""
        columns: list[Column] = []
        side = self._side_of_slots(point, master)
        for own in self.model.slots_of:
            if not own or self.model.limits[self.model.slots[own[0]].kind] == 0:
                continue
            slot = max(own, key=lambda s: dual.worth[s] - dual.unit * self.model.slots[s].cents)
            column = self._traced(slot)
            if self._reduced(column, point, side) < -self._tolerance:
                columns.append(column)
        if columns:
            columns += self._others(dual, point, side, columns[0])
        return columns

    def _side_of_slots(self, point: Point, master: Master) -> Floats:
        side = np.zeros(len(self.model.slots))
        for row, value in zip(master.side_rows, point.side, strict=True):
            side[list(row.slots)] += value
        return side

    def _traced(self, slot: int, part: float = 1.0) -> Column:
        model = self.model
        counts = self._table.trace(model.slots[slot].room // model.grid, part)
        column = make_column(slot, counts)
        return column if model.grid == 1 or model.fits(column) else shortened(model, column)

    def _reduced(self, column: Column, point: Point, side: Floats) -> float:
        paid = sum(float(point.prices[item]) * copies for item, copies in column.pieces)
        return self.model.slots[column.slot].cents - float(side[column.slot]) - paid

    def _others(self, dual: DualPoint, point: Point, side: Floats, first: Column) -> list[Column]:
        """Patterns that leave some items out; then, as long as tables are cheap, price again
        without the pieces already used.
        """
        table, model = self._table, self.model
        columns = [
            column
            for column in (self._traced(first.slot, part) for part in PARTS)
            if self._reduced(column, point, side) < -self._tolerance
        ]
        most = np.minimum(model.wanted, TOP).astype(np.int32)
        affordable = REPRICED_CELLS / max(1, table.cells)
        rounds = int(min(REPRICED_SHARE * len(model.sizes), affordable, REPRICED))
        column = first
        for _ in range(rounds):
            for item, _copies in column.pieces:
                most[item] = 0
            if not most.any():
                break
            table.bound(most)
            table.fill(dual.prices)
            self._effort.spend_cells(table.cells)
            column = self._traced(first.slot)
            if self._reduced(column, point, side) >= -self._tolerance:
                break
            columns.append(column)
        return columns


def root_columns(model: Model) -> list[Column]:
    """For every item a stick full of it, in every kind that holds it."""
    columns: list[Column] = []
    for kind in range(len(model.limits)):
        for item in range(len(model.sizes)):
            copies = model.copies(item, model.room_of(kind))
            if copies > 0:
                pieces = ((item, copies),)
                columns.append(Column(model.slot_for(kind, model.used(pieces)), pieces))
    return columns
