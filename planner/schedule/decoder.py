"""From a list of operations to times: the rules of the shop, in plain Python.

Operations are placed one by one in the order of the list, each at the end of what its base and
its people do so far, as early as its predecessors, hours and changeover allow. The compiled
kernel does the same a thousand times faster; every plan that leaves the engine has been placed
here too, and the figures must agree.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from planner.schedule.calendar import Calendar
from planner.schedule.compiled import NOWHERE, TERMS, Compiled, Mode, Op
from planner.schedule.crews import Crew
from planner.schedule.dispatch import Start
from planner.schedule.problem import Term

VIOLATION, LATENESS, CHANGEOVER, OVERTIME = map(
    TERMS.index, (Term.VIOLATION, Term.LATENESS, Term.CHANGEOVER, Term.OVERTIME)
)
DISTURBANCE, HOLDING, COMPLETION, TIGHTNESS = map(
    TERMS.index, (Term.DISTURBANCE, Term.HOLDING, Term.COMPLETION, Term.TIGHTNESS)
)


@dataclass(frozen=True, slots=True)
class Step:
    """Where and when one operation was placed.

    `free` is when base and people were free, `ready` when predecessors and material were
    there, `changed` the end of the earliest possible changeover.
    """

    operation: int
    mode: int
    crew: Crew
    free: int
    ready: int
    change: int
    changed: int
    start: int
    attended_end: int
    end: int
    mounted: tuple[int, ...]
    """State of the base before it."""


class Decoder:
    """The shop at one moment of building a schedule; `place` moves it on."""

    def __init__(self, compiled: Compiled) -> None:
        self.compiled = compiled
        self.mounted = list(compiled.mounted)
        self.base_free = [0] * len(compiled.bases)
        self.people_free = [0] * len(compiled.people_free)
        self.start = [0] * len(compiled.ops)
        self.end = [0] * len(compiled.ops)
        self.terms = [0] * len(TERMS)

    def ready(self, op: Op) -> int:
        """When its material is there and its predecessors let it start."""
        latest = op.release
        for pred in op.preds:
            before = self.start if pred.from_start else self.end
            latest = max(latest, before[pred.operation] + pred.lag)
        return max(latest, 0)

    def changeover(self, mode: Mode) -> int:
        """Minutes of changeover that the mode would need now."""
        base = self.compiled.bases[mode.base]
        total = 0
        for need in mode.needs:
            slot = base.slots[need.slot - base.first_slot]
            minutes = slot.minutes[self.mounted[need.slot] * slot.values + need.value]
            total = max(total, minutes) if base.longest_counts else total + minutes
        return total

    def look(self, number: int, mode_number: int) -> Step:
        """Where the operation would be placed now."""
        op, mode = self.compiled.ops[number], self.compiled.modes[mode_number]
        ready = self.ready(op)
        if op.done or mode.base == NOWHERE:
            start, end = (
                (op.fixed_start, op.fixed_end) if op.done else (ready, ready + mode.duration)
            )
            crew = mode.crews[0]
            return Step(number, mode_number, crew, ready, ready, 0, start, start, start, end, ())
        change = self.changeover(mode)
        if op.fixed_start >= 0:
            return self._fixed(op, number, mode_number, ready, change)
        crews = mode.crews
        if change == 0 and mode.attended == 0:
            crews = (Crew((), mode.calendar),)
        steps = [self._with(op, number, mode_number, ready, change, crew) for crew in crews]
        if len(steps) == 1:
            return steps[0]
        return min(steps, key=lambda s: (s.end, -sum(self.people_free[p] for p in s.crew.people)))

    def place(self, number: int, mode_number: int) -> Step:
        """Put the operation next on its base and count what it adds to the terms."""
        step = self.look(number, mode_number)
        op, mode = self.compiled.ops[number], self.compiled.modes[mode_number]
        self._count(op, mode, step)
        self.start[number], self.end[number] = step.start, step.end
        if mode.base != NOWHERE:
            self.base_free[mode.base] = max(step.end, self.base_free[mode.base])
            for person in step.crew.people:
                self.people_free[person] = max(step.attended_end, self.people_free[person])
            for need in mode.needs:
                self.mounted[need.slot] = need.value
        return step

    def late_dues(self) -> list[int]:
        """When each job was due that counts and has ended late."""
        due, weight = self.compiled.due, self.compiled.weight
        each = (
            (job, end)
            for op, end in zip(self.compiled.ops, self.end, strict=True)
            for job in op.jobs
        )
        return [due[job] for job, end in each if weight[job] and end > due[job]]

    def _state(self, base: int) -> tuple[int, ...]:
        first = self.compiled.bases[base].first_slot
        return tuple(self.mounted[first : first + len(self.compiled.bases[base].slots)])

    def _busy(self, mode: Mode, people: Iterable[int]) -> int:
        """Until when earlier operations occupy the base or the people."""
        until = self.base_free[mode.base]
        for person in people:
            until = max(until, self.people_free[person])
        return until

    def _free(self, mode: Mode, people: Iterable[int]) -> int:
        """From when they can be used; fixed work may have begun before."""
        since = max(self._busy(mode, people), self.compiled.bases[mode.base].free_from)
        for person in people:
            since = max(since, self.compiled.people_free[person])
        return since

    def _fixed(self, op: Op, number: int, mode_number: int, ready: int, change: int) -> Step:
        mode = self.compiled.modes[mode_number]
        crew = Crew(op.fixed_people, mode.calendar)
        free = self._busy(mode, crew.people)
        start, end = op.fixed_start, op.fixed_end
        before = self._state(mode.base)
        return Step(number, mode_number, crew, free, ready, change, start, start, end, end, before)

    def _with(
        self, op: Op, number: int, mode_number: int, ready: int, change: int, crew: Crew
    ) -> Step:
        mode = self.compiled.modes[mode_number]
        calendar, own = (
            self.compiled.calendars[crew.calendar],
            self.compiled.calendars[mode.calendar],
        )
        free = self._free(mode, crew.people)
        changed = calendar.fit(free, change) + change if change else free
        earliest = max(changed, ready)
        start, attended_end, end = run(calendar, own, earliest, mode, op.may_pause)
        before = self._state(mode.base)
        return Step(
            number,
            mode_number,
            crew,
            free,
            ready,
            change,
            changed,
            start,
            attended_end,
            end,
            before,
        )

    def _count(self, op: Op, mode: Mode, step: Step) -> None:
        terms = self.terms
        terms[VIOLATION] += max(0, step.end - op.latest_end) if not op.done else 0
        if op.fixed_start >= 0 and not op.done:
            terms[VIOLATION] += max(0, step.free + step.change - step.start)
            terms[VIOLATION] += max(0, step.ready - step.start)
        terms[CHANGEOVER] += step.change
        if mode.base != NOWHERE:
            terms[OVERTIME] += self._overtime(mode, step)
        if op.issued_start >= 0:
            shift = abs(step.start - op.issued_start)
            moved = shift > 0 or step.mode != op.issued_mode
            terms[DISTURBANCE] += (op.issued_charge if moved else 0) + shift // 60
        for pred in op.preds:
            if pred.holding:
                waited = max(0, step.start - self.end[pred.operation])
                terms[HOLDING] += pred.holding * waited
        for job in op.jobs:
            late = max(0, step.end - self.compiled.due[job])
            terms[LATENESS] += self.compiled.weight[job] * late
            terms[COMPLETION] += max(0, step.end)
            terms[TIGHTNESS] += self._tightness(job, step.end)

    def _tightness(self, job: int, end: int) -> int:
        """What completion at `end` takes of the job's time to spare."""
        spare = self.compiled.spare[job]
        spent = min(end - self.compiled.aim[job], spare)
        share = 100 * spent * spent // (spare * spare) if spent > 0 else 0
        return self.compiled.weight[job] * share

    def _overtime(self, mode: Mode, step: Step) -> int:
        calendars = self.compiled.calendars
        ours, own = calendars[step.crew.calendar], calendars[mode.calendar]
        return (
            ours.price(step.changed - step.change, step.changed)
            + ours.price(step.start, step.attended_end)
            + own.price(step.attended_end, step.end)
        )


def run(
    calendar: Calendar, own: Calendar, earliest: int, mode: Mode, may_pause: bool
) -> tuple[int, int, int]:
    """Start, end of the attended part and end of a run from `earliest` on.

    `calendar` holds for the attended part, `own` (the station's) for what then runs by itself.
    """
    if mode.duration == 0:
        return earliest, earliest, earliest
    unattended = mode.duration - mode.attended
    if may_pause:
        start = (calendar if mode.attended else own).fit(earliest, 1)
        attended_end = calendar.advance(start, mode.attended)
        return start, attended_end, own.advance(attended_end, unattended)
    while True:
        start = calendar.fit(earliest, mode.attended) if mode.attended else earliest
        whole = own.fit(start, mode.duration)
        if whole == start:
            return start, start + mode.attended, start + mode.duration
        earliest = whole


def decode(
    compiled: Compiled, order: Iterable[int], modes: list[int]
) -> tuple[Decoder, list[Step]]:
    """Place every operation of `order` in its mode; predecessors must come first."""
    decoder = Decoder(compiled)
    return decoder, [decoder.place(number, modes[number]) for number in order]


def placed(compiled: Compiled, order: Sequence[int], modes: Sequence[int]) -> Start:
    """A list with what it comes to in this shop."""
    decoder, _ = decode(compiled, order, list(modes))
    return Start(tuple(order), tuple(modes), tuple(decoder.terms))
