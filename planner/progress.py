"""What the floor and the planner say about operations of the plan that was issued."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum

from planner.errors import Finding, Severity


class State(StrEnum):
    """What a row of progress says."""

    DONE = "done"
    STARTED = "started"
    PAUSED = "paused"
    """It has begun and stands still; other work may have been put in."""
    SET_UP = "set-up"
    """Its station is being changed over to it; it has not run."""
    OPEN = "open"
    """It has not begun, whatever the plan expected."""
    LOCK = "lock"
    """It stays where it was issued."""
    PIN = "pin"
    """It goes where the row says."""


TOLD = (State.DONE, State.STARTED, State.PAUSED, State.SET_UP, State.OPEN)
"""States that say what happened; the others say what is wanted."""


@dataclass(frozen=True, slots=True)
class Progress:
    """One row: operations and what is said of them. Minutes are those of the issued plan."""

    operations: tuple[str, ...]
    """One operation, or those of a whole lot."""
    state: State
    start_min: int | None = None
    """When it began, or its set-up where that is all; for a pin when it is to begin."""
    end_min: int | None = None
    """When it ended, or is expected to; for a pause since when it stands still."""
    minutes: int | None = None
    """Done: working minutes that it took, where start or end is not known. Started or paused:
    those that it has worked so far."""
    span: bool = False
    """Pin: anywhere from `start_min` to `end_min`, such as on one day."""
    next: bool = False
    """Pin: the lot's first open operation of these is the next on its station."""
    pieces: int | None = None
    """Started or paused: how many sticks or pieces are done."""
    station: str = ""
    """Where, if not where it was issued."""
    people: tuple[str, ...] = ()
    """Who does it, if not who was to."""
    note: str = ""
    sheet: str | None = None
    cell: str | None = None
    """Where the row was read."""

    def wrong(self, message: str) -> Finding:
        """An error of this row."""
        return self._finding(Severity.ERROR, message)

    def doubt(self, message: str) -> Finding:
        """A warning about this row."""
        return self._finding(Severity.WARNING, message)

    def _finding(self, severity: Severity, message: str) -> Finding:
        return Finding(
            severity=severity,
            message=message,
            sheet=self.sheet,
            cell=self.cell,
            subject=self.operations[0],
        )
