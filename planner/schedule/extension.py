"""A problem with longer hours: what if some stations worked on after their shifts?"""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Collection, Sequence
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
    longer = _Longer(extras)
    at = tuple(
        replace(each, hours=longer.hours(each.hours)) if each.key in stations else each
        for each in problem.stations
    )
    people = tuple(
        replace(each, hours=longer.hours(each.hours))
        if each.key not in home and runs(each, stations)
        else each
        for each in problem.people
    )
    first = min(extra.start_min for extra in extras)
    return replace(problem, stations=at, people=people), first


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


class _Longer:
    """Hours with some more, worked out once for all who have the same."""

    def __init__(self, extras: Sequence[Interval]) -> None:
        self._extras = extras
        self._known: dict[Hours, Hours] = {None: None}

    def hours(self, usual: Hours) -> Hours:
        if usual not in self._known:
            pieces = list(usual or ())
            for extra in self._extras:
                _add(pieces, extra)
            self._known[usual] = tuple(pieces)
        return self._known[usual]


def _add(pieces: list[Interval], extra: Interval) -> None:
    """Put in one more interval, which gives way where there are hours already."""
    first = last = bisect_right(pieces, extra.start_min, key=lambda each: each.end_min)
    start = extra.start_min
    longer: list[Interval] = []
    while last < len(pieces) and pieces[last].start_min < extra.end_min:
        if start < pieces[last].start_min:
            longer.append(Interval(start, pieces[last].start_min, extra.overtime_price))
        longer.append(pieces[last])
        start = pieces[last].end_min
        last += 1
    if start < extra.end_min:
        longer.append(Interval(start, extra.end_min, extra.overtime_price))
    pieces[first:last] = longer
