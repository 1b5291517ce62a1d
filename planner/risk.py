"""What may happen to a plan when work takes longer or shorter than planned.

A plan is run thousands of times with the same order of work and other minutes: each run and
changeover is drawn from a log-normal around its planned minutes. Every operation begins as soon
as its station, its people, its material and the operations before it allow, by the same rules
as the plan: changeovers are not split by a break, runs may pause over one. All weeks go through
one operation at a time, as arrays.

Imports numpy and the plan's own records; no solver.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from planner.confidence import Spread, Spreads, factor_at
from planner.hours import Interval, common, spans_of, working
from planner.records import Operation, Plan, Slot
from planner.shop import Shop
from planner.stop import Stop
from planner.uncertainty import LineChance, Risk, StationSpread

Floats = NDArray[np.float64]
Spans = tuple[tuple[int, int], ...]

CHUNK = 1_000
"""Weeks that are simulated between two looks at the stop."""
USUAL_WEEKS = 10_000
"""Weeks that a plan's risk rests on: a chance of 80 % is then known to within 1 % (binomial)."""
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
    group: int = NO_GROUP
    """Tasks of one group share one more factor, such as what is not known of a belt."""
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
    complete: bool
    """Whether all the weeks asked for were simulated."""


def solve(problem: WeekProblem, stop: Stop, seed: int, weeks: int = 10_000) -> WeekRisk:
    """Simulate the plan; fewer weeks than asked for when the stop comes first, never none."""
    random = np.random.default_rng(seed)
    done: list[Floats] = []
    changed: list[Floats] = []
    left = weeks
    while left > 0 and not (done and stop()):
        count = min(CHUNK, left)
        ends, changeover = _simulate(problem, random, count)
        done.append(ends)
        changed.append(changeover)
        left -= count
    return _summary(problem, np.concatenate(done, axis=1), np.concatenate(changed), left == 0)


def _summary(problem: WeekProblem, done: Floats, changed: Floats, complete: bool) -> WeekRisk:
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
    return WeekRisk(len(changed), lines, everything, low, middle, high, complete)


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


def _simulate(
    problem: WeekProblem, random: np.random.Generator, weeks: int
) -> tuple[Floats, Floats]:
    """End of every order line and changeover minutes, in each of some weeks."""
    hours = [Hours(spans) for spans in problem.hours]
    free = np.zeros((problem.bases + problem.people, weeks))
    ends = np.zeros((len(problem.tasks), weeks))
    changeover = np.zeros(weeks)
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
    return setup, run if task.group == NO_GROUP else run * shared[task.group]


def with_risk(plan: Plan, spreads: Spreads, weeks: int = USUAL_WEEKS) -> Plan:
    """The plan with what simulated weeks say of it; the same plan and spreads say the same."""
    found = solve(week_of(plan, spreads), Stop(), plan.options.seed, weeks)
    stations = ((station.name, spreads.of(station.name)) for station in plan.shop.stations)
    risk = Risk(
        weeks=found.weeks,
        seed=plan.options.seed,
        spreads=tuple(
            StationSpread(station=name, run=spread.run, setup=spread.setup)
            for name, spread in stations
        ),
        lines=tuple(
            LineChance(
                line=line.key,
                chance=line.chance,
                low_min=line.low_min,
                median_min=line.median_min,
                high_min=line.high_min,
            )
            for line in found.lines
        ),
        all_on_time=found.all_on_time,
        changeover_low_min=found.changeover_low_min,
        changeover_median_min=found.changeover_median_min,
        changeover_high_min=found.changeover_high_min,
    )
    return plan.model_copy(update={"risk": risk})


def week_of(plan: Plan, spreads: Spreads | None = None) -> WeekProblem:
    """The plan as a problem to simulate, around the medians behind its minutes.

    In a week that is planned again, what is done or runs already ends as it is told or expected.
    """
    slots = sorted(plan.slots, key=lambda slot: (slot.start_min, slot.end_min))
    operations = {operation.key: operation for operation in plan.operations}
    number_of = {slot.operation: number for number, slot in enumerate(slots)}
    names = _Names(plan, spreads or Spreads())
    tasks = tuple(names.task(operations[slot.operation], slot, number_of) for slot in slots)
    return WeekProblem(
        tasks=tasks,
        lines=tuple(_lines(plan, number_of)),
        hours=tuple(names.spans),
        bases=len(names.bases),
        people=len(names.people),
    )


class _Names:
    """Numbers for bases, people and hours, handed out as they are met."""

    def __init__(self, plan: Plan, spreads: Spreads) -> None:
        self.plan = plan
        self.spreads = spreads
        self.shop: Shop = plan.shop
        self.bases: dict[str, int] = {}
        self.people: dict[str, int] = {}
        self.spans: list[Spans] = []
        self._hours: dict[tuple[str, ...], int] = {}
        self.past = plan.replan.past if plan.replan else frozenset[str]()
        for station in self.shop.stations:
            self.bases.setdefault(station.base or station.name, len(self.bases))
        for person in self.shop.people:
            self.people.setdefault(person.name, len(self.people))

    def hours(self, *who: str) -> int:
        """Number of the hours that all of these have in common."""
        if who not in self._hours:
            sets = [worked(self.plan, name) for name in who]
            spans = common(sets) if len(sets) > 1 else spans_of(sets[0])
            self._hours[who] = len(self.spans)
            self.spans.append(_from(spans, self.plan.options.start_min))
        return self._hours[who]

    def task(self, operation: Operation, slot: Slot, number_of: dict[str, int]) -> Task:
        """The task of one slot; the plan's minutes are brought back to medians."""
        station = self.shop.station(slot.station)
        spread = self.spreads.of(slot.station)
        slower = factor_at(self.plan.options.confidence, spread.setup)
        return Task(
            key=operation.key,
            base=self.bases[station.base or station.name],
            people=tuple(self.people[person] for person in slot.people),
            hours=self.hours(slot.station, *slot.people),
            own_hours=self.hours(slot.station),
            setup_min=slot.setup_min / slower,
            run_min=slot.minutes / station.pace,
            spread=spread,
            release_min=operation.release_min,
            after=tuple(number_of[key] for key in operation.after),
            attended=station.is_attended,
            ends_min=slot.end_min if slot.operation in self.past else None,
        )


def worked(plan: Plan, who: str) -> tuple[Interval, ...]:
    """The hours of a station or person, without stretches of overtime that the plan leaves out."""
    options = plan.options
    hours = working(plan.shop, who, options.start, options.days)
    return tuple(each for each in hours if not each.overtime or _is_worked(plan, each))


def _is_worked(plan: Plan, stretch: Interval) -> bool:
    """Whether a changeover or a piece of a run lies in a stretch of overtime."""
    return any(
        begin < stretch.end_min and stretch.start_min < end
        for slot in plan.slots
        for begin, end in (
            (slot.setup_start_min, slot.setup_start_min + slot.setup_min),
            *slot.pieces,
        )
    )


def _from(spans: Spans, start_min: int) -> Spans:
    return tuple((max(start, start_min), end) for start, end in spans if end > start_min)


def _lines(plan: Plan, number_of: dict[str, int]) -> Iterator[Line]:
    """Each line is complete with the last operation of its own, or else of its lot."""
    lot_of = {line: lot.key for lot in plan.lots for line in lot.lines}
    for done in plan.done:
        own = [o for o in plan.operations if o.line == done.line]
        whole = [o for o in plan.operations if o.line is None and o.lot == lot_of[done.line]]
        last = max(own or whole, key=lambda o: number_of[o.key])
        yield Line(done.line, done.due_min, number_of[last.key])
