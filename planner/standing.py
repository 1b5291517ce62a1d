"""What a week that is planned again stands on: lots that stay, and where their work is held."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field

from planner.errors import Finding
from planner.held import Held, HeldWhy, IssuedAt, Moved, Paused, Replan
from planner.records import Blank, CutList, Lot, Operation, Slot
from planner.scrap import Scrap
from planner.shop import Mounted, Shop


@dataclass(frozen=True, slots=True)
class Standing:
    """What stays of the plan issued before; empty for the first plan of a week."""

    lots: tuple[Lot, ...] = ()
    cut_lists: tuple[CutList, ...] = ()
    blanks: Mapping[str, Blank] = field(default_factory=dict[str, Blank])
    """Blanks of the lines of these lots, by line."""
    operations: tuple[Operation, ...] = ()
    held: Mapping[str, Held] = field(default_factory=dict[str, Held])
    """By operation."""
    issued: Mapping[str, IssuedAt] = field(default_factory=dict[str, IssuedAt])
    """By operation."""
    mounted: tuple[Mounted, ...] = ()
    """What stands on the stations after the work and the parts that are done."""
    first_lot: int = 1
    """Number of the first new lot."""
    paused: tuple[Paused, ...] = ()
    """Work that stands still, of which `operations` have what is left."""
    resumed: tuple[Paused, ...] = ()
    """Parts of work that stood still before it went on, or gave way once more."""
    scrap: tuple[Scrap, ...] = ()
    """What was lost so far, and is made once more."""
    findings: tuple[Finding, ...] = ()

    @property
    def parts(self) -> tuple[Paused, ...]:
        """All parts that were done before their runs gave way."""
        return (*self.resumed, *self.paused)

    def is_done(self, operation: str) -> bool:
        """Whether the operation has ended."""
        held = self.held.get(operation)
        return held is not None and held.why is HeldWhy.DONE

    def is_past(self, operation: str) -> bool:
        """Whether the operation has begun, ended or not."""
        held = self.held.get(operation)
        return held is not None and held.why in (HeldWhy.DONE, HeldWhy.STARTED)

    def shop_now(self, shop: Shop) -> Shop:
        """The shop with what stands on its stations now."""
        return shop.model_copy(update={"mounted": self.mounted}) if self.lots else shop


NOTHING = Standing()
"""The first plan of a week."""


def issued_at(slot: Slot) -> IssuedAt:
    """Where a plan tells the floor to expect an operation."""
    return IssuedAt(
        operation=slot.operation,
        station=slot.station,
        people=slot.people,
        setup_start_min=slot.setup_start_min,
        start_min=slot.start_min,
        end_min=slot.end_min,
    )


def replan_record(standing: Standing, slots: Sequence[Slot], now_min: int) -> Replan | None:
    """What stayed, what had been issued and what of it moved; None for the first plan."""
    if not standing.lots:
        return None
    return Replan(
        now_min=now_min,
        held=tuple(standing.held.values()),
        issued=tuple(standing.issued.values()),
        moved=tuple(
            Moved(operation=slot.operation, before=before, after=issued_at(slot))
            for slot in sorted(slots, key=lambda slot: (slot.start_min, slot.operation))
            for before in [standing.issued.get(slot.operation)]
            if before and not standing.is_past(slot.operation)
            if (before.station, before.start_min) != (slot.station, slot.start_min)
        ),
        paused=standing.paused,
        resumed=standing.resumed,
        scrap=standing.scrap,
    )
