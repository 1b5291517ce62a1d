"""The last step: list every pattern that a cheaper packing could use, and solve over those.

With prices that prove a floor, a pattern whose reduced cost exceeds what lies between the floor
and the next cheaper cost is in no cheaper packing. Prices from the middle of the optimal face
leave the fewest patterns (strict complementarity), often a few hundred. CP-SAT then finds a
cheaper packing among them or shows that there is none.
"""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray
from ortools.sat.python import cp_model

from planner.cutlist.cpsat import Program, Verdict
from planner.cutlist.floors import DualPoint
from planner.cutlist.generation import Generator
from planner.cutlist.knapsack import TooManyError, enumerate_patterns
from planner.cutlist.model import Column, Model, make_column
from planner.cutlist.search import Search

MOST_PATTERNS = 20_000
MOST_NODES = 20_000_000
SECONDS_PER_PATTERN = 2e-6


def solve_over_patterns(search: Search, work: float = float("inf")) -> None:
    """Close the gap if the patterns that matter are few enough to list.

    `work` bounds the nominal seconds that CP-SAT may take.
    """
    model, master = search.model, search.master
    if master is None or not search.cost or model.grid > 1:
        return
    master.restrict(model.wanted, model.limits)
    generator = Generator(model, search.table, search.effort)
    dual = generator.to_centre(master, search.cost)
    if dual is None:
        return
    search.raise_bound(min(dual.floor, search.cost))
    if search.is_proven:
        return
    target = search.cost - search.cent_step
    try:
        columns = patterns_that_matter(model, dual, target)
    except TooManyError:
        return
    search.effort.spend(SECONDS_PER_PATTERN * len(columns))
    _solve(search, columns, target, work)


def patterns_that_matter(model: Model, dual: DualPoint, target: int) -> list[Column]:
    """Every full pattern that a packing of cost `target` or less may use.

    Raises TooManyError beyond MOST_PATTERNS.
    """
    most = [model.copies(item, model.room) for item in range(len(model.sizes))]
    if max(most) > np.iinfo(np.uint8).max:
        raise TooManyError
    slack = dual.unit * target - dual.lagrangian[0]
    asked: list[tuple[int, int, int]] = []
    for own in model.slots_of:
        above = -1
        for index in own:
            slot = model.slots[index]
            side = dual.worth[index] - dual.cut.pay[index]
            least = dual.unit * slot.cents + dual.rents[slot.kind] - side - slack
            asked.append((slot.room, above, max(0, least)))
            above = slot.room
    order = [index for own in model.slots_of for index in own]
    found = enumerate_patterns(
        model.sizes, most, dual.prices, asked, model.few, MOST_PATTERNS, MOST_NODES
    )
    return [
        make_column(index, row)
        for index, rows in zip(order, found, strict=True)
        for row in _lists(rows)
        if any(row)
    ]


def _lists(rows: NDArray[np.uint8]) -> list[list[int]]:
    return [[int(count) for count in row] for row in rows]


def _solve(search: Search, columns: list[Column], target: int, work: float) -> None:
    model, program = search.model, Program()
    sticks = [program.integer(0, _most(model, column)) for column in columns]
    pairs = list(zip(columns, sticks, strict=True))
    spare = _spare_room(model, target)
    made: list[list[cp_model.LinearExprT]] = [[] for _ in model.sizes]
    for column, number in pairs:
        for item, copies in column.pieces:
            made[item].append(copies * number)
    for terms, want, size in zip(made, model.wanted, model.sizes, strict=True):
        total = sum(terms)
        program.model.add(total == want if size > spare else total >= want)
    for kind, limit in enumerate(model.limits):
        if limit is not None:
            own = [number for c, number in pairs if model.slots[c.slot].kind == kind]
            program.model.add(sum(own) <= limit)
    cents = [model.slots[column.slot].cents for column in columns]
    cost = sum(cent * n for cent, n in zip(cents, sticks, strict=True))
    program.model.add(cost <= target)
    program.model.add(cost >= search.bound)
    program.model.minimize(cost)
    solved = program.solve(sticks, search.effort, min(work, search.effort.left()))
    if solved.verdict is Verdict.NONE:
        assert search.cost is not None
        search.raise_bound(search.cost)
    elif solved.values:
        packing = {c: n for c, n in zip(columns, solved.values, strict=True) if n}
        search.offer(packing)
        if solved.verdict is Verdict.BEST and search.cost is not None:
            search.raise_bound(search.cost)


def _spare_room(model: Model, target: int) -> int:
    """The room that a packing of cost `target` has for surplus pieces; endless if unknown."""
    slot, *others = model.slots
    if others:
        return model.room * sum(model.wanted)
    pieces = sum(size * want for size, want in zip(model.sizes, model.wanted, strict=True))
    return target // slot.cents * slot.room - pieces


def _most(model: Model, column: Column) -> int:
    """The most sticks that a packing without needless ones cuts by a pattern."""
    return max(-(-model.wanted[item] // copies) for item, copies in column.pieces)
