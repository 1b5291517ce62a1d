"""Plant a violation in a valid plan, and see what the audit says."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from planner.audit import audit
from planner.orders import Step
from planner.records import Operation, Plan, Slot, Stick
from tests.audit.weeks import a_plan

Change = Callable[[Any], Any] | object
"""A value, or a function of the record that is changed."""


def edited(plan: Plan, part: str, which: Callable[[Any], bool], **changes: Change) -> Plan:
    """The plan with fields of one kind of record changed where `which` holds.

    A change may be a value or a function of the record.
    """
    records = getattr(plan, part)
    assert any(map(which, records)), f"nothing to edit in {part}"
    return plan.model_copy(
        update={part: tuple(_changed(one, changes) if which(one) else one for one in records)}
    )


def _changed(record: Any, changes: dict[str, Change]) -> Any:
    update = {name: value(record) if callable(value) else value for name, value in changes.items()}
    return record.model_copy(update=update)


def with_slot(operation: str, **changes: Change) -> Plan:
    return edited(a_plan(), "slots", lambda slot: slot.operation == operation, **changes)


def with_operation(key: str, **changes: Change) -> Plan:
    return edited(a_plan(), "operations", lambda operation: operation.key == key, **changes)


def with_ways(key: str, **changes: Change) -> Plan:
    """Every alternative of an operation changed."""

    def ways(operation: Operation) -> tuple[Any, ...]:
        return tuple(_changed(way, changes) for way in operation.alternatives)

    return with_operation(key, alternatives=ways)


def with_stick(tag: str, /, **changes: Change) -> Plan:
    def sticks(cut_list: Any) -> tuple[Stick, ...]:
        return tuple(
            _changed(stick, changes) if stick.tag == tag else stick for stick in cut_list.sticks
        )

    return edited(
        a_plan(), "cut_lists", lambda c: tag in {stick.tag for stick in c.sticks}, sticks=sticks
    )


def with_line(key: str, **changes: Change) -> Plan:
    return edited(a_plan(), "orders", lambda line: line.key == key, **changes)


def with_blank(key: str, **changes: Change) -> Plan:
    return edited(a_plan(), "blanks", lambda blank: blank.line == key, **changes)


def with_lot(key: str, **changes: Change) -> Plan:
    return edited(a_plan(), "lots", lambda lot: lot.key == key, **changes)


def with_stock(key: str, **changes: Change) -> Plan:
    return edited(a_plan(), "stock", lambda item: item.key == key, **changes)


def with_shop(**changes: Change) -> Plan:
    shop = a_plan().shop.model_copy(update=changes)
    return a_plan().model_copy(update={"shop": shop})


def slot_of(operation: str) -> Slot:
    return next(s for s in a_plan().slots if s.operation == operation)


def lot_of(line: str) -> str:
    """Key of the lot that an order line travels in."""
    return next(lot.key for lot in a_plan().lots if line in lot.lines)


def operation_of(line: str, step: Step, number: int = 1) -> str:
    """Key of an operation that an order line goes through, the first of its kind or another."""
    lot = lot_of(line)
    found = [
        operation.key
        for operation in a_plan().operations
        if operation.lot == lot and operation.step == step and operation.line in (None, line)
    ]
    return found[number - 1]


def stick_of(line: str, which: Callable[[Stick], bool] = lambda _: True) -> Stick:
    """A stick from which a piece of the order line is cut."""
    return next(
        stick
        for cut_list in a_plan().cut_lists
        for stick in cut_list.sticks
        if any(piece.line == line for piece in stick.pieces) and which(stick)
    )


def breaches(plan: Plan, invariant: int) -> str:
    """What the audit says about one invariant, a line for each breach."""
    start = f"Invariant {invariant}: "
    found = (finding.message for finding in audit(plan))
    return "\n".join(text.removeprefix(start) for text in found if text.startswith(start))
