"""Floor of changeover minutes: over all groups of bases the best that is proven of each.

Three arguments: visits of values and states are counted (`visits`), the shortest tour through the
states is bounded (`tour`), and, among schedules that are not late by more than a limit, visits are
counted by when operations must have ended (`timed`).
"""

from __future__ import annotations

from dataclasses import dataclass

from planner.schedule.compiled import Compiled
from planner.schedule.floors.groups import BaseGroup, base_groups
from planner.schedule.floors.linear import Linear
from planner.schedule.floors.states import states_of
from planner.schedule.floors.timed import timed_minutes
from planner.schedule.floors.tour import Tour
from planner.schedule.floors.visits import Visits
from planner.schedule.problem import Term
from planner.schedule.result import Floor

COUNTED = "values and states counted, each visited as often as it must"
TOURED = "shortest tour of the mounted states"
TIMED = "values and states counted by when each is needed, in plans that are not later"

TOUR_SECONDS = 1.0
"""CP-SAT's own measure of work, so that the bound is the same on any machine."""
COUNT_SECONDS = 0.2
COUNT_PIVOTS = 20_000
MOST_TOURED = 60
"""More states of several attributes than this are not toured: counting them proves more."""


@dataclass(frozen=True, slots=True)
class Groups:
    """For each group of bases what is proven of it by counting and by touring."""

    compiled: Compiled
    counted: tuple[int, ...]
    toured: tuple[int, ...]

    @property
    def minutes(self) -> tuple[int, ...]:
        """The better of the two, group by group."""
        return tuple(max(pair) for pair in zip(self.counted, self.toured, strict=True))

    def always(self) -> Floor:
        """The floor of all schedules."""
        total = sum(self.minutes)
        return Floor(Term.CHANGEOVER, total, TOURED if total > sum(self.counted) else COUNTED)

    def timed(self, within: int, pivots: int) -> Floor:
        """The floor of all schedules whose weighted lateness is at most `within`, with nothing
        violated; `pivots` are the simplex steps to spend."""
        minutes = timed_minutes(self.compiled, within, self.minutes, pivots)
        return Floor(Term.CHANGEOVER, max(minutes, sum(self.minutes)), TIMED, within)


def groups_of(compiled: Compiled) -> Groups:
    """Count and tour every group."""
    groups = base_groups(compiled)
    return Groups(
        compiled,
        tuple(_count(compiled, group) for group in groups),
        tuple(_tour(compiled, group) for group in groups),
    )


def _count(compiled: Compiled, group: BaseGroup) -> int:
    states = states_of(compiled, group)
    if not states.attributes or not group.operations:
        return 0
    linear = Linear()
    visits = Visits(linear, states, states.every())
    visits.cover(dict.fromkeys(group.operations, (0, 0)))
    visits.in_sequence(compiled)
    return max(linear.relaxed(COUNT_PIVOTS)[0], linear.proven(COUNT_SECONDS))


def _tour(compiled: Compiled, group: BaseGroup) -> int:
    tour = Tour.of(compiled, group)
    if tour is None or (tour.attributes > 1 and len(tour.minutes) > MOST_TOURED):
        return 0
    return tour.floor(TOUR_SECONDS)
