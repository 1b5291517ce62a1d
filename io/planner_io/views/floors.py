"""What is proven about a plan, in an owner's words: what it comes to, and what could be saved.

A floor counts these lots, stations, people and hours, and no other; that of changeovers counts the
orders of work that are not later than the plan.
"""

from __future__ import annotations

from planner.hours import duration, how_late
from planner.records import Floor, FloorKind
from planner_io.views.index import Index
from planner_io.views.ruler import money


def is_proven(floor: Floor) -> bool:
    """Whether a floor says anything: nothing is ever below zero."""
    return floor.floor > 0 or floor.value == floor.floor


def floors(index: Index) -> tuple[str, ...]:
    """What is proven about the plan, a sentence or two each."""
    currency = index.plan.shop.house.currency
    return tuple(_words(floor, currency) for floor in index.plan.floors)


def _words(floor: Floor, currency: str) -> str:
    value, least, rest = (
        _amount(floor, amount, currency)
        for amount in (floor.value, floor.floor, floor.value - floor.floor)
    )
    match floor.kind:
        case FloorKind.LATENESS:
            return _lateness(floor, value, least, rest)
        case FloorKind.CHANGEOVER:
            return _changeover(floor, value, least, rest)
        case FloorKind.MATERIAL:
            return _material(floor, value, least, rest)


def _amount(floor: Floor, amount: int, currency: str) -> str:
    match floor.kind:
        case FloorKind.LATENESS:
            return how_late(amount)
        case FloorKind.CHANGEOVER:
            return duration(amount)
        case FloorKind.MATERIAL:
            return money(amount, currency)


def _lateness(floor: Floor, value: str, least: str, rest: str) -> str:
    if not floor.value:
        return "Lateness: none."
    said = f"Lateness: {value}, each late minute times the priority of its line."
    if floor.value == floor.floor:
        return f"{said} Whatever the order of work, these lots cannot be less late (proven)."
    if not is_proven(floor):
        return f"{said} How much of it another order of work could save is not known."
    return (
        f"{said} {least} of it cannot be avoided whatever the order of work (proven); another "
        f"order could save {rest} at most."
    )


def _changeover(floor: Floor, value: str, least: str, rest: str) -> str:
    said = f"Changeovers: {value}."
    if floor.value == floor.floor:
        return f"{said} No order of this work that is not later takes less (proven)."
    if not is_proven(floor):
        return f"{said} How much of it another order of work could save is not known."
    return (
        f"{said} Any order of this work that is not later takes {least} at least (proven), so "
        f"another order could save {rest} at most; to save more takes faster changeovers or other "
        "lots."
    )


def _material(floor: Floor, value: str, least: str, rest: str) -> str:
    said = f"Sticks: {value}, with their finishing and less the worth of remnants kept."
    if floor.value == floor.floor:
        return (
            f"{said} No other way to cut these lots from the sticks there are costs less (proven)."
        )
    if not is_proven(floor):
        return f"{said} How much of it a better cut list could save is not known."
    return (
        f"{said} These lots cannot be cut for less than {least} (proven), so better cut lists "
        f"could save {rest} at most."
    )
