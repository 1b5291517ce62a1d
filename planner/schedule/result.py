"""What the run-order engine answers: placements, figures, floors and reasons, all frozen."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from enum import StrEnum

from planner.schedule.problem import Term
from planner.stop import Status


class Hold(StrEnum):
    """What kept an operation's run from starting a minute earlier."""

    STATION = "station"
    """The base was still busy with `operation`, or its changeover had to be done first."""
    PREDECESSOR = "predecessor"
    """`operation` of the same lot had not ended, or its lag had not passed."""
    RELEASE = "release"
    """The material is not there earlier."""
    PERSON = "person"
    """`person` was busy with `operation`."""
    HOURS = "hours"
    """The station or its people were not working."""
    FIXED = "fixed"
    """The times were given."""
    NOTHING = "nothing"
    """It starts as early as anything may."""


@dataclass(frozen=True, slots=True)
class Why:
    """Why one operation starts when it does."""

    hold: Hold
    operation: str | None = None
    """The operation that held it, if one did."""
    person: str | None = None


@dataclass(frozen=True, slots=True)
class Placed:
    """One operation in the plan.

    The changeover takes `changeover_min` from `changeover_start_min` on, unbroken; the run works
    exactly in `pieces`, which leave out the breaks.
    """

    operation: str
    station: str
    people: tuple[str, ...]
    changeover_start_min: int
    changeover_min: int
    start_min: int
    end_min: int
    pieces: tuple[tuple[int, int], ...]
    attended_end_min: int
    """When the people are free to leave."""
    why: Why


@dataclass(frozen=True, slots=True)
class Behind:
    """A move that harms nobody: `operation` is done after `behind`, both on one station."""

    operation: str
    behind: str


@dataclass(frozen=True, slots=True)
class Ahead:
    """A move that others pay for: all work of the job goes forward, the first of it in front of
    `before`."""

    before: str
    start_min: int
    """When the first of its work starts there."""
    harmed: tuple[tuple[str, int], ...]
    """Other jobs and the minutes by which each is then late, or later than it was."""


@dataclass(frozen=True, slots=True)
class Overtime:
    """`minutes` more at each of the stations, and for those people who must stay for it."""

    stations: tuple[str, ...]
    minutes: int
    from_min: int
    """When the first of it begins: the end of a shift."""
    daily: bool
    """After the last shift of every day up to the due date, not of one day."""
    people: tuple[str, ...] | None = None
    """Without any one of them it does not help; None where the problem names no people."""


Remedy = Behind | Ahead | Overtime
"""One change, tried, that makes one job on time."""


@dataclass(frozen=True, slots=True)
class LateJob:
    """One job after its due date, what held it, and what would make it on time."""

    job: str
    due_min: int
    end_min: int
    late_min: int
    chain: tuple[str, ...]
    """The critical chain of operations that hold each other, first to last."""
    unavoidable_min: int
    """Minutes late that remain even when the job has the shop to itself."""
    first_late_min: int | None
    """Minutes late that remain when all its work goes before that of other jobs; None where it
    was not tried, or fixed work stands in the way."""
    remedies: tuple[Remedy, ...]
    """Each alone makes it on time."""


@dataclass(frozen=True, slots=True)
class Figures:
    """The terms and the levels of one schedule."""

    terms: Mapping[Term, int]
    levels: tuple[int, ...]


@dataclass(frozen=True, slots=True)
class Floor:
    """A proven lower bound of one term, and the kind of argument that proves it.

    `within`, where it is not None, narrows the claim to schedules whose weighted lateness is at
    most so many minutes.
    """

    term: Term
    value: int
    kind: str
    within: int | None = None

    def holds(self, lateness: int) -> bool:
        """Whether it is claimed of a schedule with so much weighted lateness."""
        return self.within is None or lateness <= self.within


@dataclass(frozen=True, slots=True)
class Progress:
    """How far a search is: share of the budget done, and the best figures so far."""

    done: float
    figures: Figures
    floors: tuple[Floor, ...]


@dataclass(frozen=True, slots=True)
class Result:
    """The best run order found, with what it can claim."""

    status: Status
    figures: Figures
    floors: tuple[Floor, ...]
    """Proven floors, the best of each term first."""
    placed: tuple[Placed, ...]
    """In order of the start of the changeover."""
    late: tuple[LateJob, ...]
    rules: Mapping[str, Figures]
    """The same work ordered by each dispatch rule: as entered, due date, state, ATCS."""
    rule_orders: Mapping[str, tuple[Placed, ...]]
    """Where each dispatch rule places the operations, so that a ledger can compare."""
    iterations: int

    def floor(self, term: Term) -> int:
        """The best proven floor of one term."""
        return max((floor.value for floor in self.floors if floor.term == term), default=0)
