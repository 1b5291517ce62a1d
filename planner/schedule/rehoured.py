"""One schedule in other hours: the same list, placed by the kernel, nothing compiled again."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
from numpy.typing import NDArray

from planner.schedule.chain import Chain
from planner.schedule.compiled import NOWHERE, TERMS, Compiled, Mode
from planner.schedule.crews import Calendars, Crew, People
from planner.schedule.dispatch import Start
from planner.schedule.problem import Problem
from planner.schedule.rows import Hours

Place = tuple[str, People]
"""A station and the people at it."""
NO_PLACE = "", ()


class Rehoured:
    """Places one schedule of a problem whose stations and people have other hours."""

    def __init__(self, compiled: Compiled, best: Start) -> None:
        self._best = best
        self._calendars = Calendars(compiled.problem)
        self.chain = Chain(replace(compiled, modes=tuple(map(_with_all, compiled.modes))))
        self._places: dict[Place, int] = {NO_PLACE: 0}
        modes = self.chain.compiled.modes
        self._of_modes = self._numbers([(mode, ()) for mode in modes])
        self._of_crews = self._numbers([(m, crew.people) for m in modes for crew in m.crews])

    def place(self, problem: Problem) -> tuple[list[int], tuple[int, ...]]:
        """Ends of all operations and the terms in the hours of `problem`, which is the one
        compiled in all else."""
        calendars = Calendars(problem, self._calendars)
        numbers = [0 if place == NO_PLACE else calendars.of(*place) for place in self._places]
        number = np.array(numbers, np.int32)
        hours = Hours(calendars.found, number[self._of_modes], number[self._of_crews])
        self.chain.work_in(hours)
        terms = self.chain.begin(self._best, 0, [0.0] * len(TERMS))
        return self.chain.times()[1], terms

    def _numbers(self, each: list[tuple[Mode, People]]) -> NDArray[np.int32]:
        """The place of each mode with some people."""
        places = (NO_PLACE if m.base == NOWHERE else (m.station, people) for m, people in each)
        numbers = [self._places.setdefault(place, len(self._places)) for place in places]
        return np.array(numbers, np.int32)


def _with_all(mode: Mode) -> Mode:
    """With everybody who may do it: in longer hours they may have some in common."""
    if len(mode.crews) == len(mode.able):
        return mode
    return replace(mode, crews=tuple(Crew(people, 0) for people in mode.able))
