"""One gate for problems: everything that is wrong with one, all at once."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Iterator

from planner.errors import Finding, InputError, Severity
from planner.schedule.problem import (
    Alternative,
    Base,
    Hours,
    Operation,
    Person,
    Problem,
    Station,
    Term,
)
from planner.schedule.room import find_no_room

MOST_CREW = 2
MOST_MINUTES = 1 << 28
"""Sums of durations up to this stay far inside the kernel's 32 bits."""


def check(problem: Problem) -> None:
    """Raise an InputError that lists all that is wrong, each with its culprit and the fix."""
    findings = tuple(
        Finding(severity=Severity.ERROR, message=message, subject=subject)
        for part in (_keys, _stations, _operations, _arcs, _jobs, _levels, find_no_room)
        for subject, message in part(problem)
    )
    if findings:
        raise InputError(findings)


Found = Iterator[tuple[str | None, str]]


def _keys(problem: Problem) -> Found:
    named = {
        "station": [each.key for each in problem.stations],
        "operation": [each.key for each in problem.operations],
        "base": [each.key for each in problem.bases],
        "job": [each.key for each in problem.jobs],
        "person": [each.key for each in problem.people],
    }
    for kind, keys in named.items():
        for key, times in Counter(keys).items():
            if times > 1:
                yield key, f"{kind} {key} is given {times} times; give each {kind} a key of its own"
    if not problem.operations:
        yield None, "there are no operations to put in order; give at least one"


def _hours(owner: str, hours: Hours, horizon_min: int | None) -> Iterator[str]:
    if hours is None:
        return
    if horizon_min is None:
        yield f"{owner} has hours, but the problem has no horizon; say where the hours end"
    last = 0
    for each in hours:
        if each.start_min < last or each.end_min <= each.start_min:
            yield (
                f"{owner} has the interval {each.start_min}–{each.end_min} min, expected disjoint "
                "intervals in rising order from minute 0 on"
            )
        if each.overtime_price < 0:
            yield f"{owner} has overtime at {each.overtime_price} a minute; expected 0 or more"
        last = max(last, each.end_min)


def _stations(problem: Problem) -> Found:
    bases = {base.key: base for base in problem.bases}
    for station in problem.stations:
        for message in _hours(f"station {station.key}", station.hours, problem.horizon_min):
            yield station.key, message
        if station.base is not None and station.base not in bases:
            yield station.key, f"station {station.key} stands on base {station.base}: no such base"
        yield from _unruled(bases, station, station.needs, f"station {station.key}")
    keys = {station.key for station in problem.stations}
    for person in problem.people:
        for message in _hours(f"person {person.key}", person.hours, problem.horizon_min):
            yield person.key, message
        for missing in sorted(set(person.stations) - keys):
            yield person.key, f"person {person.key} may run {missing}: there is no such station"
    for base in problem.bases:
        yield from _rules(base)


def _rules(base: Base) -> Found:
    known = {rule.attribute for rule in base.rules}
    if len(known) < len(base.rules):
        yield base.key, f"base {base.key} has two rules for one attribute; keep one of them"
    for unknown in sorted(set(base.mounted) - known):
        yield base.key, f"base {base.key} has {unknown} mounted, but no rule for changing it"
    for rule in base.rules:
        minutes = [rule.minutes, rule.from_nothing or 0, *rule.from_to.values()]
        if min(minutes) < 0 or max(minutes) > MOST_MINUTES:
            yield (
                base.key,
                f"changing {rule.attribute} on {base.key} takes {min(minutes)} to {max(minutes)} "
                f"min; expected 0 to {MOST_MINUTES}",
            )


def _unruled(
    bases: dict[str, Base], station: Station, needs: Iterable[str], who: str
) -> Iterator[tuple[str | None, str]]:
    base = bases.get(station.base_key)
    known = {rule.attribute for rule in base.rules} if base else set[str]()
    for attribute in sorted(set(needs) - known):
        yield (
            who,
            f"{who} needs {attribute}, but base {station.base_key} has no rule for changing it; "
            "add a rule (0 minutes if it costs nothing)",
        )


def _operations(problem: Problem) -> Found:
    stations = {station.key: station for station in problem.stations}
    bases = {base.key: base for base in problem.bases}
    people = {person.key: person for person in problem.people}
    total = 0
    for op in problem.operations:
        total += max((a.duration_min for a in op.alternatives), default=0)
        if not op.alternatives and not (op.fixed and op.fixed.done):
            yield op.key, f"operation {op.key} has no station to be done on; give an alternative"
        for alternative in op.alternatives:
            yield from _alternative(op, alternative, stations, bases, people)
        yield from _fixed(op, stations, people)
    if total > MOST_MINUTES:
        yield None, f"the work adds up to {total} min; expected at most {MOST_MINUTES}"


def _alternative(
    op: Operation,
    alternative: Alternative,
    stations: dict[str, Station],
    bases: dict[str, Base],
    people: dict[str, Person],
) -> Found:
    station = stations.get(alternative.station)
    if station is None:
        yield op.key, f"operation {op.key} names station {alternative.station}: there is none"
        return
    if alternative.duration_min < 0 or (alternative.attended_min or 0) < 0:
        yield op.key, f"operation {op.key} takes {alternative.duration_min} min; expected 0 or more"
    if not 0 <= alternative.crew <= MOST_CREW:
        yield op.key, f"operation {op.key} needs {alternative.crew} people; expected 0, 1 or 2"
    for missing in sorted(set(alternative.who) - set(people)):
        yield op.key, f"operation {op.key} names {missing}, who is not among the people"
    if not station.unlimited:
        needs = {**op.needs, **alternative.needs}
        yield from _unruled(bases, station, needs, f"operation {op.key}")


def _fixed(op: Operation, stations: dict[str, Station], people: dict[str, Person]) -> Found:
    if op.fixed is None:
        return
    if op.fixed.end_min < op.fixed.start_min:
        yield op.key, f"operation {op.key} is fixed to end before it starts; swap the times"
    if op.fixed.done:
        return
    if op.fixed.start_min < 0:
        yield op.key, f"operation {op.key} is fixed before minute 0; mark it done or move it"
    if op.fixed.station not in {a.station for a in op.alternatives} & set(stations):
        yield (
            op.key,
            f"operation {op.key} is fixed on {op.fixed.station}, which is not among its "
            "alternatives; add one for it",
        )
    for missing in sorted(set(op.fixed.people) - set(people)):
        yield op.key, f"operation {op.key} is fixed with {missing}, who is not among the people"
    if len(op.fixed.people) > MOST_CREW:
        yield op.key, f"operation {op.key} is fixed with more than {MOST_CREW} people"


def _arcs(problem: Problem) -> Found:
    keys = {op.key for op in problem.operations}
    after: dict[str, list[str]] = {key: [] for key in keys}
    waits = dict.fromkeys(keys, 0)
    for arc in problem.arcs:
        for end in sorted({arc.before, arc.after} - keys):
            yield end, f"an arc {arc.before} → {arc.after} names operation {end}: there is none"
        if arc.holding < 0:
            yield arc.before, f"arc {arc.before} → {arc.after} has a holding below 0"
        if arc.before in keys and arc.after in keys:
            after[arc.before].append(arc.after)
            waits[arc.after] += 1
    ready = [key for key in keys if waits[key] == 0]
    while ready:
        for follower in after[ready.pop()]:
            waits[follower] -= 1
            if waits[follower] == 0:
                ready.append(follower)
    circle = sorted(key for key in keys if waits[key] > 0)
    if circle:
        yield circle[0], f"operations wait for each other in a circle: {', '.join(circle[:6])}"


def _jobs(problem: Problem) -> Found:
    keys = {op.key for op in problem.operations}
    for job in problem.jobs:
        for missing in sorted(set(job.finals) - keys):
            yield job.key, f"job {job.key} ends with operation {missing}: there is no such one"
        if not job.finals:
            yield job.key, f"job {job.key} has no final operation; name at least one"
        if job.weight < 0:
            yield job.key, f"job {job.key} has weight {job.weight}; expected 0 or more"
        if abs(job.due_min) > MOST_MINUTES:
            yield job.key, f"job {job.key} is due at {job.due_min} min, which is out of range"
        if not 0 <= job.spare_min <= MOST_MINUTES:
            yield job.key, f"job {job.key} wants {job.spare_min} min to spare; expected 0 or more"
        elif not -2 * MOST_MINUTES <= job.aim <= job.due_min:
            yield job.key, f"job {job.key} has its aim at {job.aim} min; expected no later than due"


def _levels(problem: Problem) -> Found:
    if not problem.levels:
        yield None, "there is no objective; give at least one level"
    for level in problem.levels:
        for term, weight in level.items():
            if weight < 0:
                yield None, f"the objective counts {Term(term).value} {weight} times; expected ≥ 0"
