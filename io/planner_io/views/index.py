"""A plan's records by their keys, and the numbers that papers call steps and cards by."""

from __future__ import annotations

from collections import defaultdict
from dataclasses import dataclass
from datetime import date, datetime, timedelta
from functools import cached_property

from planner.abrasives import System
from planner.held import Held, Moved, Paused
from planner.hours import due_minute, moment, when_minute
from planner.orders import OrderLine, Step
from planner.records import Blank, Card, CutList, LateLine, Lot, Operation, Plan, Slot
from planner.shop import What
from planner.stock import StockItem
from planner_io.drawing.lay import Lay
from planner_io.views.ruler import Ruler


@dataclass(frozen=True)
class Index:
    """A plan, looked up."""

    plan: Plan

    @cached_property
    def ruler(self) -> Ruler:
        """The shop's ruler."""
        return Ruler.of(self.plan.shop.house)

    @property
    def start(self) -> date:
        """First day of the plan."""
        return self.plan.options.start

    def day(self, number: int) -> date:
        """Date of a day of the plan, 0 for the first."""
        return self.start + timedelta(days=number)

    def moment(self, minute: int) -> datetime:
        """Time of a minute of the plan."""
        return moment(minute, self.start)

    @cached_property
    def orders(self) -> dict[str, OrderLine]:
        """Order lines by key."""
        return {line.key: line for line in self.plan.orders}

    @cached_property
    def blanks(self) -> dict[str, Blank]:
        """Blanks by the key of their order line."""
        return {blank.line: blank for blank in self.plan.blanks}

    @cached_property
    def lots(self) -> dict[str, Lot]:
        """Lots by key."""
        return {lot.key: lot for lot in self.plan.lots}

    @cached_property
    def cut_lists(self) -> dict[str, CutList]:
        """Cut lists by the key of their lot."""
        return {cut_list.lot: cut_list for cut_list in self.plan.cut_lists}

    @cached_property
    def operations(self) -> dict[str, Operation]:
        """Operations by key."""
        return {operation.key: operation for operation in self.plan.operations}

    @cached_property
    def first_after_saw(self) -> dict[str, str]:
        """The station to which each order line's pieces go from the saw; none when done there."""
        found: dict[str, Slot] = {}
        for operation in self.plan.operations:
            lot = self.lots[operation.lot]
            follows = operation.line or (operation.step == Step.FINISH and lot.saw_first)
            if not follows or operation.key not in self.slots:
                continue
            slot = self.slots[operation.key]
            for line in self.lines_of(operation):
                if line not in found or slot.start_min < found[line].start_min:
                    found[line] = slot
        return {line: slot.station for line, slot in found.items()}

    @cached_property
    def slots(self) -> dict[str, Slot]:
        """Slots by the key of their operation."""
        return {slot.operation: slot for slot in self.plan.slots}

    @cached_property
    def stock(self) -> dict[str, StockItem]:
        """Stock items by key."""
        return {item.key: item for item in self.plan.stock}

    @cached_property
    def late(self) -> dict[str, LateLine]:
        """Late lines by the key of their order line."""
        return {late.line: late for late in self.plan.late}

    @cached_property
    def held(self) -> dict[str, Held]:
        """What planning again left alone, by operation; empty for a first plan."""
        replan = self.plan.replan
        return {held.operation: held for held in replan.held} if replan else {}

    @cached_property
    def paused(self) -> dict[str, Paused]:
        """What stood still when the week was planned again, by operation."""
        replan = self.plan.replan
        return {paused.operation: paused for paused in replan.paused} if replan else {}

    @cached_property
    def parts(self) -> dict[str, list[Paused]]:
        """What was done of runs before they gave way, by operation, in the order of time."""
        found: dict[str, list[Paused]] = defaultdict(list)
        for part in self.plan.replan.parts if self.plan.replan else ():
            found[part.operation].append(part)
        return dict(found)

    @cached_property
    def moved(self) -> dict[str, Moved]:
        """What planning again moved after it was issued, by operation."""
        replan = self.plan.replan
        return {moved.operation: moved for moved in replan.moved} if replan else {}

    @cached_property
    def cards(self) -> dict[str, tuple[int, Card]]:
        """The set-up card of each operation, with its number at its station."""
        numbers: dict[str, int] = defaultdict(int)
        found: dict[str, tuple[int, Card]] = {}
        for card in self.plan.cards:
            numbers[card.station] += 1
            for operation in card.operations:
                found[operation] = (numbers[card.station], card)
        return found

    @cached_property
    def by_station(self) -> dict[str, list[Slot]]:
        """Slots of each station in time order; stations in the shop's order, idle ones absent."""
        found: dict[str, list[Slot]] = defaultdict(list)
        for slot in self.plan.slots:
            found[slot.station].append(slot)
        return {
            station.name: sorted(found[station.name], key=_time)
            for station in self.plan.shop.stations
            if station.name in found
        }

    @cached_property
    def step_numbers(self) -> dict[str, int]:
        """Number of each operation in the sequence of its station, from 1 through the week."""
        return {
            slot.operation: number
            for slots in self.by_station.values()
            for number, slot in enumerate(slots, start=1)
        }

    @cached_property
    def last_of_line(self) -> dict[str, str]:
        """The operation with which each order line is complete."""
        found: dict[str, str] = {}
        for operation in self.plan.operations:
            slot = self.slots.get(operation.key)
            if slot is None:
                continue
            for line in self.lines_of(operation):
                before = self.slots[found[line]].end_min if line in found else -1
                if slot.end_min >= before:
                    found[line] = operation.key
        return found

    def place(self, station: str) -> str:
        """The base of a station, or the station: where only one thing is done at a time."""
        return self.plan.shop.station(station).base or station

    def lines_of(self, operation: Operation) -> tuple[str, ...]:
        """Keys of the order lines that an operation works for."""
        return (operation.line,) if operation.line else self.lots[operation.lot].lines

    def due_min(self, line: str) -> int:
        """When an order line is due, in minutes of the plan."""
        return due_minute(self.orders[line].due, self.start)

    def state(self, slot: Slot) -> dict[What, str]:
        """What a slot needs mounted on its station."""
        return self.operations[slot.operation].at(slot.station).state

    def lay(self, operation: Operation) -> Lay | None:
        """The texture of the belt that an operation uses, if any."""
        for belt in self.plan.shop.belts:
            if belt.name == operation.belt:
                is_soft = belt.non_woven or belt.grade.system == System.NON_WOVEN
                return Lay(belt.grade.micron, is_soft)
        return None

    def late_by(self, operation: Operation) -> list[LateLine]:
        """Late lines that this operation completes."""
        return [
            self.late[line]
            for line in self.lines_of(operation)
            if line in self.late and self.last_of_line.get(line) == operation.key
        ]

    @property
    def week_name(self) -> str:
        """ISO week of the plan's first day, such as `Week 49`."""
        return f"Week {self.start.isocalendar().week}"

    @property
    def as_of(self) -> str:
        """When a week was planned again, such as `as of Tue 1 Dec 7:30`, by which its papers are
        told from those that they replace; empty for its first plan."""
        again = self.plan.replan
        return f"as of {when_minute(again.now_min, self.start)}" if again else ""


def _time(slot: Slot) -> tuple[int, int]:
    return slot.start_min, slot.end_min
