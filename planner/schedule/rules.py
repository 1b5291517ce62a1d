"""Dispatch rules: what a shop does without a plan, and where the search starts.

As entered, due date, by state and ATCS are the classical ones. The fifth takes the cheapest
changeover that leaves room for all work that is due before; it is tried with many settings,
from a few of them on by one step at a time.
"""

from __future__ import annotations

import math
import re
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace

from planner.schedule.compiled import NOWHERE, Compiled, Mode
from planner.schedule.dispatch import Start, urgencies
from planner.schedule.dispatcher import Dispatcher, DispatchRule, Kind, Patience, rank_by

AS_ENTERED, DUE_DATE, BY_STATE, ATCS = "as entered", "due date", "by state", "ATCS"
IN_TIME = "cheapest changeover in time"
GRID_OPERATIONS = 400
"""Up to this size ATCS is tried with nine pairs of look-ahead parameters, above with three."""
EFFORT = 120_000
"""Operations placed by all settings of the fifth rule, about."""
FEWEST, MOST = 16, 200
"""Settings of the fifth rule that are tried."""
KEPT = 2
"""Schedules of the fifth rule from which the search may start."""
DAY_MIN = 1440.0
STEPS: Mapping[str, tuple[float, ...]] = {
    "tour": (0, 0.5, 1, 1.5, 2, 3),
    "share": (0, 0.25, 0.5, 1, 1.5),
    "window_min": (*(DAY_MIN * days for days in (1, 3, 5, 10, 20)), math.inf),
    "growth": (0, 0.2, 0.5, 1),
    "idle": (0, 0.1, 0.3, 1),
    "hold_min": (0, 480, 960, 1920, 2880),
    "reserve_min": (0, 240, 480),
    "cyclic": (0, 1),
}
"""What a setting of the fifth rule may be; a step goes to the next value."""
FIRST = (
    Patience(share=1.0, tour=1.5, idle=0.3, hold_min=960),
    Patience(tour=2.0, window_min=3 * DAY_MIN, growth=1.0, idle=0.1),
    Patience(tour=1.5, growth=1.0, idle=0.1),
    Patience(share=0.25, tour=2.0, idle=0.3, hold_min=2880),
)
"""Settings that did well on generated weeks."""


@dataclass(frozen=True, slots=True)
class Rules:
    """What each rule makes of the work, by its name, and further starts for the search."""

    named: dict[str, Start]
    more: tuple[Start, ...]

    @property
    def starts(self) -> list[Start]:
        """Where a search may start."""
        return [*self.named.values(), *self.more]


def make_rules(compiled: Compiled) -> Rules:
    """All of them; a rule with settings by its best."""
    workshop = _Workshop(compiled)
    named = {name: workshop.build(rule) for name, rule in workshop.simple().items()}
    named[ATCS] = min(map(workshop.build, workshop.atcs()), key=workshop.levels)
    best, *more = workshop.in_time()
    return Rules({**named, IN_TIME: best}, tuple(more))


class _Workshop:
    def __init__(self, compiled: Compiled) -> None:
        self.compiled = compiled
        self.dispatcher = Dispatcher(compiled, urgencies(compiled))
        self.has_fixed = any(op.fixed_start >= 0 and not op.done for op in compiled.ops)
        ranks = [(*_ranks(compiled, mode), mode.operation) for mode in compiled.modes]
        self.state_rank = rank_by(ranks)

    def levels(self, start: Start) -> tuple[int, ...]:
        return self.compiled.levels(start.terms)

    def build(self, rule: DispatchRule) -> Start:
        """By the rule; when that runs into fixed work, with the fixed work put in first."""
        start = self.dispatcher.build(rule)
        if start.terms[0] and self.has_fixed:
            return min(start, self.dispatcher.build(rule, fixed_first=True), key=self.levels)
        return start

    def simple(self) -> dict[str, DispatchRule]:
        """The rules without settings."""
        entered = tuple(range(len(self.compiled.modes)))
        return {
            AS_ENTERED: DispatchRule(Kind.RANKED, entered),
            DUE_DATE: DispatchRule(Kind.RANKED, self.dispatcher.due_rank),
            BY_STATE: DispatchRule(Kind.RANKED, self.state_rank, stay=True),
        }

    def atcs(self) -> Iterator[DispatchRule]:
        """ATCS with its grid."""
        c = self.compiled
        durations = [m.duration for m in c.modes if m.base != NOWHERE]
        mean = max(1.0, sum(durations) / max(1, len(durations)))
        slots = [slot for base in c.bases for slot in base.slots]
        changes = [sum(s.minutes) / len(s.minutes) for s in slots]
        mean_of_base = max(1.0, sum(changes) / max(1, len(c.bases)))
        for k1 in (0.5, 2.0, 6.0) if len(c.ops) <= GRID_OPERATIONS else (2.0,):
            for k2 in (0.1, 0.4, 1.5):
                yield DispatchRule(
                    Kind.ATCS,
                    self.dispatcher.due_rank,
                    look_ahead_min=k1 * mean,
                    set_up_min=k2 * mean_of_base,
                )

    def in_time(self) -> list[Start]:
        """The fifth rule: its best schedules, best first."""
        most = min(MOST, max(FEWEST, EFFORT // max(1, len(self.compiled.ops))))
        tried = {patience: self._patient(patience) for patience in FIRST}
        before, best = None, self._best(tried)
        while best != before and len(tried) < most:
            near = [each for each in _near(best) if each not in tried][: most - len(tried)]
            tried.update((each, self._patient(each)) for each in near)
            before, best = best, self._best(tried)
        starts = {start.terms: start for start in tried.values()}
        return sorted(starts.values(), key=self.levels)[:KEPT]

    def _patient(self, patience: Patience) -> Start:
        return self.build(DispatchRule(Kind.PATIENT, self.state_rank, patience=patience))

    def _best(self, tried: Mapping[Patience, Start]) -> Patience:
        return min(tried, key=lambda each: self.levels(tried[each]))


def _near(patience: Patience) -> Iterator[Patience]:
    """One setting a step up or down."""
    for name, values in STEPS.items():
        at = values.index(getattr(patience, name))
        for step in (at - 1, at + 1):
            if 0 <= step < len(values):
                yield replace(patience, **{name: values[step]})


def _ranks(compiled: Compiled, mode: Mode) -> Iterator[float]:
    """The numbers in the names of its needs, so that 38.1 comes before 101.6."""
    for need in mode.needs:
        base = compiled.bases[mode.base]
        name = base.slots[need.slot - base.first_slot].names[need.value]
        found = re.search(r"\d+(\.\d+)?", name)
        yield float(found[0]) if found else 0.0
        yield need.value
