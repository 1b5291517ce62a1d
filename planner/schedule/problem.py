"""What the run-order engine is asked: a frozen, unit-agnostic `Problem`.

Times are whole minutes from a zero that the caller chooses (a Monday 00:00, say). The same
problem describes a tube shop's fortnight and a published single-machine set-up problem:

>>> from planner.schedule.problem import *
>>> shop = Problem(
...     bases=(Base("finisher", rules=(Rule("od", 20), Rule("belt", 5))),),
...     stations=(Station("finisher"), Station("saw", unlimited=True)),
...     operations=(
...         Operation("a1", (Alternative("finisher", 30),), needs={"od": "38.1", "belt": "P80"}),
...         Operation("a2", (Alternative("saw", 10),)),
...     ),
...     arcs=(Arc("a1", "a2"),),
...     jobs=(Job("a", due_min=480, finals=("a2",)),),
... )

What each part means is written at its class. `planner.schedule.validate.check` lists all that is
wrong with a problem at once.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from enum import StrEnum

__all__ = [
    "LEXICOGRAPHIC",
    "Alternative",
    "Arc",
    "Base",
    "Combine",
    "Fixed",
    "Interval",
    "Issued",
    "Job",
    "Levels",
    "Operation",
    "Person",
    "Problem",
    "Rule",
    "Station",
    "Term",
]


@dataclass(frozen=True, slots=True)
class Interval:
    """Working minutes from `start_min` up to, not including, `end_min`.

    `overtime_price` marks overtime that may be used: what each minute worked in it counts in
    the objective's overtime term. 0 means usual hours.
    """

    start_min: int
    end_min: int
    overtime_price: int = 0


Hours = tuple[Interval, ...] | None
"""Disjoint intervals in rising order; None means always."""


class Combine(StrEnum):
    """How the minutes of several attributes that change at once add up to one changeover."""

    SUM = "sum"
    """One person does one after the other."""
    LONGEST = "longest"
    """All are done at the same time."""


@dataclass(frozen=True, slots=True)
class Rule:
    """Minutes to change one attribute of what is mounted.

    `from_to[a, b]` overrides `minutes` for one change and may be given for a = b too; keeping
    the same value is otherwise free. `from_nothing` is the change from an unknown or empty
    state, `minutes` when None. A full operation-to-operation matrix is one rule over an
    attribute whose value is different for each operation.
    """

    attribute: str
    minutes: int
    from_to: Mapping[tuple[str, str], int] = field(default_factory=dict[tuple[str, str], int])
    from_nothing: int | None = None


@dataclass(frozen=True, slots=True)
class Base:
    """What stations stand on: it does one thing at a time and remembers what is mounted.

    The mounted state is one value for each rule's attribute. An operation changes only the
    attributes that it needs; the others stay, so that what was set up under another
    attachment is still there when that attachment comes back.
    """

    key: str
    rules: tuple[Rule, ...] = ()
    combine: Combine = Combine.SUM
    mounted: Mapping[str, str] = field(default_factory=dict[str, str])
    """What is mounted at the start; an attribute that is missing is unknown."""
    free_from_min: int = 0
    """When it can be used first: now, when the week is planned again in the middle."""


@dataclass(frozen=True, slots=True)
class Station:
    """Where an operation is done. Stations with the same `base` exclude each other.

    Without `base` the base of the same key is used, or a plain one without changeovers when
    there is none. `needs` are the attributes that every operation here needs, such as
    `{"attachment": "notcher"}`. An `unlimited` station does any number of things at once
    (an outside process, a cooling rack) and has no changeovers, people or hours.
    """

    key: str
    base: str | None = None
    hours: Hours = None
    needs: Mapping[str, str] = field(default_factory=dict[str, str])
    unlimited: bool = False

    @property
    def base_key(self) -> str:
        """Key of the base that it stands on."""
        return self.key if self.base is None else self.base


@dataclass(frozen=True, slots=True)
class Person:
    """Somebody who may run the named stations during the hours given."""

    key: str
    stations: tuple[str, ...]
    hours: Hours = None
    free_from_min: int = 0


@dataclass(frozen=True, slots=True)
class Alternative:
    """One way to do an operation: a station, how long, how many people, what must be mounted.

    `crew` people are needed from the start of the changeover until `attended_min` minutes of
    the run are done (all of it when None): a saw on automatic feed has a small `attended_min`.
    `who`, if given, narrows the choice to these people. Where the problem names no people,
    everyone is taken to be there and `crew` means nothing.
    """

    station: str
    duration_min: int
    crew: int = 1
    who: tuple[str, ...] = ()
    attended_min: int | None = None
    needs: Mapping[str, str] = field(default_factory=dict[str, str])


@dataclass(frozen=True, slots=True)
class Fixed:
    """Times that the search must not touch: locked, started or done work.

    `done` work takes no station, changes no mounted state and only tells its successors when
    it ended. Otherwise the run occupies the station and `people` from `start_min` to
    `end_min`, and the changeover that it needs lies right before it.
    """

    start_min: int
    end_min: int
    station: str
    people: tuple[str, ...] = ()
    done: bool = False


@dataclass(frozen=True, slots=True)
class Issued:
    """Where the floor has been told to expect the operation, and what moving it costs.

    `charge` counts in the disturbance term when the station or the start changes, and one
    more for each whole hour of shift.
    """

    station: str
    start_min: int
    charge: int = 30
    begin_min: int | None = None
    """When its changeover was to begin, if that is known; `start_min` is that of the run."""


@dataclass(frozen=True, slots=True)
class Operation:
    """One pass, saw, notch or bend step.

    `needs` holds for every alternative; an alternative's own needs and its station's are
    added. The run starts at or after `release_min` (the changeover may be done before) and
    should end by `latest_end_min`. It pauses over breaks only if `may_pause`.
    """

    key: str
    alternatives: tuple[Alternative, ...]
    needs: Mapping[str, str] = field(default_factory=dict[str, str])
    release_min: int = 0
    latest_end_min: int | None = None
    may_pause: bool = True
    fixed: Fixed | None = None
    issued: Issued | None = None
    name: str = ""
    """What messages call it, if not by its key."""

    @property
    def called(self) -> str:
        """Its name in a sentence."""
        return self.name or f"operation {self.key}"


@dataclass(frozen=True, slots=True)
class Arc:
    """`after` starts at least `lag_min` minutes after the end (or the start) of `before`.

    `holding` is what each minute between the end of `before` and the start of `after` counts
    in the holding term: finished tube that lies about gets scratched.
    """

    before: str
    after: str
    lag_min: int = 0
    from_start: bool = False
    holding: int = 0


@dataclass(frozen=True, slots=True)
class Job:
    """One order line: complete when all of `finals` are, late by the minutes after `due_min`."""

    key: str
    due_min: int
    finals: tuple[str, ...]
    weight: int = 1
    spare_min: int = 0
    """Time to spare that is wanted before it is due."""
    aim_min: int | None = None
    """When it should be complete for that, `spare_min` before `due_min` if None; earlier where a
    night or a break lies between. From here on its time to spare is spent."""

    @property
    def aim(self) -> int:
        """When it should be complete to have its time to spare."""
        return self.due_min - self.spare_min if self.aim_min is None else self.aim_min


class Term(StrEnum):
    """What a schedule is judged by, each a whole number that is better when smaller."""

    VIOLATION = "violation"
    """Minutes by which fixed times and latest ends are missed; a usable plan has none."""
    LATENESS = "lateness"
    """Minutes late of each job times its weight."""
    CHANGEOVER = "changeover"
    """Minutes of changeover on all bases."""
    OVERTIME = "overtime"
    """Minutes worked in overtime times their price."""
    DISTURBANCE = "disturbance"
    """Charges for issued operations that were moved."""
    HOLDING = "holding"
    """Minutes that work waits between two operations times the arc's holding."""
    COMPLETION = "completion"
    """Completion times of all jobs, added up."""
    TIGHTNESS = "tightness"
    """What each job has spent of its time to spare: the square of the share, so that the last
    minutes weigh most, in per cent, times its weight."""


Levels = tuple[Mapping[Term, int], ...]
"""Most important first: each level is a weighted sum of terms, compared before the next."""

TIGHT = 60
"""Minutes of holding or completion that one of tightness counts in the last level."""
LEXICOGRAPHIC: Levels = (
    {Term.VIOLATION: 1},
    {Term.LATENESS: 1},
    {Term.CHANGEOVER: 1, Term.OVERTIME: 1, Term.DISTURBANCE: 1},
    {Term.TIGHTNESS: TIGHT, Term.HOLDING: 1, Term.COMPLETION: 1},
)


@dataclass(frozen=True, slots=True)
class Problem:
    """Everything that a run order depends on; see the module's docstring for an example."""

    stations: tuple[Station, ...]
    operations: tuple[Operation, ...]
    """In the order in which the work was entered."""
    bases: tuple[Base, ...] = ()
    arcs: tuple[Arc, ...] = ()
    jobs: tuple[Job, ...] = ()
    people: tuple[Person, ...] = ()
    horizon_min: int | None = None
    """Where the hours given end; None when no hours are given at all. A plan ends before it."""
    levels: Levels = LEXICOGRAPHIC
