"""Diving: round the relaxation up a few patterns at a time, and generate columns again.

After each rounding the rest of the question is a question of its own, whose relaxation knows
that surplus pieces are worth nothing; that is what makes the last sticks come out well. When the
floor of a rest says that nothing cheaper can come of it, the rounding is taken back and the
next pattern tried, up to a number of relaxations in all.
"""

from __future__ import annotations

import random
from collections.abc import Iterator
from dataclasses import dataclass

from planner.cutlist.exact import solve_over_patterns
from planner.cutlist.generation import Generator
from planner.cutlist.heuristics import Filler, add, decreasing_packings
from planner.cutlist.master import Master, Point
from planner.cutlist.model import Column, Model, Packing
from planner.cutlist.search import Search

SURE = 0.95
"""Fractional parts above this are rounded up together."""
TRIES = 2
"""Roundings to try from one relaxation before going back further."""
ROUNDS = 60
"""Pricing rounds for one rest. A floor stays one where they end early, if a weaker one, and a dive
needs columns to round rather than the last cent of a floor."""
WHOLE = 1e-6
"""What the program's solver may leave a whole number of sticks short of one."""
LEAST_WEIGHT = 0.5
"""With dice a fractional part counts as between this share of it and all of it: so dives choose
differently, but no part comes before one that is twice as large."""
LEAST_REST, SHORT_REST = 15, 66
"""Pieces of a rest that counts as short: fewer are left to quick packings, and more to further
rounding, since their patterns are many."""
ENDING_WORK = 0.2
"""Nominal seconds to settle one of them."""
SMALL_REST = 150
"""Pieces up to which quick packings may complete a rest."""


@dataclass
class _Rest:
    """What a dive has still to cut."""

    wanted: list[int]
    limits: list[int | None]
    done: Packing

    def copy(self) -> _Rest:
        return _Rest(list(self.wanted), list(self.limits), dict(self.done))

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


def dive(
    search: Search,
    master: Master,
    start: Point,
    dice: random.Random | None,
    relaxations: int,
    endings: int = 0,
) -> bool:
    """Dive once from `start`; with `dice` the choices vary. Returns whether it paid.

    At most `relaxations` rests are tried, and `endings` short ones settled over all patterns.
    """
    model = search.model
    paid = False
    whole = _Rest(list(model.wanted), list(model.limits), {})
    levels = [_roundings(model, whole, start, dice)]
    while levels and relaxations and not search.effort.is_over() and not search.is_proven:
        rest = next(levels[-1], None)
        if rest is None:
            levels.pop()
            continue
        if not any(rest.wanted):
            return search.offer(rest.done) or paid
        relaxations -= 1
        point = _relax(search, master, rest)
        if point is None:
            continue
        paid |= _complete(search, rest, point)
        if endings and LEAST_REST < sum(rest.wanted) <= SHORT_REST and not search.is_proven:
            endings -= 1
            if _end_exactly(search, master, rest):
                continue
        levels.append(_roundings(model, rest, point, dice))
    return paid


def _end_exactly(search: Search, master: Master, rest: _Rest) -> bool:
    """Settle a short rest over its patterns; True if nothing more can come of it."""
    if search.cost is None:
        return False
    spent = search.model.cost(rest.done)
    residue = search.model.rest(rest.wanted, rest.limits)
    inner = Search(
        residue, search.effort, search.table, search.seed, cost=search.cost - spent, master=master
    )
    solve_over_patterns(inner, ENDING_WORK)
    if inner.best is not None:
        whole = dict(rest.done)
        for column, count in inner.best.items():
            add(whole, column, count)
        search.offer(whole)
    return inner.is_proven


def _relax(search: Search, master: Master, rest: _Rest) -> Point | None:
    """The relaxation of a rest, None if nothing cheaper can come of it."""
    residue = search.model.rest(rest.wanted, rest.limits)
    spent = search.model.cost(rest.done)
    allowed = None if search.cost is None else search.cost - spent
    master.restrict(rest.wanted, rest.limits)
    generator = Generator(residue, search.table, search.effort)
    relaxed = generator.run(master, allowed, search.cent_step, ROUNDS)
    search.pool.update(dict.fromkeys(relaxed.point.x))
    if allowed is not None and search.rounded(relaxed.floor) >= allowed:
        return None
    return relaxed.point


def _roundings(
    model: Model, rest: _Rest, point: Point, dice: random.Random | None
) -> Iterator[_Rest]:
    """Rests after rounding: whole parts with the sure ones, then with one pattern each."""
    base = rest.copy()
    parts: list[tuple[float, Column]] = []
    for column, value in sorted(point.x.items(), key=lambda pair: (-pair[1], pair[0])):
        count = int(value + WHOLE)
        if count and not base.take(model, column, count):
            count = 0
        parts.append((value - count, column))
    if dice is not None:
        parts = [(part * dice.uniform(LEAST_WEIGHT, 1.0), column) for part, column in parts]
    parts.sort(key=lambda pair: (-pair[0], pair[1]))
    bold = base.copy()
    if sum([bold.take(model, column, 1) for part, column in parts if part > SURE]) > 1:
        yield bold
    elif base.done != rest.done:
        yield base
        return
    tries = 0
    for _, column in parts:
        one = base.copy()
        if one.take(model, column, 1):
            yield one
            tries += 1
            if tries == TRIES:
                return


def _complete(search: Search, rest: _Rest, point: Point) -> bool:
    """Finish a small rest by quick packings and offer what comes of it."""
    if sum(rest.wanted) > SMALL_REST:
        return False
    residue = search.model.rest(rest.wanted, rest.limits)
    filler = Filler(residue, search.table, search.effort)
    paid = False
    for packing in (*decreasing_packings(residue, 1), filler.fill(point.prices)):
        if packing is not None:
            whole = dict(rest.done)
            for column, count in packing.items():
                add(whole, column, count)
            paid |= search.offer(whole)
    return paid
