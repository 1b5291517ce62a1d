"""Where the tube of a step goes next, and what the saw makes of it."""

from __future__ import annotations

from planner.hours import clock, when_minute
from planner.orders import Step
from planner.records import Operation
from planner_io.views.index import Index
from planner_io.views.places import counted
from planner_io.views.ruler import day_of

DONE = "done"


def onward(index: Index, operation: Operation) -> str:
    """The step that takes the tube on, when, and the lengths if it is sawn there; `done` after the
    last one. Stations alone where the order lines part, as the cut list says which goes where. At
    the saw the lengths come first, with the cut list that has them."""
    where = _where(index, operation)
    if operation.step != Step.SAW:
        return where
    return f"cut list {operation.lot}: {_cut_into(index, operation.lot)}; then {where}"


def _where(index: Index, operation: Operation) -> str:
    following = [_next(index, operation, line) for line in index.lines_of(operation)]
    first = following[0]
    if any(other != first for other in following):
        return ", ".join(dict.fromkeys(_station(index, each) for each in following))
    if first is None:
        return DONE
    cut = f", cut into {_cut_into(index, first.lot)}" if first.step == Step.SAW else ""
    step = index.step_numbers[first.key]
    return f"{_station(index, first)} step {step}, {_begins(index, operation, first)}{cut}"


def _begins(index: Index, operation: Operation, following: Operation) -> str:
    """When a step begins, with its day unless that is the day of the step before it."""
    before, start = index.slots[operation.key].start_min, index.slots[following.key].start_min
    same_day = day_of(before) == day_of(start)
    return clock(start) if same_day else when_minute(start, index.start)


def _next(index: Index, operation: Operation, line: str) -> Operation | None:
    """The first step of a line that waits for an operation of its lot."""
    waiting = [
        other
        for other in index.operations.values()
        if operation.key in other.after
        and other.lot == operation.lot
        and (other.line is None or other.line == line)
        and other.key in index.slots
    ]
    return min(waiting, key=lambda other: index.slots[other.key].start_min, default=None)


def _station(index: Index, operation: Operation | None) -> str:
    return index.slots[operation.key].station if operation else DONE


def _cut_into(index: Index, lot: str) -> str:
    sticks = index.cut_lists[lot].sticks
    return counted(index, [piece.length_nm for stick in sticks for piece in stick.pieces])
