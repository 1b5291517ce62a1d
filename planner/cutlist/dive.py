"""Diving: round the relaxation up a few patterns at a time, and generate columns again.

After each rounding the rest of the question is a question of its own, whose relaxation knows
that surplus pieces are worth nothing; that is what makes the last sticks come out well. A dive
ends when the rest is cut, or when its floor says that nothing cheaper can come of it.
"""

from __future__ import annotations

import random
from collections.abc import Sequence
from dataclasses import dataclass

from planner.cutlist.generation import Generator
from planner.cutlist.heuristics import Filler, add, decreasing_packings
from planner.cutlist.master import Master, Point
from planner.cutlist.model import Column, Model, Packing
from planner.cutlist.search import Search

SURE = 0.85
"""Fractional parts above this are rounded up together."""


@dataclass
class _Rest:
    """What a dive has still to cut."""

    wanted: list[int]
    limits: list[int | None]
    done: Packing

    def take(self, model: Model, column: Column, count: int) -> bool:
        """Cut `count` sticks by `column` if pieces and sticks are still wanted and there."""
        kind = model.slots[column.slot].kind
        limit = self.limits[kind]
        if limit is not None and limit < count:
            return False
        if any(self.wanted[item] < copies * count for item, copies in column.pieces):
            return False
        for item, copies in column.pieces:
            self.wanted[item] -= copies * count
        self.limits[kind] = None if limit is None else limit - count
        add(self.done, column, count)
        return True


def dive(search: Search, master: Master, start: Point, dice: random.Random | None = None) -> bool:
    """Dive once from `start`; with `dice` the choices vary. Returns whether it paid."""
    model = search.model
    rest = _Rest(list(model.wanted), list(model.limits), {})
    point, paid = start, False
    while any(rest.wanted) and not search.effort.is_over():
        if not _round(model, rest, point, dice):
            break
        if not any(rest.wanted):
            return search.offer(rest.done) or paid
        paid |= _complete(search, rest, point)
        if search.is_proven:
            return True
        residue = model.rest(rest.wanted, rest.limits)
        spent = model.cost(rest.done)
        master.restrict(rest.wanted, rest.limits)
        allowed = None if search.cost is None else search.cost - spent
        generator = Generator(residue, search.table, search.effort)
        relaxed = generator.run(master, allowed, search.cent_step, 60)
        search.pool.update(dict.fromkeys(relaxed.point.x))
        floor = search.rounded(relaxed.floor) + spent
        if search.cost is not None and floor >= search.cost:
            break
        point = relaxed.point
    return paid


def _round(model: Model, rest: _Rest, point: Point, dice: random.Random | None) -> bool:
    """Fix whole parts and sure parts; failing those, the most promising pattern."""
    whole = sorted(point.x.items(), key=lambda pair: (-pair[1], pair[0]))
    fixed = 0
    for column, value in whole:
        if value >= 1 - 1e-6:
            fixed += rest.take(model, column, int(value + 1e-6))
    parts = sorted(
        ((value - int(value + 1e-6), column) for column, value in whole),
        key=lambda pair: (-pair[0], pair[1]),
    )
    for part, column in parts:
        if part > SURE:
            fixed += rest.take(model, column, 1)
    if fixed:
        return True
    return any(rest.take(model, column, 1) for column in _by_promise(parts, dice))


def _by_promise(parts: Sequence[tuple[float, Column]], dice: random.Random | None) -> list[Column]:
    if dice is None:
        return [column for _, column in parts]
    weighed = [(part * dice.uniform(0.5, 1.0), column) for part, column in parts]
    return [column for _, column in sorted(weighed, key=lambda pair: (-pair[0], pair[1]))]


def _complete(search: Search, rest: _Rest, point: Point) -> bool:
    """Finish the rest by quick packings and offer what comes of it."""
    residue = search.model.rest(rest.wanted, rest.limits)
    filler = Filler(residue, search.table, search.effort)
    paid = False
    for packing in (*decreasing_packings(residue), filler.fill(point.prices)):
        if packing is not None:
            whole = dict(rest.done)
            for column, count in packing.items():
                add(whole, column, count)
            paid |= search.offer(whole)
    return paid
