"""What a station turned to while a run of it stood still, and since when.

A pause of which nobody wrote the End began when the station turned to the other run, and one whose
End is later than that was written down late: a station does one thing at a time.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from planner.changeovers import changes, setup_minutes
from planner.held import Held
from planner.progress import Progress, State
from planner.records import Operation, Slot
from planner.shop import Shop


@dataclass(frozen=True, slots=True)
class Turn:
    """Another run that was begun, or changed over to, after one that stands still."""

    to: str
    """Key of the other run."""
    begun_min: int
    """When it began."""
    minute: int
    """When the station, or the people, turned to it: its changeover included."""
    here: bool
    """At the same station or base; else the people of the run went to it."""


@dataclass(frozen=True, slots=True)
class _Other:
    """What is known of another run."""

    key: str
    station: str
    people: frozenset[str]
    begun_min: int
    turned_min: int | None
    """When its changeover began, where that is known."""
    runs: bool


@dataclass(frozen=True, slots=True)
class Turns:
    """What is recorded of other runs: by rows, or by the plan that was issued."""

    shop: Shop
    now_min: int
    operations: Mapping[str, Operation]
    issued: Mapping[str, Slot]
    places: Mapping[str, str]
    """The base of each station, or the station itself."""
    told: Mapping[str, Progress]
    recorded: Mapping[str, Held]
    """What the issued plan knew to have begun."""

    def after(self, slot: Slot, row: Progress, start: int) -> Turn | None:
        """The first that was begun at the station of a run, or else with its people, after that
        run began at minute `start`; None where nothing was."""
        station = row.station or slot.station
        others = [one for one in self._others() if one.begun_min > start]
        others = [one for one in others if one.key != slot.operation]
        here = [one for one in others if self.places[one.station] == self.places[station]]
        with_them = [one for one in others if one.runs and one.people.intersection(slot.people)]
        first = min(here or with_them, key=lambda one: (one.begun_min, one.key), default=None)
        if first is None:
            return None
        turned = self._turned(slot.operation, station, first) if here else first.begun_min
        since = turned if turned > start else first.begun_min
        return Turn(first.key, first.begun_min, since, bool(here))

    def _others(self) -> Iterator[_Other]:
        for key, row in self.told.items():
            if row.state is not State.OPEN:
                yield self._of_row(key, row)
        for key, held in self.recorded.items():
            if key not in self.told and key in self.issued:
                people = frozenset(held.people)
                yield _Other(
                    key, held.station, people, held.start_min, held.setup_start_min, runs=False
                )

    def _of_row(self, key: str, row: Progress) -> _Other:
        slot = self.issued[key]
        runs = row.state in (State.STARTED, State.SET_UP)
        begun = self._begun(slot, row)
        turned = begun if row.state is State.SET_UP else None
        people = frozenset(row.people or slot.people)
        return _Other(key, row.station or slot.station, people, begun, turned, runs)

    def _begun(self, slot: Slot, row: Progress) -> int:
        """When it began; where the row does not say, by its end or as issued."""
        if row.start_min is not None:
            return row.start_min
        if row.state is State.DONE and row.end_min is not None:
            return row.end_min - (row.minutes or slot.minutes)
        return min(slot.start_min, self.now_min)

    def _turned(self, before: str, station: str, to: _Other) -> int:
        """When the station began to be changed over from a run to another one."""
        if to.turned_min is not None:
            return to.turned_min
        mounted = self.operations[before].at(station).state
        state = self.operations[to.key].at(to.station).state
        changed = changes(mounted, state, self.shop.station(to.station), self.shop)
        return to.begun_min - setup_minutes(changed)
