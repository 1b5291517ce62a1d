"""Who may do work together, and when: calendars of stations and of the people at them."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from itertools import combinations

from planner.schedule.calendar import Calendar, make_calendar
from planner.schedule.problem import Alternative, Hours, Problem, Station

People = tuple[int, ...]
"""The numbers of none, one or two people."""


@dataclass(frozen=True, slots=True)
class Crew:
    """The people who do it together (none, one or two) and their common hours there."""

    people: People
    calendar: int


class Calendars:
    """The hours that stations and people have in common, each calendar once.

    Hours that a shop has had `before` are not worked out again.
    """

    def __init__(self, problem: Problem, before: Calendars | None = None) -> None:
        self._horizon = problem.horizon_min
        self._kinds: dict[Hours, int] = {} if before is None else before._kinds
        self._made: dict[tuple[int, ...], Calendar] = {} if before is None else before._made
        self._stations = {each.key: self._kind(each.hours) for each in problem.stations}
        self._people = [self._kind(each.hours) for each in problem.people]
        self._hours = list(self._kinds)
        self.found: list[Calendar] = []
        """Those asked for so far, by number."""
        self._number: dict[Calendar, int] = {}
        self._of: dict[tuple[str, People], int] = {}

    def of(self, station: str, people: People) -> int:
        """The number of the calendar of a station with some people at it."""
        key = station, people
        if key not in self._of:
            kinds = sorted((self._stations[station], *(self._people[p] for p in people)))
            calendar = self._common(tuple(kinds))
            if calendar not in self._number:
                self._number[calendar] = len(self.found)
                self.found.append(calendar)
            self._of[key] = self._number[calendar]
        return self._of[key]

    def _kind(self, hours: Hours) -> int:
        return self._kinds.setdefault(hours, len(self._kinds))

    def _common(self, kinds: tuple[int, ...]) -> Calendar:
        if kinds not in self._made:
            hours = [self._hours[kind] for kind in kinds]
            self._made[kinds] = make_calendar(hours, self._horizon)
        return self._made[kinds]


class Staffing:
    """Who may do what: all crews for each way of doing it, worked out once."""

    def __init__(self, problem: Problem) -> None:
        self.calendars = Calendars(problem)
        self._problem = problem
        self._people: Mapping[str, int] = {p.key: i for i, p in enumerate(problem.people)}
        self._able: dict[tuple[str, int, tuple[str, ...]], tuple[People, ...]] = {}
        self._crews: dict[tuple[str, tuple[People, ...]], tuple[Crew, ...]] = {}

    def able(self, station: Station, alternative: Alternative) -> tuple[People, ...]:
        """Everybody who may do it together; nobody at all where the problem names no people."""
        size = alternative.crew if self._problem.people else 0
        key = station.key, size, alternative.who if size else ()
        if key not in self._able:
            people = [
                self._people[person.key]
                for person in self._problem.people
                if station.key in person.stations
                and (not alternative.who or person.key in alternative.who)
            ]
            self._able[key] = tuple(combinations(people, size))
        return self._able[key]

    def crews(self, station: str, able: tuple[People, ...]) -> tuple[Crew, ...]:
        """Those of them who have hours in common there before the horizon."""
        key = station, able
        if key not in self._crews:
            each = (Crew(people, self.calendars.of(station, people)) for people in able)
            self._crews[key] = tuple(crew for crew in each if not crew.people or self._ever(crew))
        return self._crews[key]

    def _ever(self, crew: Crew) -> bool:
        horizon = self._problem.horizon_min
        return horizon is None or self.calendars.found[crew.calendar].starts[0] < horizon
