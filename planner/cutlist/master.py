"""The linear program over patterns: cover what is wanted at least cost, within the limits.

Rows: one an item, one a limited kind, one a branching decision. The last two are *side rows*:
they bound the number of sticks that use certain slots. Every item row has an artificial
column, so that the program is always feasible; its price says how bad a missing piece is.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from planner.cutlist.effort import Effort
from planner.cutlist.lp import ENDLESS, Lp, LpPoint
from planner.cutlist.model import Column, Model

Floats = NDArray[np.float64]
ZERO = 1e-9
SECONDS_PER_CENTRE = 0.1


@dataclass(frozen=True)
class SideRow:
    """The number of sticks in these slots lies between `low` and `high` (None: no limit)."""

    slots: frozenset[int]
    low: int
    high: int | None


@dataclass(frozen=True)
class Point:
    """An optimum of the current program."""

    value: float
    prices: Floats
    """Dual value of one piece of each item."""
    side: Floats
    """Dual value of each side row."""
    x: dict[Column, float]


def limit_rows(model: Model, limits: Sequence[int | None] | None = None) -> list[SideRow]:
    """The side rows of the limited kinds."""
    limits = model.limits if limits is None else limits
    return [
        SideRow(frozenset(model.slots_of[kind]), 0, limit)
        for kind, limit in enumerate(limits)
        if limit is not None
    ]


class Master:
    """Holds the program; columns only ever join, bounds move."""

    def __init__(
        self,
        model: Model,
        side_rows: Sequence[SideRow],
        effort: Effort,
        missing: Sequence[float] | None = None,
    ) -> None:
        """`missing` is the price of a missing piece of each item; by default four sticks."""
        self.model = model
        self._missing = missing
        self.side_rows = list(side_rows)
        self.columns: dict[Column, int] = {}
        self._effort = effort
        self._items = len(model.sizes)
        self._lp = Lp(self._row_bounds(model.wanted))
        self._exchanges = (0, 0)
        self._add_artificials()
        self._add_exchanges()

    def _row_bounds(self, wanted: Sequence[int]) -> list[tuple[float, float]]:
        sides = [
            (float(row.low), ENDLESS if row.high is None else float(row.high))
            for row in self.side_rows
        ]
        return [*((float(want), ENDLESS) for want in wanted), *sides]

    def _add_artificials(self) -> None:
        """A missing piece costs more than a stick of its own; a missing stick likewise."""
        dearest = max(slot.cents for slot in self.model.slots)
        prices = [4.0 * max(1, dearest)] * (self._items + len(self.side_rows))
        if self._missing is not None:
            prices[: self._items] = self._missing
        self._lp.add(prices, [[(row, 1.0)] for row in range(len(prices))], ENDLESS)
        self._first = len(prices)
        self.scale = max(prices)

    def _add_exchanges(self) -> None:
        """Let the room of a piece serve the next shorter one: it steadies the prices."""
        steps = [[(i, -1.0), (i + 1, 1.0)] for i in range(self._items - 1)]
        if steps:
            self._exchanges = (self._lp.add([0.0] * len(steps), steps, ENDLESS), len(steps))
            self._first += len(steps)

    def drop_exchanges(self) -> None:
        """Take the exchange columns out again."""
        first, count = self._exchanges
        self._lp.bound_columns(range(first, first + count), [0.0] * count)

    def add(self, columns: Iterable[Column]) -> int:
        """Add the columns that are new; returns how many were."""
        fresh = [column for column in dict.fromkeys(columns) if column not in self.columns]
        if fresh:
            entries = [self._entries(column) for column in fresh]
            costs = [float(self.model.slots[column.slot].cents) for column in fresh]
            first = self._lp.add(costs, entries, ENDLESS) - self._first
            self.columns.update((column, first + at) for at, column in enumerate(fresh))
        return len(fresh)

    def _entries(self, column: Column) -> list[tuple[int, float]]:
        sides = [
            (self._items + number, 1.0)
            for number, row in enumerate(self.side_rows)
            if column.slot in row.slots
        ]
        return [*((item, float(copies)) for item, copies in column.pieces), *sides]

    def restrict(self, wanted: Sequence[int], limits: Sequence[int | None]) -> None:
        """Ask for other numbers of pieces and sticks; patterns with surplus pieces go out.

        The side rows must be those of `limit_rows`.
        """
        self.side_rows = limit_rows(self.model, limits)
        bounds = self._row_bounds(wanted)
        self._lp.bound_rows([low for low, _ in bounds], [high for _, high in bounds])
        high = [
            ENDLESS if all(copies <= wanted[item] for item, copies in column.pieces) else 0.0
            for column in self.columns
        ]
        self._lp.bound_columns([self._first + at for at in self.columns.values()], high)

    def solve(self) -> Point:
        """Solve the program over the present columns."""
        point = self._lp.solve()
        self._effort.spend_lp(point.pivots, self._lp.rows)
        return self._named(point)

    def centre(self) -> Point:
        """A point amid all optima; what its prices rule out, no optimum uses."""
        self._effort.spend(SECONDS_PER_CENTRE)
        return self._named(self._lp.centre())

    def _named(self, point: LpPoint) -> Point:
        values = point.x[self._first :]
        names = list(self.columns)
        x = {names[at]: float(values[at]) for at in np.flatnonzero(values > ZERO).tolist()}
        prices = np.maximum(point.duals[: self._items], 0.0)
        return Point(point.value, prices, point.duals[self._items :], x)
