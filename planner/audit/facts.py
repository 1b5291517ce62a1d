"""A plan with its records by key, once it is sure that every name in it means something."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from datetime import datetime
from functools import cached_property
from typing import TypeVar

from planner.errors import Finding, Severity
from planner.held import Held, Paused
from planner.hours import WEEKDAYS, moment
from planner.orders import OrderLine, Step
from planner.records import Blank, CutList, Lot, Operation, Plan, Slot
from planner.shop import Shop, Station
from planner.stock import StockItem

Breaches = Iterator[Finding]
T = TypeVar("T")

OF_THE_LOT = (Step.FINISH, Step.SAW)
"""Steps that a lot goes through as one; all others are work of one of its order lines."""


def breach(invariant: int, subject: str, message: str) -> Finding:
    """A finding that says which invariant is broken (0: the plan is not even whole)."""
    text = f"Invariant {invariant}: {subject}: {message}"
    return Finding(severity=Severity.ERROR, message=text, subject=subject)


@dataclass(frozen=True)
class Facts:
    """What the invariants are checked on; make it only of a plan that `whole` finds whole."""

    plan: Plan

    @property
    def shop(self) -> Shop:
        """The shop of the plan."""
        return self.plan.shop

    @cached_property
    def orders(self) -> Mapping[str, OrderLine]:
        """Order lines by key."""
        return {line.key: line for line in self.plan.orders}

    @cached_property
    def blanks(self) -> Mapping[str, Blank]:
        """Blanks by order line."""
        return {blank.line: blank for blank in self.plan.blanks}

    @cached_property
    def stock(self) -> Mapping[str, StockItem]:
        """Stock items by key."""
        return {item.key: item for item in self.plan.stock}

    @cached_property
    def lots(self) -> Mapping[str, Lot]:
        """Lots by key."""
        return {lot.key: lot for lot in self.plan.lots}

    @cached_property
    def cut_lists(self) -> Mapping[str, CutList]:
        """Cut lists by lot."""
        return {cut_list.lot: cut_list for cut_list in self.plan.cut_lists}

    @cached_property
    def operations(self) -> Mapping[str, Operation]:
        """Operations by key."""
        return {operation.key: operation for operation in self.plan.operations}

    @cached_property
    def slots(self) -> Mapping[str, Slot]:
        """Slots by operation."""
        return {slot.operation: slot for slot in self.plan.slots}

    @cached_property
    def stations(self) -> Mapping[str, Station]:
        """Stations by name."""
        return {station.name: station for station in self.shop.stations}

    @cached_property
    def past(self) -> frozenset[str]:
        """Operations that were done or had begun when the week was planned again; `held` makes
        sure that they lie where their records say, and not after that time."""
        return self.plan.replan.past if self.plan.replan else frozenset()

    @cached_property
    def paused(self) -> Mapping[str, Paused]:
        """What stood still then, and of which a part was done, by operation."""
        found = self.plan.replan.paused if self.plan.replan else ()
        return {one.operation: one for one in found}

    @cached_property
    def parts(self) -> Sequence[Paused]:
        """Parts that were done before their runs gave way, of all that stood still so far."""
        parts = self.plan.replan.parts if self.plan.replan else ()
        return [part for part in parts if self._can_do(part)]

    def _can_do(self, part: Paused) -> bool:
        """Whether it names an operation and a station of its own; `held` says where it does not."""
        operation = self.operations.get(part.operation)
        ways = operation.alternatives if operation else ()
        return part.station in {way.station for way in ways}

    @cached_property
    def held(self) -> Mapping[str, Held]:
        """What stays where it is in a week planned again, by operation."""
        held = self.plan.replan.held if self.plan.replan else ()
        return {one.operation: one for one in held}

    @cached_property
    def issued_lots(self) -> frozenset[str]:
        """Lots that are of the plan that was issued before this one."""
        issued = self.plan.replan.issued if self.plan.replan else ()
        names = {one.operation for one in issued}
        return frozenset(one.lot for one in self.plan.operations if one.key in names)

    @cached_property
    def ended(self) -> frozenset[str]:
        """Order lines of which nothing was left to do when the week was planned again, or which
        wait for nothing but what was running."""
        open_ = [one for one in self.plan.operations if one.key not in self.past]
        lots, lines = {one.lot for one in open_ if one.line is None}, {one.line for one in open_}
        lot_of = {key: lot.key for lot in self.plan.lots for key in lot.lines}
        return frozenset(key for key, lot in lot_of.items() if lot not in lots and key not in lines)

    @cached_property
    def to_come(self) -> Sequence[Slot]:
        """Slots of work that had not begun then; all of them in the first plan of a week."""
        return [slot for slot in self.plan.slots if slot.operation not in self.past]

    def of_lot(self, lot: str, step: Step | None = None) -> list[Operation]:
        """The operations of a lot, all or of one step."""
        return [
            operation for operation in self._by_lot.get(lot, ()) if step in (None, operation.step)
        ]

    def place(self, slot: Slot | Paused) -> str:
        """What a slot, or a part, occupies: the station, or the base that it shares."""
        return self.stations[slot.station].base or slot.station

    @cached_property
    def by_place(self) -> Mapping[str, Sequence[Slot]]:
        """Slots by the station or base that they occupy, in the order of time."""
        return grouped(sorted(self.plan.slots, key=by_time), self.place)

    @cached_property
    def _by_lot(self) -> Mapping[str, Sequence[Operation]]:
        return grouped(self.plan.operations, lambda operation: operation.lot)

    def moment(self, minute: int) -> datetime:
        """The time of day of a minute of the plan."""
        return moment(minute, self.plan.options.start)

    def clock(self, minute: int) -> str:
        """A minute as people say it, such as `Monday 2026-11-30 7:05`."""
        when = self.moment(minute)
        return f"{WEEKDAYS[when.weekday()]} {when.date()} {when.hour}:{when.minute:02d}"


def grouped(items: Iterable[T], key: Callable[[T], str]) -> Mapping[str, Sequence[T]]:
    """Items by key, in their order."""
    groups: dict[str, list[T]] = {}
    for item in items:
        groups.setdefault(key(item), []).append(item)
    return groups


def by_time(slot: Slot | Paused) -> tuple[int, int, str]:
    """The order in which slots, and parts, follow each other at their place."""
    return slot.setup_start_min, slot.end_min, slot.operation
