"""New belts that a plan needs: at which step a worn one is changed, and what to buy."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime

from planner.finisher.belts import BeltUse, WornChange, life_of
from planner.finisher.wear import belts_of
from planner_io.views import places
from planner_io.views.index import Index
from planner_io.views.ruler import money, plural


@dataclass(frozen=True)
class BeltBuy:
    """Belts that the shelf has too few of."""

    belt: str
    count: int
    sum_cents: int
    sum: str
    needed_by: datetime
    """When the pass begins that needs the first one that is not on the shelf."""


def belt_uses(index: Index) -> tuple[BeltUse, ...]:
    """What the plan takes of the belts whose life the shop counts."""
    if not any(life_of(belt).counted for belt in index.plan.shop.belts):
        return ()
    return tuple(use for use in belts_of(index.plan) if use.counted)


def new_belts(index: Index) -> dict[str, str]:
    """What to do about a worn belt, by the operation during which it is due, or was."""
    found: dict[str, list[str]] = {}
    for use in belt_uses(index):
        for change in use.changes:
            fed = places.fed(index, index.operations[change.operation])
            found.setdefault(change.operation, []).append(change_words(change, fed))
    return {operation: "; ".join(words) for operation, words in found.items()}


def change_words(change: WornChange, fed: str) -> str:
    """One change of a worn belt; `fed` is what goes through under it.

    >>> change_words(WornChange("L10.P2", "P80 steel", 3), "stick")
    'new P80 steel belt after 3 sticks'
    """
    when = f"after {plural(change.after_pieces, fed)}" if change.after_pieces else "first"
    return f"new {change.belt} belt {when}"


def belts_to_buy(index: Index) -> tuple[BeltBuy, ...]:
    """Belts to buy, in the order of the shop."""
    currency = index.plan.shop.house.currency
    return tuple(
        BeltBuy(
            use.belt,
            use.buy,
            use.buy_cents,
            money(use.buy_cents, currency),
            index.moment(index.slots[use.changes[-use.buy].operation].start_min),
        )
        for use in belt_uses(index)
        if use.buy
    )
