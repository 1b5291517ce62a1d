"""The cut-list question as the search sees it: small integers, items, and slots.

An *item* is a distinct piece length, kerf included. A *slot* is a way to use up a stick: a
room for pieces at a cost. A stock kind whose longer drops are worth more has several slots,
the fuller the dearer; one without drop values has one. So pricing, bounds and branching know
nothing of drops and remnants, and stay exact for any non-decreasing value of a drop.

Sizes are divided by their greatest common divisor and rooms lowered to sums that pieces can
reach. When the rooms are still too many to tabulate, `grid` is the coarser unit of the
tables: a table rounds sizes down, so that bounds made with it stay bounds, and patterns are
checked against the exact sizes.
"""

from __future__ import annotations

from bisect import bisect_left
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from functools import cached_property
from math import gcd
from typing import NamedTuple

from planner.cutlist.problem import NM_PER_M, Problem, StockKind

TABLE_CELLS = 100_000_000
"""Rows times rooms of one table, about 15 ms and 12 MB; beyond it sizes are rounded,"""
COARSE_CELLS = 20_000_000
"""to a table of this size."""
FEW_CELLS = 2
"""What a row costs more when different lengths are counted too, for each length allowed."""
TABLE_ROOMS = 2_000_000
"""Most rooms of a table, and rooms up to which reachable sums are listed."""


class Slot(NamedTuple):
    """Pieces of up to `room` from a stick of `kind` cost `cents`."""

    kind: int
    room: int
    cents: int


class Column(NamedTuple):
    """One pattern: a slot's index and pieces that fit it, as (item, count), items ascending."""

    slot: int
    pieces: tuple[tuple[int, int], ...]


Packing = dict[Column, int]
"""How many sticks are cut by each pattern."""


@dataclass(frozen=True)
class Model:
    """Items with sizes and wanted numbers, kinds with limits, and slots."""

    sizes: tuple[int, ...]
    """Kerf included, strictly falling."""
    wanted: tuple[int, ...]
    slots: tuple[Slot, ...]
    """By kind, then room; within a kind both room and cost rise strictly."""
    limits: tuple[int | None, ...]
    few: int | None = None
    """Most different lengths in one stick."""
    grid: int = 1

    @cached_property
    def slots_of(self) -> tuple[tuple[int, ...], ...]:
        """The indices of each kind's slots, the smallest room first."""
        indices: list[list[int]] = [[] for _ in self.limits]
        for index, slot in enumerate(self.slots):
            indices[slot.kind].append(index)
        return tuple(tuple(own) for own in indices)

    @cached_property
    def _rooms_of(self) -> tuple[tuple[int, ...], ...]:
        return tuple(tuple(self.slots[index].room for index in own) for own in self.slots_of)

    @cached_property
    def room(self) -> int:
        """The largest room of all."""
        return max((slot.room for slot in self.slots), default=0)

    @cached_property
    def table_sizes(self) -> tuple[int, ...]:
        """Sizes in units of the table, rounded down but never to nothing."""
        return tuple(max(1, size // self.grid) for size in self.sizes)

    def used(self, pieces: Iterable[tuple[int, int]]) -> int:
        """The room that pieces take."""
        return sum(self.sizes[item] * count for item, count in pieces)

    def room_of(self, kind: int) -> int:
        """The largest room of a kind, -1 if it has none."""
        rooms = self._rooms_of[kind]
        return rooms[-1] if rooms else -1

    def slot_for(self, kind: int, used: int) -> int:
        """The cheapest slot of `kind` that holds `used`."""
        return self.slots_of[kind][bisect_left(self._rooms_of[kind], used)]

    def tidy(self, column: Column) -> Column:
        """The same pieces from the cheapest slot of the same kind."""
        kind = self.slots[column.slot].kind
        return Column(self.slot_for(kind, self.used(column.pieces)), column.pieces)

    def cost(self, packing: Packing) -> int:
        """What a packing costs, added up from its patterns."""
        return sum(self.slots[column.slot].cents * count for column, count in packing.items())

    def fits(self, column: Column) -> bool:
        """Whether the pieces of a column may come from one stick."""
        few_enough = self.few is None or len(column.pieces) <= self.few
        return few_enough and self.used(column.pieces) <= self.slots[column.slot].room

    def copies(self, item: int, room: int) -> int:
        """The most pieces of one item that one stick may yield."""
        return min(self.wanted[item], room // self.sizes[item])

    def rest(self, wanted: Sequence[int], limits: Sequence[int | None]) -> Model:
        """The same question for fewer pieces and sticks."""
        return replace(self, wanted=tuple(wanted), limits=tuple(limits))


def make_column(slot: int, counts: Iterable[int]) -> Column:
    """A column from one count per item."""
    return Column(slot, tuple((item, int(count)) for item, count in enumerate(counts) if count))


def sticks_by_kind(model: Model, packing: Packing) -> list[int]:
    """How many sticks of each kind a packing takes."""
    taken = [0] * len(model.limits)
    for column, count in packing.items():
        taken[model.slots[column.slot].kind] += count
    return taken


def is_complete(model: Model, packing: Packing) -> bool:
    """Whether a packing yields every piece, within every limit, from patterns that fit."""
    made = [0] * len(model.sizes)
    for column, count in packing.items():
        if not model.fits(column):
            return False
        for item, copies in column.pieces:
            made[item] += copies * count
    taken = sticks_by_kind(model, packing)
    within = all(
        limit is None or number <= limit for number, limit in zip(taken, model.limits, strict=True)
    )
    return within and all(have >= want for have, want in zip(made, model.wanted, strict=True))


@dataclass(frozen=True)
class Scaled:
    """A model, and the way back from it to the problem."""

    model: Model
    lengths_nm: tuple[int, ...]
    """Of each item."""
    stock_of: tuple[tuple[int, ...], ...]
    """For each kind, the indices of the problem's stock kinds that it stands for."""


def scale(problem: Problem) -> Scaled:
    """Turn a problem into a model; kinds of stock that are alike become one."""
    wanted = _wanted_by_length(problem)
    lengths = tuple(sorted(wanted, reverse=True))
    sizes = [length + problem.kerf_nm for length in lengths]
    unit = gcd(*sizes) or 1
    sizes = [size // unit for size in sizes]
    numbers = tuple(wanted[length] for length in lengths)
    raw = [_raw_slots(problem, kind, unit) for kind in problem.stock]
    room = max((slots[-1][0] for slots in raw if slots), default=0)
    reach = _Reach(sizes, numbers, room)
    kinds: dict[tuple[tuple[tuple[int, int], ...], bool], list[int]] = {}
    for index, kind in enumerate(problem.stock):
        pairs = _thin(reach, raw[index])
        if pairs and kind.count != 0:
            kinds.setdefault((pairs, kind.count is None), []).append(index)
    slots = [
        Slot(number, room, cents)
        for number, (pairs, _) in enumerate(kinds)
        for room, cents in pairs
    ]
    model = Model(
        tuple(sizes),
        numbers,
        tuple(slots),
        tuple(_joint_count([problem.stock[i] for i in same]) for same in kinds.values()),
        problem.max_lengths_per_stick,
        _grid(sizes, numbers, room, problem.max_lengths_per_stick),
    )
    return Scaled(model, lengths, tuple(tuple(same) for same in kinds.values()))


def _rows(sizes: Sequence[int], numbers: Sequence[int], room: int) -> int:
    """Rows of a table in which an item is taken 1, 2, 4, ... times."""
    return sum(min(n, room // s).bit_length() for s, n in zip(sizes, numbers, strict=True))


def _grid(sizes: Sequence[int], numbers: Sequence[int], room: int, few: int | None) -> int:
    rows = _rows(sizes, numbers, room) * (1 if few is None else FEW_CELLS * few)
    if rows * room <= TABLE_CELLS and room <= TABLE_ROOMS:
        return 1
    return max(-(-rows * room // COARSE_CELLS), -(-room // TABLE_ROOMS))


def _wanted_by_length(problem: Problem) -> dict[int, int]:
    wanted: dict[int, int] = {}
    for demand in problem.demands:
        if demand.quantity:
            wanted[demand.length_nm] = wanted.get(demand.length_nm, 0) + demand.quantity
    return wanted


def _joint_count(kinds: Sequence[StockKind]) -> int | None:
    counts = [kind.count for kind in kinds]
    return None if None in counts else sum(count or 0 for count in counts)


def _raw_slots(problem: Problem, kind: StockKind, unit: int) -> list[tuple[int, int]]:
    """(room, cents) of a kind at every drop length where the cost of the stick changes."""
    room = problem.room_nm(kind)
    behind_head = kind.length_nm - problem.head_nm
    rooms = {behind_head - drop for drop in _drop_steps(problem, behind_head)} | {room}
    used = sorted(each for each in rooms if 0 < each <= room)
    cents = problem.costs_cents(kind, used)
    return sorted((each // unit, cost) for each, cost in zip(used, cents, strict=True))


def _drop_steps(problem: Problem, longest: int) -> set[int]:
    shortest = problem.shortest_remnant_nm
    if shortest is None:
        return set()
    steps = {max(shortest, step.length_nm) for step in problem.drop_values} | {shortest}
    rate = problem.finish_cents_per_m
    if rate:
        first, last = rate * shortest // NM_PER_M + 1, rate * longest // NM_PER_M
        steps |= {-(-cents * NM_PER_M // rate) for cents in range(first, last + 1)}
    return steps


def _thin(reach: _Reach, slots: list[tuple[int, int]]) -> tuple[tuple[int, int], ...]:
    """Lower rooms to reachable sums and keep the largest room of each cost."""
    kept: dict[int, int] = {}
    for room, cents in slots:
        lowered = reach.at_most(room)
        if lowered and (not kept or lowered > max(kept)):
            kept[lowered] = cents
    dearest: dict[int, int] = {cents: room for room, cents in kept.items()}
    return tuple(sorted((room, cents) for cents, room in dearest.items()))


class _Reach:
    """The sums that pieces can reach, as bits of one long integer."""

    def __init__(self, sizes: Sequence[int], numbers: Sequence[int], room: int) -> None:
        self._bits: int | None = None
        if room > TABLE_ROOMS:
            return
        bits, mask = 1, (1 << (room + 1)) - 1
        for size, number in zip(sizes, numbers, strict=True):
            left, step = min(number, room // size), 1
            while left > 0:
                step = min(step, left)
                bits |= bits << (size * step) & mask
                left, step = left - step, step * 2
        self._bits = bits

    def at_most(self, room: int) -> int:
        """The largest reachable sum up to `room` (`room` itself if sums were not listed)."""
        if self._bits is None or room < 0:
            return max(room, 0)
        return (self._bits & ((1 << (room + 1)) - 1)).bit_length() - 1
