"""All that is proven of a problem, and which of it may be said of a schedule."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from concurrent.futures import ThreadPoolExecutor
from dataclasses import dataclass
from functools import partial

from planner.schedule.compiled import TERMS, Compiled
from planner.schedule.decoder import decode
from planner.schedule.dispatch import Start
from planner.schedule.floors.alone import lateness_alone
from planner.schedule.floors.capacity import lateness_by_capacity
from planner.schedule.floors.changeover import Groups, groups_of
from planner.schedule.floors.late import lateness_in_periods
from planner.schedule.problem import Term
from planner.schedule.result import Floor
from planner.stop import Stop

PIVOTS = 12_000
"""Simplex steps to spend at most: about four seconds for a week of 200 lots, two for 80."""
LATENESS = TERMS.index(Term.LATENESS)


@dataclass(frozen=True, slots=True)
class Proof:
    """`floors` are those of all schedules and one that holds while lateness is at its floor."""

    compiled: Compiled
    groups: Groups
    floors: tuple[Floor, ...]

    def holding(self, terms: Sequence[int]) -> tuple[Floor, ...]:
        """The floors that are claimed of a schedule with these terms, now."""
        return tuple(floor for floor in self.floors if floor.holds(terms[LATENESS]))

    def of(self, best: Start, stop: Stop) -> tuple[Floor, ...]:
        """The floors of the best schedule found, the best of each term first; no further ones are
        proven once a stop was asked for."""
        with ThreadPoolExecutor(2) as pool:
            asked = () if stop() else self._further(best)
            further = [pool.submit(floor) for floor in asked]
            floors = (*self.holding(best.terms), *(floor.result() for floor in further))
        return tuple(sorted(floors, key=lambda floor: -floor.value))

    def _further(self, best: Start) -> Iterator[Callable[[], Floor]]:
        """What is proven only now. Where the schedule is later than the floor of lateness, that is
        looked for in periods too, in the work that is due no later than what is late in it; and
        its changeovers are bounded again, as schedules that are no later may be later than the
        floor."""
        compiled, late = self.compiled, best.terms[LATENESS]
        floors = self.holding(best.terms)
        if late > lateness_of(floors):
            due = max(decode(compiled, best.order, list(best.modes))[0].late_dues())
            yield partial(lateness_in_periods, compiled, late, self.groups.minutes, due)
        if len(floors) < len(self.floors):
            yield partial(self.groups.timed, late, PIVOTS)


def prove(compiled: Compiled) -> Proof:
    """All floors, each kind of argument once."""
    groups = groups_of(compiled)
    late = (lateness_alone(compiled), lateness_by_capacity(compiled))
    floors: tuple[Floor, ...] = (*late, groups.always())
    if lateness_comes_first(compiled):
        floors = (*floors, groups.timed(lateness_of(late), PIVOTS))
    return Proof(compiled, groups, floors)


def lateness_of(floors: Sequence[Floor]) -> int:
    """The best floor of lateness."""
    return max(floor.value for floor in floors if floor.term is Term.LATENESS)


def lateness_comes_first(compiled: Compiled) -> bool:
    """Whether nothing but lateness (and what makes a plan useless) is weighed before changeovers.

    Then no usable schedule that is later than another one is better, and a floor of those that
    are not later is one of the best.
    """
    changeover, violation = TERMS.index(Term.CHANGEOVER), TERMS.index(Term.VIOLATION)
    seen = False
    for row in compiled.weights:
        if row[changeover]:
            return seen and bool(compiled.due)
        if any(weight for t, weight in enumerate(row) if t not in (violation, LATENESS)):
            return False
        seen = seen or row[LATENESS] > 0
    return False
