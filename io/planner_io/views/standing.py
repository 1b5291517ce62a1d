"""What stands and what moved when a week is planned again."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from planner.changeovers import setup_minutes
from planner.held import HeldWhy, IssuedAt, Moved, Paused
from planner.hours import when_minute
from planner.tube import TubeSpec
from planner_io.views import places, words
from planner_io.views.index import Index
from planner_io.views.ruler import some

_WORDS = {
    HeldWhy.DONE: "done",
    HeldWhy.STARTED: "started",
    HeldWhy.LOCKED: "stays as issued",
    HeldWhy.PINNED: "pinned by the planner",
}


@dataclass(frozen=True)
class MovedRow:
    """An operation that the floor expects elsewhere, or at another time."""

    number: int
    """Its step at the station where it is now."""
    what: str
    spec: TubeSpec
    tube: str
    lot: str
    lines: str
    before: str
    after: str


def stands(index: Index, operation: str) -> str:
    """Why an operation stays where it is: `started, 4 done`; of one that stands still, how far it
    is; empty when it is free."""
    held, part = index.held.get(operation), index.paused.get(operation)
    found = [_stood(index, part)] if part else []
    if held:
        found.append(_WORDS[held.why])
        found += [f"{held.pieces} done"] if held.pieces is not None else []
    first = [_changed(index, each) for each in index.parts.get(operation, ()) if each.changes]
    return "; ".join(filter(None, (", ".join(found), *first)))


def rests(index: Index, operations: Iterable[str]) -> Iterator[str]:
    """Of each of these that stands still, its step and how far it is."""
    for key in operations:
        if key in index.paused:
            yield f"Step {index.step_numbers[key]} {stands(index, key)}."


def part_done(index: Index, part: Paused) -> str:
    """What was done of a run before it gave way, for the list of the day on which it was begun."""
    operation = index.operations[part.operation]
    done = f", {part.pieces} of {places.count(index, operation)}," if part.pieces else ""
    minutes = setup_minutes(part.changes)
    before = f", after a changeover of {minutes} min" if minutes else ""
    start, end = (when_minute(at, index.start) for at in (part.start_min, part.end_min))
    number = index.step_numbers[part.operation]
    return f"Part of step {number}, {operation.lot}{done} was done {start} to {end}{before}."


def _changed(index: Index, part: Paused) -> str:
    """`first changed over to Mon 30 Nov 6:50, 22 min: OD …`: what was changed for a part."""
    changes = ", ".join(words.change(each, index.ruler) for each in part.changes)
    minutes, at = setup_minutes(part.changes), when_minute(part.setup_start_min, index.start)
    return f"first changed over to {at}, {minutes} min: {changes}"


def _stood(index: Index, part: Paused) -> str:
    """`paused Mon 30 Nov 7:30 with 12 done, this is the rest`."""
    done = f" with {part.pieces} done" if part.pieces is not None else ""
    return f"paused {when_minute(part.end_min, index.start)}{done}, this is the rest"


def is_done(index: Index, operation: str) -> bool:
    """Whether an operation was done before the week was planned again."""
    held = index.held.get(operation)
    return held is not None and held.why == HeldWhy.DONE


def was(index: Index, operation: str) -> str:
    """Where the floor had been told to expect it, if it moved since."""
    moved = index.moved.get(operation)
    return f"moved, was {_place(index, moved.before)}" if moved else ""


def moved_rows(index: Index) -> tuple[MovedRow, ...]:
    """Everything that moved since it was issued, in the order of the new times."""
    return tuple(_row(index, moved) for moved in index.moved.values())


def _row(index: Index, moved: Moved) -> MovedRow:
    operation = index.operations[moved.operation]
    spec = index.lots[operation.lot].spec
    return MovedRow(
        number=index.step_numbers[operation.key],
        what=words.step_name(operation),
        spec=spec,
        tube=index.ruler.tube(spec),
        lot=operation.lot,
        lines=some(index.lines_of(operation), 4),
        before=_place(index, moved.before),
        after=_place(index, moved.after),
    )


def _place(index: Index, at: IssuedAt) -> str:
    return f"{at.station} {when_minute(at.start_min, index.start)}"
