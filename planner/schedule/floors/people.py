"""People as capacity: sets of people without whom some work cannot be attended.

A set of people stands at an attended minute with at least as many as any crew has of them that may
do the work. All these minutes, and those of changeovers, lie in hours of theirs, nobody twice at
once. What is fixed counts no minutes, and no changeover before it.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass

from planner.schedule.compiled import NOWHERE, Compiled
from planner.schedule.crews import Crew
from planner.schedule.floors.groups import BaseGroup
from planner.schedule.floors.windows import Clock

MOST_SETS = 40
"""So many sets of people are looked at: those who can do one thing, and then joined ones."""


@dataclass(frozen=True, slots=True)
class Staff:
    """Some of the people, and how many minutes of theirs each operation takes at least."""

    people: frozenset[int]
    work: Mapping[int, int]
    changing: tuple[int, ...]
    """For each group of bases how many of them stand at least at each minute of a changeover."""
    clock: Clock

    def changes(self, minutes: Sequence[int]) -> int:
        """Their minutes of changeovers, where the groups have so many."""
        return sum(each * many for each, many in zip(minutes, self.changing, strict=True))


def staffs(compiled: Compiled, groups: Sequence[BaseGroup]) -> tuple[Staff, ...]:
    """The sets of people that have something to do that others cannot do."""
    found = (_staff(compiled, groups, people) for people in _sets(compiled))
    return tuple(staff for staff in found if staff.work)


def _sets(compiled: Compiled) -> list[frozenset[int]]:
    """Everybody who may attend a mode, and unions of such sets."""
    able = {
        frozenset(p for crew in mode.crews for p in crew.people): None
        for mode in compiled.modes
        if mode.base != NOWHERE
    }
    able.pop(frozenset(), None)
    found: dict[frozenset[int], None] = {}
    for each in able:
        for other in (frozenset[int](), *list(found)):
            found[each | other] = None
    return [*able, *(each for each in found if each not in able)][:MOST_SETS]


def _staff(compiled: Compiled, groups: Sequence[BaseGroup], people: frozenset[int]) -> Staff:
    by_crews = {id(crews): _least(crews, people) for crews in _crews(compiled)}
    least = [by_crews[id(mode.crews)] for mode in compiled.modes]
    work = {
        i: minutes
        for i, op in enumerate(compiled.ops)
        if op.fixed_start < 0
        and not op.done
        and (minutes := min(least[m] * compiled.modes[m].attended for m in op.modes))
    }
    at: dict[int, int] = {}
    for mode, standing in zip(compiled.modes, least, strict=True):
        if mode.needs and compiled.ops[mode.operation].fixed_start < 0:
            at[mode.base] = min(standing, at.get(mode.base, standing))
    changing = tuple(min(at.get(base, 0) for base in group.bases) for group in groups)
    return Staff(people, work, changing, _clock(compiled, people))


def _crews(compiled: Compiled) -> Iterable[tuple[Crew, ...]]:
    """Who may do each mode, those of several modes once."""
    return {id(mode.crews): mode.crews for mode in compiled.modes}.values()


def _least(crews: tuple[Crew, ...], people: frozenset[int]) -> int:
    return min((sum(p in people for p in crew.people) for crew in crews), default=0)


def _clock(compiled: Compiled, people: frozenset[int]) -> Clock:
    """A person works in the hours of any crew that they may be in."""
    calendars: dict[int, set[int]] = {person: set() for person in people}
    for crews in _crews(compiled):
        for crew in crews:
            for person in crew.people:
                if person in calendars:
                    calendars[person].add(crew.calendar)
    return Clock.over(
        (compiled.people_free[person], [compiled.calendars[n] for n in sorted(numbers)])
        for person, numbers in sorted(calendars.items())
    )
