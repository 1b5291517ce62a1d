"""What a week that is planned again stands on: what stays, what had been issued, what moved.

The record is part of the plan, so that the audit can prove that nothing else moved.
"""

from __future__ import annotations

from enum import StrEnum

from planner.change import Change
from planner.frozen import Frozen
from planner.scrap import Scrap


class HeldWhy(StrEnum):
    """Why an operation stays where it is when a week is planned again."""

    DONE = "done"
    STARTED = "started"
    LOCKED = "locked"
    """It stays where it was issued."""
    PINNED = "pinned"
    """It is put where the planner wants it."""


class Held(Frozen):
    """An operation that planning again left alone: its times, or the span that it must lie in."""

    operation: str
    why: HeldWhy
    station: str = ""
    """Empty: any of its own."""
    people: tuple[str, ...] = ()
    setup_start_min: int
    """Done or started: when its changeover began. Otherwise the changeover lies where it fits."""
    start_min: int
    end_min: int
    exact: bool = True
    """It begins and ends at these minutes; otherwise it lies between them."""
    actual: bool = False
    """The times were recorded on the floor and are not those of the issued plan."""
    pieces: int | None = None
    """Started: how many of its sticks or pieces were done, if that was recorded."""
    note: str = ""


class Paused(Frozen):
    """A run that stood still while other work was put in: a part of it is done, and what is left
    of it is planned as the operation."""

    operation: str
    station: str
    """Where the part was done."""
    people: tuple[str, ...] = ()
    changes: tuple[Change, ...] = ()
    """What was changed for the part."""
    setup_start_min: int
    """When that changeover began."""
    start_min: int
    """When the part began."""
    end_min: int
    """Since when it stands still."""
    left: int
    of: int
    """Of the minutes that all of it takes, `left` in `of` are to come, rounded up to whole ones."""
    pieces: int | None = None
    """How many of its sticks or pieces are done, if that was recorded."""
    note: str = ""


class IssuedAt(Frozen):
    """Where the floor had been told to expect an operation."""

    operation: str
    station: str
    people: tuple[str, ...] = ()
    setup_start_min: int
    start_min: int
    end_min: int


class Moved(Frozen):
    """An issued operation, not yet begun, that is now somewhere else or at another time."""

    operation: str
    before: IssuedAt
    after: IssuedAt


class Replan(Frozen):
    """What planning again started from: what stays, what was issued, and what moved."""

    now_min: int
    """Minute of the plan at which it was made; nothing that is not held begins before."""
    held: tuple[Held, ...]
    issued: tuple[IssuedAt, ...]
    """Every operation of the issued plan that is still there, in the order of the operations."""
    moved: tuple[Moved, ...]
    """In the order of their new times."""
    paused: tuple[Paused, ...] = ()
    """In the order in which they were paused."""
    resumed: tuple[Paused, ...] = ()
    """Parts of runs that had stood still so and went on since, in the same order."""
    scrap: tuple[Scrap, ...] = ()
    """What was lost by then since the week began."""

    @property
    def parts(self) -> tuple[Paused, ...]:
        """All parts that were done before their runs gave way, in the order of time."""
        return tuple(sorted((*self.resumed, *self.paused), key=lambda part: part.start_min))

    @property
    def past(self) -> frozenset[str]:
        """Keys of the operations that were done or had begun."""
        begun = (HeldWhy.DONE, HeldWhy.STARTED)
        return frozenset(held.operation for held in self.held if held.why in begun)
