"""Floors that are exact: the dual bound in whole numbers, from rounded prices.

For any prices of the items, and any dual values of the side rows, the value of the Lagrangian
relaxation is a lower bound; with one endless kind Farley's scaling (A. A. Farley, Operations
Research 38, 1990) of the prices gives another. Both are evaluated on integers only, from a
full table of the knapsack, so that no tolerance enters the floor.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from planner.cutlist.effort import Effort
from planner.cutlist.knapsack import TOP, Knapsack
from planner.cutlist.master import SideRow
from planner.cutlist.model import Model

Floats = NDArray[np.float64]


class Cut(NamedTuple):
    """Sticks must pay for the pieces: the sum over slots of `pay` times sticks is at least `due`.

    True of every packing, at whatever cost: with any prices, a stick holds pieces worth at most
    `pay` of its slot, and all pieces together are worth `due`.
    """

    pay: tuple[int, ...]
    due: int
    prices: tuple[int, ...]

    def slack(self, numbers: Sequence[int]) -> int:
        """What so many sticks of each slot pay beyond what is due."""
        return sum(p * n for p, n in zip(self.pay, numbers, strict=True)) - self.due


@dataclass(frozen=True)
class DualPoint:
    """Whole prices, `unit` to the cent, and what they prove."""

    unit: int
    prices: NDArray[np.int32]
    worth: tuple[int, ...]
    """Of each slot: the most that prices and side rows pay for one stick."""
    rents: tuple[int, ...]
    """Of each kind: by how much the best slot pays more than it costs (0 or more)."""
    floor: int
    """Cents: nothing costs less."""
    cut: Cut
    lagrangian: tuple[int, int]
    """Numerator and denominator of the Lagrangian value itself."""


def most_sticks(model: Model, cost: int | None) -> list[int]:
    """For each kind, how many sticks a packing cheaper than `cost` can take."""
    pieces = sum(model.wanted)
    numbers: list[int] = []
    for kind, limit in enumerate(model.limits):
        number = pieces if limit is None else min(limit, pieces)
        cheapest = min((model.slots[index].cents for index in model.slots_of[kind]), default=0)
        if cost is not None and cheapest > 0:
            number = min(number, max(0, cost - 1) // cheapest)
        numbers.append(number)
    return numbers


def whole_prices(model: Model, prices: Floats, room: int) -> tuple[int, NDArray[np.int32]]:
    """Round prices down to whole numbers, as fine as 32-bit tables allow."""
    sizes = np.array(model.table_sizes, dtype=np.float64)
    densest = float(np.max(prices / sizes, initial=0.0))
    most = max(densest * room, float(np.max(prices, initial=0.0)), 1e-6)
    unit = int(min(TOP / most, float(TOP)))
    return max(unit, 1), np.floor(prices * max(unit, 1)).astype(np.int32)


def evaluate(
    model: Model,
    table: Knapsack,
    prices: Floats,
    side_rows: Sequence[SideRow],
    side: Floats,
    cost: int | None,
    effort: Effort,
) -> DualPoint:
    """The floor that these prices prove for packings cheaper than `cost` (None: for all).

    Leaves the filled table behind, so that the caller can trace the best patterns.
    """
    unit, whole = whole_prices(model, prices, table.room)
    table.bound(np.minimum(model.wanted, TOP).astype(np.int32))
    best = table.fill(whole)
    effort.spend_cells(table.cells)
    pay = best[np.array([slot.room // model.grid for slot in model.slots])].astype(np.int64)
    due = int(whole.astype(np.int64) @ np.array(model.wanted, dtype=np.int64))
    duals = [_signed(round(float(v) * unit), row) for v, row in zip(side, side_rows, strict=True)]
    worth = pay.copy()
    base = due
    for dual, row in zip(duals, side_rows, strict=True):
        worth[list(row.slots)] += dual
        base += dual * (row.low if dual > 0 else row.high or 0)
    excess = (worth - unit * np.array([slot.cents for slot in model.slots])).tolist()
    rents = [max(0, *(excess[s] for s in own)) if own else 0 for own in model.slots_of]
    numbers = most_sticks(model, cost)
    plain = base - sum(rent * number for rent, number in zip(rents, numbers, strict=True))
    paid = worth.tolist()
    return DualPoint(
        unit,
        whole,
        tuple(paid),
        tuple(rents),
        max(-(-plain // unit), _farley(model, unit, base, paid, numbers)),
        Cut(tuple(pay.tolist()), due, tuple(whole.tolist())),
        (plain, unit),
    )


def _signed(dual: int, row: SideRow) -> int:
    """Keep the sign that the row's bounds allow."""
    if row.low == 0:
        return min(dual, 0)
    return max(dual, 0) if row.high is None else dual


def _farley(
    model: Model, unit: int, base: int, worth: Sequence[int], numbers: Sequence[int]
) -> int:
    """The floor after scaling all duals by p/q until no endless kind pays a rent."""
    p, q = 1, 1
    for paid, slot in zip(worth, model.slots, strict=True):
        cents = unit * slot.cents
        if model.limits[slot.kind] is None and paid > 0 and cents * q < paid * p:
            p, q = cents, paid
    rents = 0
    for kind, own in enumerate(model.slots_of):
        over = max((p * worth[s] - q * unit * model.slots[s].cents for s in own), default=0)
        rents += max(0, over) * numbers[kind] if model.limits[kind] is not None else 0
    return -(-(p * base - rents) // (q * unit))
