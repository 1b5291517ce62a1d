"""Invariant 6, of the orders of the week that the plan is compared with.

What a plan saves is told against these, so each is proven as the plan itself is: it does all the
work, within hours, nothing twice at once, and comes to the minutes that it says. That by due date
also has to be one: no station takes up work while other work waits there that is due before.
All this is done only for a plan that holds otherwise, of which it has operations and hours.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Mapping
from heapq import heappop, heappush

from planner.audit.calendar import check_calendar
from planner.audit.changeovers import real_changes
from planner.audit.facts import Breaches, Facts, breach
from planner.audit.figures import real_yardstick, unlike
from planner.audit.held import check_held_places
from planner.changeovers import setup_minutes
from planner.hours import due_minute
from planner.records import Operation, Slot
from planner.yardsticks import BY_DUE_DATE, Placing, Yardstick

Rank = tuple[int, int]
"""When an operation should be done for its lines, and its number in the plan."""


def check_other_orders(facts: Facts) -> Breaches:
    """All breaches of the yardsticks after that of the plan itself."""
    for one in facts.plan.yardsticks[1:]:
        wrong = list(_whole(facts, one))
        yield from wrong
        if not wrong:
            yield from _order(_facts_of(facts, one), one)


def _whole(facts: Facts, one: Yardstick) -> Breaches:
    """Operations that it does not place once, at a station of their own, by people of the shop."""
    placed = Counter(placing.operation for placing in one.placings)
    for key in sorted(placed.keys() | facts.operations.keys()):
        if placed[key] != 1 or key not in facts.operations:
            yield breach(6, one.name, f"places {key} {placed[key]} times, not as the plan does.")
    people = {person.name for person in facts.shop.people}
    for placing in one.placings:
        operation = facts.operations.get(placing.operation)
        ways = operation.alternatives if operation else ()
        if placing.station not in {way.station for way in ways}:
            text = f"puts {placing.operation} on {placing.station}, which is none of its own."
            yield breach(6, one.name, text)
        if not set(placing.people) <= people or not placing.pieces:
            text = f"does {placing.operation} at no time, or by people who are not in the shop."
            yield breach(6, one.name, text)


def _facts_of(facts: Facts, one: Yardstick) -> Facts:
    """The facts of a plan that does the work in this order."""
    bare = [_bare_slot(facts.operations[placing.operation], placing) for placing in one.placings]
    there = Facts(facts.plan.model_copy(update={"slots": tuple(bare)}))
    slots = tuple(
        slot.model_copy(update={"changes": changes, "setup_min": setup_minutes(changes)})
        for slot, changes in real_changes(there)
    )
    return Facts(facts.plan.model_copy(update={"slots": slots}))


def _bare_slot(operation: Operation, placing: Placing) -> Slot:
    """The slot of a placing, its changeover not worked out yet."""
    return Slot(
        operation=placing.operation,
        station=placing.station,
        people=placing.people,
        setup_start_min=placing.setup_start_min,
        setup_min=0,
        start_min=placing.pieces[0][0],
        end_min=placing.pieces[-1][1],
        minutes=operation.at(placing.station).minutes,
        pieces=placing.pieces,
    )


def _order(facts: Facts, one: Yardstick) -> Breaches:
    """`facts` are those of the week in this order."""
    for found in (*check_calendar(facts), *check_held_places(facts), *_waits(facts)):
        yield breach(6, one.name, f"in this order, {found.message.partition(': ')[2]}")
    for text in unlike(one, real_yardstick(facts, one.name)):
        yield breach(6, one.name, text)
    if one.name == BY_DUE_DATE:
        for text in _not_by_due(facts):
            yield breach(6, one.name, text)


def _waits(facts: Facts) -> Breaches:
    """Operations that begin before their material is there, or what they wait for has ended."""
    for slot in facts.to_come:
        early = _ready_min(facts, slot) - slot.start_min
        if early > 0:
            yield breach(2, slot.operation, f"begins {early} minutes before it is ready.")


def _ready_min(facts: Facts, slot: Slot) -> int:
    """When an operation's material is there and what it waits for has ended."""
    operation = facts.operations[slot.operation]
    ends = (facts.slots[key].end_min for key in operation.after)
    return max(operation.release_min, facts.plan.options.start_min, *ends)


def _not_by_due(facts: Facts) -> Iterator[str]:
    """Where a station takes up work while other work waits there that should be done before."""
    ranks = _ranks(facts)
    for slots in facts.by_place.values():
        to_come = [slot for slot in slots if slot.operation not in facts.past]
        waiting = sorted((_from_min(facts, slot), slot.operation) for slot in to_come)
        ready: list[tuple[Rank, str]] = []
        begun: set[str] = set()
        free = 0
        for slot in slots:
            while waiting and waiting[0][0] <= free:
                key = waiting.pop(0)[1]
                heappush(ready, (ranks[key], key))
            while ready and ready[0][1] in begun:
                heappop(ready)
            begun.add(slot.operation)
            if slot.operation not in facts.past and ready and ready[0][0] < ranks[slot.operation]:
                yield f"does {slot.operation} before {ready[0][1]}, which waits and is due earlier."
            free = slot.end_min


def _from_min(facts: Facts, slot: Slot) -> int:
    """From when on a station can take the operation up: ready, and not kept for later."""
    held = facts.held.get(slot.operation)
    return max(_ready_min(facts, slot), held.start_min if held else 0)


def _ranks(facts: Facts) -> Mapping[str, Rank]:
    """When each operation should be done: by its lines' due times, less the work that follows."""
    due: dict[str, int] = {}
    for line, final in _finals(facts).items():
        minute = due_minute(facts.orders[line].due, facts.plan.options.start)
        due[final] = min(minute, due.get(final, minute))
    for operation in reversed(facts.plan.operations):
        follows = min(way.minutes for way in operation.alternatives)
        for before in operation.after:
            minute = due[operation.key] - follows
            due[before] = min(minute, due.get(before, minute))
    numbers = {one.key: number for number, one in enumerate(facts.plan.operations)}
    return {key: (due[key], number) for key, number in numbers.items()}


def _finals(facts: Facts) -> Mapping[str, str]:
    """The operation with which each line is complete: what nothing of its own waits for."""
    finals: dict[str, str] = {}
    for lot in facts.plan.lots:
        operations = facts.of_lot(lot.key)
        for line in lot.lines:
            own = [one for one in operations if one.line == line]
            own = own or [one for one in operations if one.line is None]
            before = {key for one in own for key in one.after}
            (finals[line],) = (one.key for one in own if one.key not in before)
    return finals
