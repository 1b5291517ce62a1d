"""Thousands of weeks at once: the same order of work with other minutes.

Each run and changeover is drawn from a log-normal around its median; those of one group are also
off by one more factor together, drawn anew for each week. Every operation begins as
soon as its station, its people, its material and the operations before it allow, by the rules
of a plan: changeovers are not split by a break, runs may pause over one. All weeks go through
one operation at a time, as arrays.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from planner.confidence import Spread

Floats = NDArray[np.float64]
Spans = tuple[tuple[int, int], ...]

CHUNK = 1_000
"""Weeks that are simulated at a time, so that the arrays of a long plan stay small."""
AFTER_ALL_MIN = 10**7
"""Minutes of work that fit behind the horizon, so that a late week ends late, not never."""
NO_GROUP = -1


@dataclass(frozen=True, slots=True)
class Task:
    """One operation of the plan."""

    key: str
    base: int
    """Number of the station, or of the base that it shares."""
    people: tuple[int, ...]
    hours: int
    """Number of the hours that station and people have in common."""
    own_hours: int
    """Number of the station's own hours, in which it runs unattended."""
    setup_min: float
    run_min: float
    """Medians."""
    spread: Spread
    release_min: int = 0
    after: tuple[int, ...] = ()
    """Numbers of the tasks that must have ended; all smaller than its own."""
    attended: bool = True
    run_group: int = NO_GROUP
    setup_group: int = NO_GROUP
    """Runs or changeovers of one group share one more factor, such as a feed that is off."""
    ends_min: int | None = None
    """Done or running when the week was planned again: when it ended, or is expected to."""


@dataclass(frozen=True, slots=True)
class Line:
    """An order line: when it is due and the task with which it is complete."""

    key: str
    due_min: int
    task: int


@dataclass(frozen=True, slots=True)
class WeekProblem:
    """A plan as arrays; tasks in the order in which they begin."""

    tasks: tuple[Task, ...]
    lines: tuple[Line, ...]
    hours: tuple[Spans, ...]
    bases: int
    people: int
    group_spreads: tuple[float, ...] = ()
    """Standard deviation in logs of each group's shared factor."""
    spent_min: float = 0.0
    """Changeovers for parts of runs that stood still: the same in every week."""


@dataclass(frozen=True, slots=True)
class LineRisk:
    """What the simulated weeks say of one order line; minutes of the plan."""

    key: str
    due_min: int
    chance: float
    """Share of the weeks in which it is on time."""
    low_min: int
    median_min: int
    high_min: int
    """It is done between low and high in 80 % of the weeks."""


@dataclass(frozen=True, slots=True)
class WeekRisk:
    """What the simulated weeks say of the plan."""

    weeks: int
    lines: tuple[LineRisk, ...]
    all_on_time: float
    """Share of the weeks in which no line is late."""
    changeover_low_min: int
    changeover_median_min: int
    changeover_high_min: int
    """Changeover minutes are between low and high in 80 % of the weeks."""


def simulate(problem: WeekProblem, seed: int, weeks: int) -> WeekRisk:
    """Simulate so many weeks of the plan, at least one; the same seed draws the same weeks."""
    random = np.random.default_rng(seed)
    done: list[Floats] = []
    changed: list[Floats] = []
    for first in range(0, weeks, CHUNK):
        ends, changeover = _some_weeks(problem, random, min(CHUNK, weeks - first))
        done.append(ends)
        changed.append(changeover)
    return _summary(problem, np.concatenate(done, axis=1), np.concatenate(changed))


def _summary(problem: WeekProblem, done: Floats, changed: Floats) -> WeekRisk:
    on_time = done <= np.array([[line.due_min] for line in problem.lines]).reshape(-1, 1)
    low, middle, high = (_quantile(changed, share) for share in (0.1, 0.5, 0.9))
    lines = tuple(
        LineRisk(
            line.key,
            line.due_min,
            float(on_time[number].mean()),
            *(_quantile(done[number], share) for share in (0.1, 0.5, 0.9)),
        )
        for number, line in enumerate(problem.lines)
    )
    everything = float(on_time.all(axis=0).mean()) if lines else 1.0
    return WeekRisk(len(changed), lines, everything, low, middle, high)


def _quantile(values: Floats, share: float) -> int:
    return round(float(np.quantile(values, share)))


class Hours:
    """Working spans that answer for many weeks at once."""

    def __init__(self, spans: Spans) -> None:
        last = spans[-1][1] if spans else 0
        ends = [*spans, (last, last + AFTER_ALL_MIN)]
        self.starts = np.array([start for start, _ in ends], dtype=np.float64)
        self.ends = np.array([end for _, end in ends], dtype=np.float64)
        lengths = self.ends - self.starts
        self.until = np.cumsum(lengths)
        self.before = self.until - lengths

    def open(self, moment: Floats) -> tuple[Floats, NDArray[np.intp]]:
        """The first working moment from each moment on, and the number of its span."""
        span = np.searchsorted(self.ends, moment, side="right")
        span = np.minimum(span, len(self.ends) - 1)
        return np.maximum(moment, self.starts[span]), span

    def advance(self, moment: Floats, minutes: Floats) -> Floats:
        """When so many working minutes have passed, breaks left out."""
        start, span = self.open(moment)
        target = self.before[span] + (start - self.starts[span]) + minutes
        last = np.minimum(np.searchsorted(self.until, target), len(self.until) - 1)
        return self.starts[last] + (target - self.before[last])

    def fit(self, moment: Floats, minutes: Floats) -> Floats:
        """The first moment from which so many minutes are worked without a break.

        What no span of the hours can hold waits until after all of them.
        """
        start, span = self.open(moment)
        while True:
            short = self.ends[span] - start < minutes
            short &= span < len(self.ends) - 1
            if not short.any():
                return start
            span = span + short
            start = np.where(short, self.starts[span], start)


def _some_weeks(
    problem: WeekProblem, random: np.random.Generator, weeks: int
) -> tuple[Floats, Floats]:
    """End of every order line and changeover minutes, in each of some weeks."""
    hours = [Hours(spans) for spans in problem.hours]
    free = np.zeros((problem.bases + problem.people, weeks))
    ends = np.zeros((len(problem.tasks), weeks))
    changeover = np.full(weeks, problem.spent_min)
    shared = [np.exp(s * random.standard_normal(weeks)) for s in problem.group_spreads]
    for number, task in enumerate(problem.tasks):
        crew = [task.base, *(problem.bases + person for person in task.people)]
        if task.ends_min is not None:
            ends[number] = task.ends_min
            free[crew] = np.maximum(free[crew], task.ends_min)
            changeover += task.setup_min
            continue
        setup, run = _minutes(task, random, weeks, shared)
        begin = free[crew].max(axis=0)
        calendar = hours[task.hours]
        changed = calendar.fit(begin, setup) + setup if task.setup_min else begin
        ready = ends[list(task.after)].max(axis=0) if task.after else 0.0
        earliest = np.maximum(np.maximum(changed, ready), float(task.release_min))
        ends[number] = hours[task.hours if task.attended else task.own_hours].advance(earliest, run)
        free[crew] = ends[number] if task.attended else changed
        free[task.base] = ends[number]
        changeover += setup
    return ends[[line.task for line in problem.lines]], changeover


def _minutes(
    task: Task, random: np.random.Generator, weeks: int, shared: Sequence[Floats]
) -> tuple[Floats, Floats]:
    setup = task.setup_min * np.exp(task.spread.setup * random.standard_normal(weeks))
    run = task.run_min * np.exp(task.spread.run * random.standard_normal(weeks))
    return _with(shared, task.setup_group, setup), _with(shared, task.run_group, run)


def _with(shared: Sequence[Floats], group: int, minutes: Floats) -> Floats:
    return minutes if group == NO_GROUP else minutes * shared[group]
