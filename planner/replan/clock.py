"""Working time in the shop, for what happened before now and for what is pinned."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, field
from datetime import date

from planner.hours import DAY_MIN, when_minute, working
from planner.schedule import Interval
from planner.schedule.calendar import Calendar, make_calendar
from planner.shop import Shop


@dataclass(frozen=True)
class Clock:
    """The common hours of a station and its people, each set expanded once."""

    shop: Shop
    start: date
    days: int
    _known: dict[tuple[str, ...], Calendar] = field(default_factory=dict[tuple[str, ...], Calendar])

    def calendar(self, station: str, people: tuple[str, ...] = ()) -> Calendar:
        """Working minutes of a station with these people; who is not of the shop is left out."""
        who = (station, *self.known(people))
        if who not in self._known:
            hours = [
                tuple(
                    Interval(piece.start_min, piece.end_min)
                    for piece in working(self.shop, name, self.start, self.days)
                )
                for name in who
            ]
            self._known[who] = make_calendar(hours, self.days * DAY_MIN)
        return self._known[who]

    def known(self, people: Iterable[str]) -> tuple[str, ...]:
        """Those who are of the shop."""
        names = {person.name for person in self.shop.people}
        return tuple(name for name in people if name in names)

    def there(self, people: Iterable[str], station: str, minute: int) -> tuple[str, ...]:
        """Those of the shop who are not off for the rest of a day on which a station works."""
        known = self.known(people)
        return tuple(name for name in known if not self.is_away(name, station, minute))

    def running(self, station: str, people: tuple[str, ...] = ()) -> Calendar:
        """Working minutes of a run: the people of a station that runs by itself need not stay."""
        return self.calendar(station, people if self.is_attended(station) else ())

    def is_attended(self, station: str) -> bool:
        """Whether people stay for its runs; so it is at a station that the shop has no more."""
        return all(one.is_attended for one in self.shop.stations if one.name == station)

    def is_away(self, person: str, station: str, minute: int) -> bool:
        """Whether a person does not come back on the day on which the station goes on working."""
        back = self.calendar(station, (person,)).fit(minute, 1)
        return back // DAY_MIN > self.calendar(station).fit(minute, 1) // DAY_MIN

    def words(self, minute: int) -> str:
        """A minute as people say it, such as `Wed 2 Dec 10:30`."""
        return when_minute(minute, self.start)


def worked(calendar: Calendar, start: int, end: int) -> int:
    """Working minutes from one minute to another."""
    spans = zip(calendar.starts, calendar.ends, strict=True)
    return sum(max(0, min(end, closes) - max(start, opens)) for opens, closes in spans)
