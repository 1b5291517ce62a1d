"""What may happen to a plan when work takes longer or shorter than planned: the plan as a problem
to simulate, and what the simulated weeks say of it."""

from __future__ import annotations

from collections.abc import Iterator

from planner.changeovers import setup_minutes
from planner.confidence import Spreads, factor_at
from planner.hours import Interval, common, spans_of, working
from planner.records import Operation, Plan, Slot
from planner.shop import Shop
from planner.simulation import Line, Spans, Task, WeekProblem, simulate
from planner.uncertainty import LineChance, Risk, StationSpread

USUAL_WEEKS = 10_000
"""Weeks that a plan's risk rests on: a chance of 80 % is then known to within 1 % (binomial)."""


def with_risk(plan: Plan, spreads: Spreads, weeks: int = USUAL_WEEKS) -> Plan:
    """The plan with what simulated weeks say of it; the same plan and spreads say the same."""
    found = simulate(week_of(plan, spreads), plan.options.seed, weeks)
    stations = ((station.name, spreads.of(station.name)) for station in plan.shop.stations)
    risk = Risk(
        weeks=found.weeks,
        seed=plan.options.seed,
        spreads=tuple(
            StationSpread(
                station=name,
                run=spread.run,
                setup=spread.setup,
                run_shared=spread.run_shared,
                setup_shared=spread.setup_shared,
            )
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
        group_spreads=tuple(names.group_spreads()),
        spent_min=names.spent_min(),
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
        self.groups = {each.name: 2 * n for n, each in enumerate(self.shop.stations)}
        """Of the station's runs; that of its changeovers is the next."""
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

    def group_spreads(self) -> Iterator[float]:
        """Of each station's runs and changeovers, what they are off by together."""
        for station in self.shop.stations:
            spread = self.spreads.of(station.name)
            yield from (spread.run_shared, spread.setup_shared)

    def spent_min(self) -> float:
        """Medians of the changeovers for parts of runs that stood still, all together."""
        parts = self.plan.replan.parts if self.plan.replan else ()
        medians = (setup_minutes(one.changes) / self._slower(one.station) for one in parts)
        return sum(medians, 0.0)

    def _slower(self, station: str) -> float:
        """What the plan's changeover minutes are over their medians."""
        return factor_at(self.plan.options.confidence, self.spreads.of(station).any_setup)

    def task(self, operation: Operation, slot: Slot, number_of: dict[str, int]) -> Task:
        """The task of one slot; the plan's minutes are brought back to medians."""
        station = self.shop.station(slot.station)
        spread, group = self.spreads.of(slot.station), self.groups[slot.station]
        return Task(
            key=operation.key,
            base=self.bases[station.base or station.name],
            people=tuple(self.people[person] for person in slot.people),
            hours=self.hours(slot.station, *slot.people),
            own_hours=self.hours(slot.station),
            setup_min=slot.setup_min / self._slower(slot.station),
            run_min=slot.minutes / station.pace,
            spread=spread,
            release_min=operation.release_min,
            after=tuple(number_of[key] for key in operation.after),
            attended=station.is_attended,
            run_group=group,
            setup_group=group + 1,
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
