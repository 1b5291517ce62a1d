"""Belts wear out: how many a plan uses, when the worn one is changed, and what to buy.

A belt's life is what the shop says of it, in minutes of contact or in finished area (no
published value is known); when both are given, the one used up first counts. A family that is
harder on belts has a factor of its own.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from math import pi

from planner.mounting import worn_share
from planner.shop import Belt
from planner.tube import Family
from planner.units import NM_PER_M

CM2_PER_M2 = 10_000


@dataclass(frozen=True, slots=True)
class BeltLife:
    """How long a belt lasts and how far the one in use has got."""

    belt: str
    life_min: float | None = None
    """Minutes of contact of a new one, or None if the shop does not count them."""
    life_m2: float | None = None
    """Area that a new one finishes, square metres, or None."""
    used: float = 0.0
    """Share of its life that the one in use has behind it, 0 to 1."""
    shelf: int = 0
    """New ones on the shelf."""
    price_cents: int = 0
    factors: Mapping[Family, float] = field(default_factory=dict[Family, float])
    """How much faster a family wears it; 1 where it is not named."""

    @property
    def counted(self) -> bool:
        """Whether the shop gives any life at all."""
        return bool(self.life_min or self.life_m2)


def life_of(belt: Belt) -> BeltLife:
    """The life of a belt of the shop's sheet."""
    return BeltLife(
        belt=belt.name,
        life_min=belt.life_min,
        life_m2=belt.life_cm2 / CM2_PER_M2 if belt.life_cm2 else None,
        used=worn_share(belt),
        shelf=belt.count,
        price_cents=belt.price_cents,
        factors=belt.wear,
    )


def area_m2(od_nm: int, lengths_nm: Sequence[int]) -> float:
    """Outside of some tube, square metres: π times its OD times its length."""
    return pi * od_nm / NM_PER_M * sum(lengths_nm) / NM_PER_M


def life_used(life: BeltLife, family: Family, minutes: float, area: float) -> float:
    """Share of a new belt's life that some minutes of contact on an area (square metres) use up."""
    by_time = minutes / life.life_min if life.life_min else 0.0
    by_area = area / life.life_m2 if life.life_m2 else 0.0
    return max(by_time, by_area) * life.factors.get(family, 1.0)


@dataclass(frozen=True, slots=True)
class BeltPass:
    """What one pass asks of its belt."""

    operation: str
    belt: str
    family: Family
    minutes: float
    """Contact: travel over feed, without handling."""
    area_m2: float
    """Outside of the tube that passes under it."""
    pieces: int
    before: int = 0
    """Pieces of the pass that were done before, in parts after which it gave way."""
    done: bool = False
    """Ended already, in a week that is planned again: the belts that it took were there."""


@dataclass(frozen=True, slots=True)
class WornChange:
    """A new belt in the middle of a pass or before it."""

    operation: str
    belt: str
    after_pieces: int
    """Pieces of the pass that the old one still does; 0 means before it."""
    done: bool = False
    """In a pass that has ended."""


@dataclass(frozen=True, slots=True)
class BeltUse:
    """What a plan takes of one belt."""

    belt: str
    counted: bool
    changes: tuple[WornChange, ...]
    buy: int
    """New ones needed beyond those on the shelf, for passes that have not ended."""
    buy_cents: int


def wear_of(life: BeltLife, work: BeltPass) -> float:
    """Share of a new belt's life that a pass uses up."""
    return life_used(life, work.family, work.minutes, work.area_m2)


def belt_use(life: BeltLife, passes: Sequence[BeltPass]) -> BeltUse:
    """Walk through the passes of one belt in the order of the plan, and change it before the
    piece that it would not last."""
    used = life.used
    changes: list[WornChange] = []
    for work in passes:
        each = wear_of(life, work) / work.pieces
        for piece in range(work.pieces):
            if used > 0 and used + each > 1 + 1e-9:
                changes.append(
                    WornChange(work.operation, life.belt, work.before + piece, work.done)
                )
                used = 0.0
            used += each
    gone = sum(change.done for change in changes)
    buy = max(0, len(changes) - max(gone, life.shelf))
    return BeltUse(life.belt, life.counted, tuple(changes), buy, buy * life.price_cents)


def all_belts(lives: Sequence[BeltLife], passes: Sequence[BeltPass]) -> tuple[BeltUse, ...]:
    """The use of every belt; passes in the order of the plan."""
    return tuple(
        belt_use(life, [work for work in passes if work.belt == life.belt]) for life in lives
    )
