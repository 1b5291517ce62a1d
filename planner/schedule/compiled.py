"""A problem as numbers: what the decoder, the rules, the floors and the kernel work on.

Operations, modes, bases, people and calendars are numbered. A *mode* is one operation on one
of its alternatives; modes of an operation are consecutive. A job with several final operations
gets a *milestone*: an operation without a station or duration after all of them, so that every
job ends with exactly one operation. Attribute values are numbered per attribute; 0 is unknown.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from planner.errors import input_error
from planner.schedule.calendar import FAR_MIN, Calendar
from planner.schedule.crews import Crew, People, Staffing
from planner.schedule.problem import (
    Alternative,
    Base,
    Combine,
    Fixed,
    Job,
    Operation,
    Problem,
    Station,
    Term,
)

NOWHERE = -1
"""The base of milestones, done work and unlimited stations."""
TERMS = tuple(Term)


@dataclass(frozen=True, slots=True)
class Need:
    """One attribute of the base that must have one value."""

    slot: int
    value: int


@dataclass(frozen=True, slots=True)
class Mode:
    """One operation on one station; `calendar` is the station's own."""

    operation: int
    station: str
    base: int
    duration: int
    attended: int
    calendar: int
    crews: tuple[Crew, ...]
    needs: tuple[Need, ...]
    able: tuple[People, ...] = ((),)
    """Everybody who may do it together, with hours in common or without."""


@dataclass(frozen=True, slots=True)
class Pred:
    """A predecessor and how it holds the start."""

    operation: int
    lag: int
    from_start: bool
    holding: int


@dataclass(frozen=True, slots=True)
class Op:
    """One operation or milestone; times are -1 where there are none."""

    key: str
    called: str
    """In a sentence."""
    release: int
    latest_end: int
    may_pause: bool
    preds: tuple[Pred, ...]
    succs: tuple[int, ...]
    modes: tuple[int, ...]
    """Numbers of its modes."""
    done: bool
    fixed_start: int
    fixed_end: int
    fixed_people: tuple[int, ...]
    issued_mode: int
    issued_start: int
    issued_charge: int
    jobs: tuple[int, ...]
    """Jobs that end with it."""


@dataclass(frozen=True, slots=True)
class Slot:
    """One attribute of a base; `minutes[a * values + b]` changes it from a to b."""

    attribute: str
    names: tuple[str, ...]
    """Value names; the first is the unknown."""
    minutes: tuple[int, ...]
    mounted: int

    @property
    def values(self) -> int:
        """How many values there are, the unknown one included."""
        return len(self.names)


@dataclass(frozen=True, slots=True)
class CompiledBase:
    """A base with its attributes; `first_slot` is where they begin in the state of all bases."""

    key: str
    slots: tuple[Slot, ...]
    first_slot: int
    longest_counts: bool
    free_from: int


@dataclass(frozen=True, slots=True)
class Compiled:
    """The numbered problem."""

    problem: Problem
    ops: tuple[Op, ...]
    modes: tuple[Mode, ...]
    bases: tuple[CompiledBase, ...]
    people_free: tuple[int, ...]
    calendars: tuple[Calendar, ...]
    due: tuple[int, ...]
    weight: tuple[int, ...]
    aim: tuple[int, ...]
    spare: tuple[int, ...]
    """Minutes of each job from its aim until its time to spare is spent."""
    weights: tuple[tuple[int, ...], ...]
    """For each level the weight of each term, in the order of `TERMS`."""

    @property
    def aims(self) -> bool:
        """Whether any job wants time to spare."""
        return any(self.spare)

    @property
    def mounted(self) -> tuple[int, ...]:
        """The mounted state of all bases at the start."""
        return tuple(slot.mounted for base in self.bases for slot in base.slots)

    def levels(self, terms: Sequence[int]) -> tuple[int, ...]:
        """The levels that these terms amount to."""
        return tuple(sum(w * t for w, t in zip(row, terms, strict=True)) for row in self.weights)


def compile_problem(problem: Problem) -> Compiled:
    """Number everything; the problem must have passed `validate.check`."""
    return _Compiler(problem).compiled()


def is_timeless(compiled: Compiled) -> bool:
    """Whether only changeovers count, as in a pure ordering problem."""
    horizon = compiled.problem.horizon_min is not None
    priced = any(calendar.priced for calendar in compiled.calendars)
    timed = (
        op.issued_start >= 0 or op.fixed_start >= 0 or any(p.holding for p in op.preds)
        or compiled.problem.operations[i].latest_end_min is not None
        for i, op in enumerate(compiled.ops[: len(compiled.problem.operations)])
    )  # fmt: skip
    return not (compiled.due or horizon or priced or any(timed))


class _Compiler:
    def __init__(self, problem: Problem) -> None:
        self.problem = problem
        self.stations = {station.key: station for station in problem.stations}
        self.people = {person.key: i for i, person in enumerate(problem.people)}
        self.number = {op.key: i for i, op in enumerate(problem.operations)}
        self.bases = self._bases()
        self.base_number = {base.key: i for i, base in enumerate(self.bases)}
        self.values = [
            {slot.attribute: {name: v for v, name in enumerate(slot.names)} for slot in base.slots}
            for base in self.bases
        ]
        self.staffing = Staffing(problem)
        self.modes: list[Mode] = []

    def compiled(self) -> Compiled:
        problem = self.problem
        many = [job for job in problem.jobs if len(set(job.finals)) > 1]
        first = len(problem.operations)
        milestone = {job.key: first + i for i, job in enumerate(many)}
        final = [milestone.get(job.key, self.number[job.finals[0]]) for job in problem.jobs]
        ops = self._ops(many, final)
        return Compiled(
            problem=problem,
            ops=ops,
            modes=tuple(self.modes),
            bases=self.bases,
            people_free=tuple(person.free_from_min for person in problem.people),
            calendars=tuple(self.staffing.calendars.found),
            due=tuple(job.due_min for job in problem.jobs),
            weight=tuple(job.weight for job in problem.jobs),
            aim=tuple(job.aim for job in problem.jobs),
            spare=tuple(job.spare_min for job in problem.jobs),
            weights=tuple(tuple(level.get(t, 0) for t in TERMS) for level in problem.levels),
        )

    def _bases(self) -> tuple[CompiledBase, ...]:
        named = {base.key: base for base in self.problem.bases}
        for station in self.problem.stations:
            if not station.unlimited and station.base_key not in named:
                named[station.base_key] = Base(station.base_key)
        values = self._values()
        found: list[CompiledBase] = []
        first_slot = 0
        for base in named.values():
            slots = tuple(
                _slot(base, number, values.get((base.key, rule.attribute), {}))
                for number, rule in enumerate(base.rules)
            )
            longest = base.combine is Combine.LONGEST
            found.append(CompiledBase(base.key, slots, first_slot, longest, base.free_from_min))
            first_slot += len(slots)
        return tuple(found)

    def _values(self) -> dict[tuple[str, str], dict[str, None]]:
        """Names of all values by base and attribute, in the order in which they turn up."""
        values: dict[tuple[str, str], dict[str, None]] = {}
        for base in self.problem.bases:
            for attribute, name in base.mounted.items():
                values.setdefault((base.key, attribute), {})[name] = None
        for op in self.problem.operations:
            for alternative in op.alternatives:
                station = self.stations[alternative.station]
                for attribute, name in _needs(station, op, alternative).items():
                    values.setdefault((station.base_key, attribute), {})[name] = None
        return values

    def _ops(self, many: list[Job], final: list[int]) -> tuple[Op, ...]:
        operations = self.problem.operations
        total = len(operations) + len(many)
        preds: list[list[Pred]] = [[] for _ in range(total)]
        succs: list[dict[int, None]] = [{} for _ in range(total)]
        for arc in self.problem.arcs:
            before, after = self.number[arc.before], self.number[arc.after]
            preds[after].append(Pred(before, arc.lag_min, arc.from_start, arc.holding))
            succs[before][after] = None
        for i, job in enumerate(many):
            for key in dict.fromkeys(job.finals):
                preds[len(operations) + i].append(Pred(self.number[key], 0, False, 0))
                succs[self.number[key]][len(operations) + i] = None
        jobs: list[list[int]] = [[] for _ in range(total)]
        for number, op in enumerate(final):
            jobs[op].append(number)
        milestones = [Operation(f"{job.key} complete", ()) for job in many]
        return tuple(
            self._op(i, op, tuple(preds[i]), tuple(succs[i]), tuple(jobs[i]))
            for i, op in enumerate((*operations, *milestones))
        )

    def _op(
        self,
        number: int,
        op: Operation,
        preds: tuple[Pred, ...],
        succs: tuple[int, ...],
        jobs: tuple[int, ...],
    ) -> Op:
        modes = self._modes(number, op)
        at = {self.modes[mode].station: mode for mode in modes}
        horizon = self.problem.horizon_min
        latest = min(FAR_MIN if x is None else x for x in (op.latest_end_min, horizon))
        fixed, issued = op.fixed, op.issued
        return Op(
            key=op.key,
            called=op.called,
            release=op.release_min,
            latest_end=latest,
            may_pause=op.may_pause,
            preds=preds,
            succs=succs,
            modes=modes,
            done=fixed is not None and self._off_station(fixed),
            fixed_start=-1 if fixed is None else fixed.start_min,
            fixed_end=-1 if fixed is None else fixed.end_min,
            fixed_people=tuple(self.people[p] for p in fixed.people) if fixed else (),
            issued_mode=-1 if issued is None else at.get(issued.station, -1),
            issued_start=-1 if issued is None else issued.start_min,
            issued_charge=0 if issued is None else issued.charge,
            jobs=jobs,
        )

    def _off_station(self, fixed: Fixed) -> bool:
        """Whether its times are all that counts: done work, or work that needs no base."""
        return fixed.done or self.stations[fixed.station].unlimited

    def _modes(self, number: int, op: Operation) -> tuple[int, ...]:
        first = len(self.modes)
        if op.fixed is not None and self._off_station(op.fixed):
            self.modes.append(_nowhere(number, op.fixed.station, 0))
        elif op.fixed is not None:
            chosen = next(a for a in op.alternatives if a.station == op.fixed.station)
            self.modes.append(self._mode(number, op, chosen))
        elif not op.alternatives:
            self.modes.append(_nowhere(number, "", 0))
        else:
            usable = [self._mode(number, op, a) for a in op.alternatives]
            self.modes.extend(mode for mode in usable if mode.crews)
        if len(self.modes) == first:
            raise input_error(
                f"{op.called} finds nobody to do it at {op.alternatives[0].station}: no "
                "person, or not enough people with hours in common, may run it; add a skill, a "
                "person or hours",
                subject=op.key,
            )
        return tuple(range(first, len(self.modes)))

    def _mode(self, number: int, op: Operation, alternative: Alternative) -> Mode:
        station = self.stations[alternative.station]
        if station.unlimited:
            return _nowhere(number, station.key, alternative.duration_min)
        base = self.base_number[station.base_key]
        attended = alternative.attended_min
        duration = alternative.duration_min
        calendar = self.staffing.calendars.of(station.key, ())
        able = self.staffing.able(station, alternative)
        return Mode(
            operation=number,
            station=station.key,
            base=base,
            duration=duration,
            attended=duration if attended is None else min(attended, duration),
            calendar=calendar,
            crews=self.staffing.crews(station.key, able),
            needs=self._mounted(base, _needs(station, op, alternative)),
            able=able,
        )

    def _mounted(self, base: int, needs: dict[str, str]) -> tuple[Need, ...]:
        """What a base must have mounted, attribute by attribute in its order."""
        first = self.bases[base].first_slot
        return tuple(
            Need(first + slot, values[needs[attribute]])
            for slot, (attribute, values) in enumerate(self.values[base].items())
            if attribute in needs
        )


def _nowhere(number: int, station: str, duration: int) -> Mode:
    return Mode(number, station, NOWHERE, duration, 0, 0, (Crew((), 0),), ())


def _needs(station: Station, op: Operation, alternative: Alternative) -> dict[str, str]:
    if station.unlimited:
        return {}
    return {**station.needs, **op.needs, **alternative.needs}


def _slot(base: Base, number: int, values: dict[str, None]) -> Slot:
    rule = base.rules[number]
    names = ("", *values)
    index = {name: i for i, name in enumerate(names)}
    n = len(names)
    minutes = [rule.minutes] * (n * n)
    for i in range(n):
        minutes[i * n + i] = 0
        minutes[i] = rule.minutes if rule.from_nothing is None else rule.from_nothing
    for (a, b), each in rule.from_to.items():
        if a in index and b in index:
            minutes[index[a] * n + index[b]] = each
    mounted = base.mounted.get(rule.attribute)
    return Slot(rule.attribute, names, tuple(minutes), 0 if mounted is None else index[mounted])
