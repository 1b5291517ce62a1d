"""A changeover does not split, so some stretch of a shift must hold it.

Only what the work needs counts: the first time that something is mounted, it is changed to from
what stands there at the start or from something else that the work mounts, and the shortest of
these changes must fit. Work is refused only where all its alternatives need what cannot be mounted.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator, Mapping

from planner.schedule.calendar import FAR_MIN, make_calendar
from planner.schedule.problem import Alternative, Base, Operation, Problem, Rule, Station

Value = tuple[str, str, str]
"""A base, an attribute, and what is mounted."""


def find_no_room(problem: Problem) -> Iterator[tuple[str, str]]:
    """Stations, and in a sentence the longest change of an attribute that has no room there."""
    if problem.horizon_min is None:
        return
    longest = {station.key: _longest(station, problem.horizon_min) for station in problem.stations}
    stuck = _stuck(problem, longest)
    worst: dict[tuple[str, str], int] = {}
    for op in problem.operations if stuck else ():
        ways = [
            [(way.station, value) for value in _values(problem, op, way) if value in stuck]
            for way in op.alternatives
        ]
        if op.fixed is None and ways and all(ways):
            for station, value in (found for way in ways for found in way):
                place = station, value[1]
                worst[place] = max(worst.get(place, 0), stuck[value])
    for (station, attribute), minutes in worst.items():
        yield (
            station,
            f"changing {attribute} on {station} takes {minutes} min, but its longest stretch "
            f"without a break is {longest[station]} min; lengthen a shift or shorten the "
            "changeover",
        )


def _longest(station: Station, horizon_min: int) -> int:
    if station.hours is None:
        return FAR_MIN
    return make_calendar([station.hours], horizon_min).longest(horizon_min)


def _stuck(problem: Problem, longest: Mapping[str, int]) -> dict[Value, int]:
    """What no station can mount within a stretch of its hours, and the minutes it takes."""
    stations: dict[Value, set[str]] = defaultdict(set)
    given: set[Value] = set()
    for op in problem.operations:
        for way in op.alternatives if not (op.fixed and op.fixed.done) else ():
            for value in _values(problem, op, way):
                stations[value].add(way.station)
                if op.fixed and op.fixed.station == way.station:
                    given.add(value)
    mounted: dict[tuple[str, str], set[str]] = defaultdict(set)
    for base, attribute, name in stations:
        mounted[base, attribute].add(name)
    rules = {
        (base.key, rule.attribute): (base, rule) for base in problem.bases for rule in base.rules
    }
    found: dict[Value, int] = {}
    for value, able in stations.items():
        if value[:2] in rules and value not in given:
            minutes = _least(*rules[value[:2]], value[2], mounted[value[:2]] - {value[2]})
            if minutes > max(longest[station] for station in able):
                found[value] = minutes
    return found


def _least(base: Base, rule: Rule, after: str, others: set[str]) -> int:
    """Minutes of the shortest change to `after` when it is first mounted."""
    at_start = base.mounted.get(rule.attribute)
    if at_start is None:
        first = rule.minutes if rule.from_nothing is None else rule.from_nothing
    else:
        first = rule.from_to.get((at_start, after), 0 if at_start == after else rule.minutes)
    return min([first, *(rule.from_to.get((other, after), rule.minutes) for other in others)])


def _values(problem: Problem, op: Operation, way: Alternative) -> Iterator[Value]:
    """What one alternative needs mounted; nothing at an unlimited station."""
    for station in problem.stations:
        if station.key == way.station and not station.unlimited:
            for attribute, name in {**station.needs, **op.needs, **way.needs}.items():
                yield station.base_key, attribute, name
