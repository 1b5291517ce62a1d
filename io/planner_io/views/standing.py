"""What stands and what moved when a week is planned again."""

from __future__ import annotations

from dataclasses import dataclass

from planner.held import HeldWhy, IssuedAt, Moved, Paused
from planner.hours import when_minute
from planner.tube import TubeSpec
from planner_io.views import words
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
    if part:
        return f"{_stood(index, part)}{f', {_WORDS[held.why]}' if held else ''}"
    if held is None:
        return ""
    pieces = f", {held.pieces} done" if held.pieces is not None else ""
    return f"{_WORDS[held.why]}{pieces}"


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
