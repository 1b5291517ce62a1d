"""A problem with longer hours: what if some stations worked on after their shifts?"""

from __future__ import annotations

from collections.abc import Collection
from dataclasses import replace
from itertools import pairwise

from planner.schedule.calendar import DAY_MIN
from planner.schedule.problem import Hours, Interval, Person, Problem

BREAK_MIN = 240
"""Hours that go on after a longer gap are another shift; a shorter one is a break."""


def extended(
    problem: Problem,
    stations: tuple[str, ...],
    due: int,
    minutes: int,
    *,
    daily: bool,
    home: Collection[str] = (),
) -> tuple[Problem, int] | None:
    """The problem with `minutes` more after shifts that end before `due`, at the stations and
    for everybody who runs one of them and does not go `home`, and when the first begins.

    After the last shift of each day before `due`, or after the last of all; None where there
    is no such shift or it does not end `minutes` before. A break does not end a shift.
    """
    extras: list[Interval] = []
    for each in problem.stations:
        if each.key in stations:
            extras.extend(_extras(each.hours, due, minutes, daily=daily))
    if not extras:
        return None
    longer = tuple(
        replace(each, hours=_with_all(each.hours, extras)) if each.key in stations else each
        for each in problem.stations
    )
    people = tuple(
        replace(each, hours=_with_all(each.hours, extras))
        if each.key not in home and runs(each, stations)
        else each
        for each in problem.people
    )
    first = min(extra.start_min for extra in extras)
    return replace(problem, stations=longer, people=people), first


def runs(person: Person, stations: tuple[str, ...]) -> bool:
    """Whether somebody may run one of the stations."""
    return any(name in person.stations for name in stations)


def _extras(hours: Hours, due: int, minutes: int, *, daily: bool) -> list[Interval]:
    pieces = hours or ()
    goes_on = {a.end_min for a, b in pairwise(pieces) if b.start_min - a.end_min < BREAK_MIN}
    last = {
        piece.start_min // DAY_MIN: piece.end_min
        for piece in pieces
        if piece.end_min not in goes_on and piece.end_min + minutes <= due
    }
    ends = sorted(last.values())
    return [
        Interval(end, end + minutes, overtime_price=1) for end in (ends if daily else ends[-1:])
    ]


def _with_all(hours: Hours, extras: list[Interval]) -> Hours:
    for extra in extras:
        hours = _with(hours, extra)
    return hours


def _with(hours: Hours, extra: Interval) -> Hours:
    """The hours with one more interval, which gives way where there are hours already."""
    if hours is None:
        return None
    start = extra.start_min
    added: list[Interval] = []
    for each in hours:
        if each.end_min <= start or each.start_min >= extra.end_min:
            continue
        if start < each.start_min:
            added.append(Interval(start, each.start_min, extra.overtime_price))
        start = max(start, each.end_min)
    if start < extra.end_min:
        added.append(Interval(start, extra.end_min, extra.overtime_price))
    return tuple(sorted((*hours, *added), key=lambda each: each.start_min))
