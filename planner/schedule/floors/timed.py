"""Floor of changeover minutes among schedules that are late by no more than a limit.

The program of the shop in periods that end when operations must have ended (`program`), at the
least changeover minutes.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence

from planner.schedule.compiled import Compiled
from planner.schedule.floors.alone import times_alone
from planner.schedule.floors.groups import BaseGroup, base_groups
from planner.schedule.floors.people import Staff, staffs
from planner.schedule.floors.program import Frame, Program, minutes_of
from planner.schedule.floors.windows import Clock, latest_ends, period_ends

PERIODS = 6
BUSY = 0.4
"""People whose hours are asked for less than this are left out."""


def timed_minutes(compiled: Compiled, within: int, always: Sequence[int], pivots: int) -> int:
    """Changeover minutes of every schedule that is late by at most `within` and violates nothing.

    `always` are the floors of the groups in all schedules, `pivots` the simplex steps to spend.
    """
    if not any(always):
        return 0
    return Timed(compiled, base_groups(compiled), within, always).floor(pivots)


class Timed(Program):
    """The program of one shop at the least changeover minutes."""

    def __init__(
        self,
        compiled: Compiled,
        groups: Sequence[BaseGroup],
        within: int,
        always: Sequence[int],
    ) -> None:
        super().__init__(compiled, a_frame(compiled, groups, within))
        pairs = list(zip(groups, always, strict=True))
        every = [self.visit(group) if floor else None for group, floor in pairs]
        for visits, floor in zip(every, always, strict=True):
            if visits is not None:
                more = self.linear.column(floor, 1)
                self.linear.at_least([*(t for t in visits.total if t[1]), (more, 1)], floor)
        for group, visits in zip(groups, every, strict=True):
            if group in self.frame.drivers:
                self.room(group, visits)
        for staff in self.frame.staffs:
            self.attend(staff, every)
        self.work()


def a_frame(compiled: Compiled, groups: Sequence[BaseGroup], within: int) -> Frame:
    """Periods that end when the drivers' operations must have ended."""
    _, earliest = times_alone(compiled)
    latest = latest_ends(compiled, within)
    drivers, busy = busiest(compiled, groups, latest)
    ends = period_ends([latest[i] for group in drivers for i in group.operations], PERIODS)
    last = max(latest[i] for group in groups for i in group.operations)
    return Frame(tuple(groups), drivers, busy, earliest, latest, [*ends[:-1], last])


def busiest(
    compiled: Compiled, groups: Sequence[BaseGroup], latest: Sequence[int]
) -> tuple[tuple[BaseGroup, ...], tuple[Staff, ...]]:
    """The busiest group, or all groups where the busiest people work if these are busier; and
    all people who may be short."""

    def load(work: Mapping[int, int], clock: Clock) -> float:
        return _load(((latest[i], minutes) for i, minutes in work.items()), clock)

    loads = [
        load({i: minutes_of(compiled, i) for i in g.operations}, Clock.of(compiled, g))
        for g in groups
    ]
    busy = [(load(staff.work, staff.clock), staff) for staff in staffs(compiled, groups)]
    people = tuple(staff for each, staff in busy if each > BUSY)
    asked, most = max(busy, key=lambda pair: pair[0], default=(0.0, None))
    if most is not None and asked > max(loads):
        return tuple(g for g in groups if any(i in most.work for i in g.operations)), people
    return (groups[loads.index(max(loads))],), people


def _load(work: Iterable[tuple[int, int]], clock: Clock) -> float:
    """The greatest share of its minutes that must have been worked by some latest end."""
    done, most = 0, 0.0
    for end, minutes in sorted(work):
        done += minutes
        most = max(most, done / max(1, clock.until(end)))
    return most
