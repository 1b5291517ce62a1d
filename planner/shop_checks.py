"""What in the sheets of a shop cannot be meant or cannot work, whatever is ordered."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date, timedelta
from itertools import combinations

from planner.changeovers import is_longest
from planner.errors import Finding, Severity
from planner.hours import SHOP, WEEKDAYS, Interval, clock, common, working
from planner.shop import HoursKind, HoursRow, Shop, Station, What

WEEK = date(1900, 1, 1)
"""A Monday of a week that no row of a date is for."""


def check_shop(shop: Shop) -> tuple[Finding, ...]:
    """Hours that cannot be meant, changeovers that no stretch of them holds, and odd speeds."""
    return (
        *_unknown_names(shop),
        *_backward_rows(shop),
        *_double_hours(shop),
        *_without_hours(shop),
        *_without_people(shop),
        *_without_room(shop),
        *_free_changes(shop),
        *_belt_speeds(shop),
    )


def _free_changes(shop: Shop) -> Iterator[Finding]:
    """Changes that take minutes at one station and none at another of its kind.

    Without minutes all work is best put there, which is hardly meant.
    """
    for station in shop.stations:
        timed = _timed(shop, station)
        for other in shop.stations:
            free = [what.value for what in What if what in _timed(shop, other) - timed]
            if other.kind is station.kind and free:
                text = (
                    f"Changes of {', '.join(free)} at {station.name} count as no minutes, as the "
                    f"sheet Changeovers has them for {other.name} and not for {station.name}: add "
                    f"rows for {station.name}."
                )
                yield Finding(
                    severity=Severity.WARNING,
                    message=text,
                    sheet="Changeovers",
                    subject=station.name,
                )
                break


def _timed(shop: Shop, station: Station) -> set[What]:
    """What takes minutes to change at a station, but for a swap of attachments."""
    names = (station.name, station.base, station.kind)
    rows = (row for row in shop.changeovers if row.station in names and row.minutes)
    return {row.what for row in rows} - {What.ATTACHMENT}


SLOWEST_BELT_M_MIN, FASTEST_BELT_M_MIN = 760, 1830
"""Usual speeds of abrasive belts and wheels: 2,500 to 6,000 ft/min (Groover, *Fundamentals of
Modern Manufacturing*, §24.1.4)."""


def _belt_speeds(shop: Shop) -> Iterator[Finding]:
    """Speeds that are more likely in feet a minute, or metres a second."""
    for wheels in shop.wheels:
        speed = wheels.belt_speed_m_min
        if speed and not SLOWEST_BELT_M_MIN <= speed <= FASTEST_BELT_M_MIN:
            text = (
                f"The belt of {wheels.station} at {speed:g} m/min is outside the usual "
                f"{SLOWEST_BELT_M_MIN} to {FASTEST_BELT_M_MIN:,} m/min (2,500 to 6,000 ft/min): "
                "give metres a minute, and never run a belt or a wheel faster than is marked on it."
            )
            yield Finding(
                severity=Severity.WARNING, message=text, sheet="Wheels", subject=wheels.station
            )


def _when(row: HoursRow) -> str:
    if row.day is not None:
        return row.day.isoformat()
    return WEEKDAYS[row.weekday] if row.weekday is not None else "no day"


def _finding(row: HoursRow, severity: Severity, message: str) -> Finding:
    return Finding(severity=severity, message=message, sheet="Hours", subject=row.who)


def _unknown_names(shop: Shop) -> Iterator[Finding]:
    known = {SHOP, *(s.name for s in shop.stations), *(p.name for p in shop.people)}
    for row in shop.hours:
        if row.who not in known:
            yield _finding(
                row,
                Severity.ERROR,
                f"Hours of “{row.who}”, who is neither the shop nor a station nor a person: "
                "correct the name.",
            )


def _backward_rows(shop: Shop) -> Iterator[Finding]:
    for row in shop.hours:
        if row.end_min <= row.start_min:
            yield _finding(
                row,
                Severity.ERROR,
                f"Hours of {row.who} on {_when(row)} end at {clock(row.end_min)}, not after "
                f"they begin at {clock(row.start_min)}: correct them, and write a shift that "
                "passes midnight as two rows.",
            )
        elif (row.weekday is None) == (row.day is None):
            yield _finding(
                row,
                Severity.ERROR,
                f"Hours of {row.who} from {clock(row.start_min)} need either a weekday or a "
                "date: give one of them.",
            )


def _double_hours(shop: Shop) -> Iterator[Finding]:
    for index, row in enumerate(shop.hours):
        for other in shop.hours[:index]:
            same = (row.who, row.weekday, row.day) == (other.who, other.weekday, other.day)
            kinds = {row.kind, other.kind}
            overlap = row.start_min < other.end_min and other.start_min < row.end_min
            if same and overlap and kinds == {HoursKind.WORK, HoursKind.OVERTIME}:
                start = max(row.start_min, other.start_min)
                yield _finding(
                    row,
                    Severity.WARNING,
                    f"Overtime of {row.who} on {_when(row)} overlaps ordinary hours from "
                    f"{clock(start)}; they are taken as ordinary: shorten one of them.",
                )


def _without_hours(shop: Shop) -> Iterator[Finding]:
    names = [s.name for s in shop.stations] + [p.name for p in shop.people]
    rows = [row for row in shop.hours if row.start_min < row.end_min]
    opens = (HoursKind.WORK, HoursKind.OVERTIME)
    shop_opens = any(row.who == SHOP and row.kind in opens for row in rows)
    for name in names:
        own = any(row.who == name and row.kind in opens for row in rows)
        if not shop_opens and not own:
            yield Finding(
                severity=Severity.ERROR,
                message=f"{name} never works: give hours for the shop or for {name}.",
                sheet="Hours",
                subject=name,
            )


def _without_people(shop: Shop) -> Iterator[Finding]:
    """In a usual week's ordinary hours some of those who run a station must be there."""
    for station in shop.stations:
        able = [person.name for person in shop.people if station.name in person.stations]
        open_at = _ordinary(shop, station.name)
        if not open_at or not 0 < station.people <= len(able):
            continue
        crews = combinations(able, station.people)
        if not any(common((open_at, *(_ordinary(shop, n) for n in crew))) for crew in crews):
            text = (
                f"In the ordinary hours of {station.name} there are never as many people as it "
                f"needs (it is run by {', '.join(able)}): write their hours under their names, or "
                "correct the station's."
            )
            yield Finding(
                severity=Severity.WARNING, message=text, sheet="Hours", subject=station.name
            )


def _ordinary(shop: Shop, who: str) -> tuple[Interval, ...]:
    return tuple(each for each in working(shop, who, WEEK, 7) if not each.overtime)


def _without_room(shop: Shop) -> Iterator[Finding]:
    """A changeover is not split, so some stretch of the hours must hold it."""
    for station in shop.stations:
        longest = _longest_stretch(shop, station)
        names = (station.name, station.base, station.kind)
        rows = [row for row in shop.changeovers if longest and row.station in names]
        for row in rows:
            if row.minutes > longest:
                yield _no_room(
                    station,
                    Severity.ERROR,
                    f"Changing the {row.what} of {station.name} takes {row.minutes} min",
                    longest,
                )
        worst = {row.what: 0 for row in rows}
        for row in rows:
            worst[row.what] = max(worst[row.what], row.minutes)
        at_once = sum(worst.values())
        if max(worst.values(), default=0) <= longest < at_once and not is_longest(shop, station):
            words = f"All changes of {station.name} one after the other take up to {at_once} min"
            yield _no_room(station, Severity.WARNING, words, longest)


def _no_room(station: Station, severity: Severity, words: str, longest: int) -> Finding:
    text = (
        f"{words}, but its longest stretch without a break, with people, is {longest} min, and a "
        "changeover is not split: lengthen a shift or shorten the changeover."
    )
    return Finding(severity=severity, message=text, sheet="Changeovers", subject=station.name)


def _longest_stretch(shop: Shop, station: Station) -> int:
    """The longest common stretch of a station and as many people as it needs; 0 where they never
    meet."""
    able = [person.name for person in shop.people if station.name in person.stations]
    crews = combinations(able, station.people) if shop.people else [()]
    days = [WEEK, *({row.day - timedelta(days=1) for row in shop.hours if row.day})]
    spans = (
        span
        for crew in crews
        for day in days
        for span in common(
            working(shop, name, day, 8 if day == WEEK else 3) for name in (station.name, *crew)
        )
    )
    return max((end - start for start, end in spans), default=0)
