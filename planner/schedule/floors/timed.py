"""Floor of changeover minutes among schedules that are late by no more than a limit.

The program of the shop in periods that end when operations must have ended (`program`), at the
least changeover minutes.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace

from planner.schedule.compiled import Compiled
from planner.schedule.floors.alone import times_alone
from planner.schedule.floors.groups import BaseGroup, base_groups
from planner.schedule.floors.people import Staff, staffs
from planner.schedule.floors.program import Frame, Program, minutes_of
from planner.schedule.floors.windows import Clock, latest_ends, period_ends

PERIODS = 6
BUSY = 0.4
"""People whose hours are asked for less than this are left out."""
LOOSE = 0.45
"""Where nothing is busier than this so much can be done ahead that no due date counts."""
NEARLY = 0.8
"""People drive the program if they are so nearly as busy as the busiest group: they do more."""


def timed_minutes(compiled: Compiled, within: int, always: Sequence[int], pivots: int) -> int:
    """Changeover minutes of every schedule that is late by at most `within` and violates nothing.

    `always` are the floors of the groups in all schedules, `pivots` the simplex steps to spend.
    """
    groups = base_groups(compiled)
    if not any(always):
        return 0
    most, _ = busiest(compiled, groups, latest_ends(compiled, within), always)
    if most.load < LOOSE:
        return 0
    return Timed(compiled, groups, within, always).floor(pivots)


class Timed(Program):
    """The program of one shop at the least changeover minutes."""

    def __init__(
        self,
        compiled: Compiled,
        groups: Sequence[BaseGroup],
        within: int,
        always: Sequence[int],
    ) -> None:
        super().__init__(compiled, a_frame(compiled, groups, within, always))
        pairs = list(zip(groups, always, strict=True))
        every = [self.visit(group) if floor else None for group, floor in pairs]
        for visits, floor in zip(every, always, strict=True):
            if visits is not None:
                more = self.linear.column(floor, 1)
                self.linear.at_least([*(t for t in visits.total if t[1]), (more, 1)], floor)
        self.fit(every)


def a_frame(
    compiled: Compiled, groups: Sequence[BaseGroup], within: int, always: Sequence[int]
) -> Frame:
    """Periods that end when the drivers' operations must have ended."""
    _, earliest = times_alone(compiled)
    latest = latest_ends(compiled, within)
    most, people = busiest(compiled, groups, latest, always)
    ends = period_ends([latest[i] for group in most.drivers for i in group.operations], PERIODS)
    last = max(latest[i] for group in groups for i in group.operations)
    return Frame(tuple(groups), most.drivers, people, earliest, latest, [*ends[:-1], last])


@dataclass(frozen=True, slots=True)
class Busiest:
    """What is asked for most, in minutes of work and of changeovers, and when it is there."""

    drivers: tuple[BaseGroup, ...]
    """The group itself, or all groups where the people work."""
    minutes: int
    clock: Clock
    load: float
    """The greatest share of its minutes that must have been worked by some latest end."""


def busiest(
    compiled: Compiled, groups: Sequence[BaseGroup], latest: Sequence[int], always: Sequence[int]
) -> tuple[Busiest, tuple[Staff, ...]]:
    """The busiest group or the busiest people, and all people who may be short."""

    def of(
        drivers: tuple[BaseGroup, ...], work: Mapping[int, int], changes: int, clock: Clock
    ) -> Busiest:
        total = sum(work.values()) + changes
        share = _load(((latest[i], minutes) for i, minutes in work.items()), clock)
        return Busiest(drivers, total, clock, share * total / max(1, total - changes))

    found: list[Busiest] = []
    for group, floor in zip(groups, always, strict=True):
        work = {i: minutes_of(compiled, i) for i in group.operations}
        found.append(of((group,), work, floor, Clock.of(compiled, group)))
    people: list[Staff] = []
    for staff in staffs(compiled, groups):
        where = tuple(g for g in groups if any(i in staff.work for i in g.operations))
        each = of(where, staff.work, staff.changes(always), staff.clock)
        found.append(replace(each, load=each.load / NEARLY))
        if each.load > BUSY:
            people.append(staff)
    return max(found, key=lambda each: each.load), tuple(people)


def _load(work: Iterable[tuple[int, int]], clock: Clock) -> float:
    """The greatest share of its minutes that must have been worked by some latest end."""
    done, most = 0, 0.0
    for end, minutes in sorted(work):
        done += minutes
        most = max(most, done / max(1, clock.until(end)))
    return most
