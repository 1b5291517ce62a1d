"""The last step: list every pattern that a cheaper packing could use, and solve over those.

With prices that prove a floor, a pattern whose reduced cost exceeds what lies between the floor
and the next cheaper cost is in no cheaper packing. Prices from the middle of the optimal face
leave the fewest patterns (strict complementarity), often a few hundred. CP-SAT then finds a
cheaper packing among them or shows that there is none.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence

import numpy as np
from numpy.typing import NDArray
from ortools.sat.python import cp_model

from planner.cutlist.cpsat import Program, Verdict
from planner.cutlist.floors import Cut, DualPoint
from planner.cutlist.generation import Generator
from planner.cutlist.knapsack import TooManyError, enumerate_patterns
from planner.cutlist.model import Column, Model, make_column
from planner.cutlist.search import Search

MOST_PATTERNS = 20_000
MOST_NODES = 20_000_000
FILTERS = 40
"""Cuts that patterns for given sticks are held against."""
SECONDS_PER_PATTERN = 2e-6
SECONDS_PER_LISTED = 1e-5
"""Of a pattern that is listed in plain Python."""


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
    solve_columns(search, columns, target, work)


def solve_over_all_patterns(search: Search, work: float, most: int) -> None:
    """Settle a small group over every pattern there is, if those are at most `most`.

    It needs no table, so lengths without a common unit cost nothing more. `work` bounds the
    nominal seconds that CP-SAT may take.
    """
    if not search.cost:
        return
    columns = every_pattern(search.model, most)
    search.effort.spend(SECONDS_PER_LISTED * min(len(columns), most))
    if len(columns) <= most:
        solve_columns(search, columns, search.cost - search.cent_step, work)


def every_pattern(model: Model, most: int) -> list[Column]:
    """Every pattern of every kind of stick, in its cheapest slot; more than `most` when the
    listing was given up."""
    columns: list[Column] = []
    for kind, limit in enumerate(model.limits):
        room = model.room_of(kind)
        if limit == 0 or room < 0:
            continue
        for pieces in _fillings(model, 0, room):
            if pieces:
                columns.append(Column(model.slot_for(kind, model.used(pieces)), pieces))
            if len(columns) > most:
                return columns
    return columns


def _fillings(
    model: Model, item: int, room: int, taken: tuple[tuple[int, int], ...] = ()
) -> Iterator[tuple[tuple[int, int], ...]]:
    if item == len(model.sizes):
        yield taken
        return
    again = model.few is None or len(taken) < model.few
    for count in range((model.copies(item, room) if again else 0) + 1):
        more = (*taken, (item, count)) if count else taken
        yield from _fillings(model, item + 1, room - count * model.sizes[item], more)


def patterns_that_matter(model: Model, dual: DualPoint, target: int) -> list[Column]:
    """Every full pattern that a packing of cost `target` or less may use.

    Raises TooManyError beyond MOST_PATTERNS.
    """
    slack = dual.unit * target - dual.lagrangian[0]
    asked: list[tuple[int, int, int]] = []
    order = [index for own in model.slots_of for index in own]
    for index in order:
        slot = model.slots[index]
        side = dual.worth[index] - dual.cut.pay[index]
        least = dual.unit * slot.cents + dual.rents[slot.kind] - side - slack
        smaller = [model.slots[i].room for i in model.slots_of[slot.kind] if i < index]
        asked.append((slot.room, max(smaller, default=-1), max(0, least)))
    found = _list(model, dual.prices, asked)
    return [
        make_column(index, row)
        for index, rows in zip(order, found, strict=True)
        for row in rows.tolist()
        if any(row)
    ]


def patterns_for_sticks(model: Model, numbers: Sequence[int], cuts: Sequence[Cut]) -> list[Column]:
    """Every full pattern that a packing with just these sticks of each slot may use.

    By each cut the sticks pay some slack beyond what is due; a pattern worth less than its
    slot's pay by more than that slack is in no such packing. Raises TooManyError.
    """
    cuts = sorted(cuts, key=lambda cut: cut.slack(numbers) / max(1, cut.due))[:FILTERS]
    first = cuts[0]
    order = [index for index, number in enumerate(numbers) if number]
    asked = [(model.slots[i].room, -1, max(0, first.pay[i] - first.slack(numbers))) for i in order]
    prices = np.array([cut.prices for cut in cuts], dtype=np.int64)
    slacks = np.array([cut.slack(numbers) for cut in cuts])
    columns: list[Column] = []
    found = _list(model, np.array(first.prices, dtype=np.int32), asked)
    for index, rows in zip(order, found, strict=True):
        pays = np.array([cut.pay[index] for cut in cuts])
        worth = rows.astype(np.int64) @ prices.T
        kept = rows[(worth >= pays - slacks).all(axis=1)]
        columns += [make_column(index, row) for row in kept.tolist() if any(row)]
    return columns


def _list(
    model: Model, prices: NDArray[np.int32], asked: Sequence[tuple[int, int, int]]
) -> list[NDArray[np.uint8]]:
    most = [model.copies(item, model.room) for item in range(len(model.sizes))]
    if max(most) > np.iinfo(np.uint8).max:
        raise TooManyError
    return enumerate_patterns(
        model.sizes, most, prices, asked, model.few, MOST_PATTERNS, MOST_NODES
    )


def settle_sticks(search: Search, cuts: Sequence[Cut], work: float) -> None:
    """Decide whether the sticks of a trial suffice, if few patterns come into question.

    The limits of the search's kinds are the numbers, and every slot is a kind of its own. Its
    cost is 1 and no packing costs anything: proven without a packing means that none exists.
    """
    model = search.model
    if model.grid > 1 or not cuts:
        return
    numbers = [limit or 0 for limit in model.limits]
    try:
        columns = patterns_for_sticks(model, numbers, cuts)
    except TooManyError:
        search.effort.spend(SECONDS_PER_PATTERN * MOST_PATTERNS)
        return
    search.effort.spend(SECONDS_PER_PATTERN * len(columns))
    solve_columns(search, columns, 0, work)


def solve_columns(search: Search, columns: list[Column], target: int, work: float) -> None:
    """Find the cheapest packing from these columns, of cost `target` or less, or that none is."""
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
    """The most room that a packing of cost `target` can have for surplus pieces."""
    pieces = sum(size * want for size, want in zip(model.sizes, model.wanted, strict=True))
    slot, *others = model.slots
    if not others and slot.cents:
        return target // slot.cents * slot.room - pieces
    most = [sum(model.wanted) if limit is None else limit for limit in model.limits]
    return sum(n * model.room_of(kind) for kind, n in enumerate(most)) - pieces


def _most(model: Model, column: Column) -> int:
    """The most sticks that a packing without needless ones cuts by a pattern."""
    return max(-(-model.wanted[item] // copies) for item, copies in column.pieces)
