"""Dispatch rules: what a shop does without a plan, and where the search starts.

As entered, due date, by state and ATCS are the classical ones. The fifth takes the cheapest
changeover that leaves room for all work that is due before, with the best of many settings.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from planner.schedule.compiled import NOWHERE, Compiled, Mode
from planner.schedule.dispatch import Start, urgencies
from planner.schedule.dispatcher import Dispatcher, DispatchRule, Kind, Patience, rank_by
from planner.schedule.patience import best_settings

AS_ENTERED, DUE_DATE, BY_STATE, ATCS = "as entered", "due date", "by state", "ATCS"
IN_TIME = "cheapest changeover in time"
ATCS_SCALES = (
    (0.5, 0.1), (2, 0.02), (2, 0.05), (2, 0.1), (2, 0.4), (6, 0.05), (6, 0.1), (6, 1.5), (10, 0.05),
    (10, 0.1), (20, 0.2), (50, 0.4),
)  # fmt: skip
"""Look-ahead in mean operations, and set-up in mean changeovers."""
KEPT = 2
"""Schedules of the fifth rule from which the search may start."""


@dataclass(frozen=True, slots=True)
class Rules:
    """What each rule makes of the work, by its name, and further starts for the search."""

    named: dict[str, Start]
    more: tuple[Start, ...]

    @property
    def starts(self) -> list[Start]:
        """Where a search may start."""
        return [*self.named.values(), *self.more]


def make_rules(compiled: Compiled, first: Sequence[int] = ()) -> Rules:
    """All of them, after the modes in `first`; a rule with settings by its best."""
    workshop = _Workshop(compiled, tuple(first))
    named = {name: workshop.build(rule) for name, rule in workshop.simple().items()}
    named[ATCS] = min(
        map(workshop.build, atcs_rules(compiled, workshop.dispatcher)), key=workshop.levels
    )
    best, *more = workshop.in_time()
    return Rules({**named, IN_TIME: best}, tuple(more))


def atcs_rules(c: Compiled, dispatcher: Dispatcher) -> Iterator[DispatchRule]:
    """ATCS with its grid."""
    durations = [m.duration for m in c.modes if m.base != NOWHERE]
    mean = max(1.0, sum(durations) / max(1, len(durations)))
    slots = [slot for base in c.bases for slot in base.slots]
    changes = [sum(s.minutes) / len(s.minutes) for s in slots]
    mean_of_base = max(1.0, sum(changes) / max(1, len(c.bases)))
    for look_ahead, set_up in ATCS_SCALES:
        yield DispatchRule(
            Kind.ATCS,
            dispatcher.due_rank,
            look_ahead_min=look_ahead * mean,
            set_up_min=set_up * mean_of_base,
        )


class _Workshop:
    def __init__(self, compiled: Compiled, first: tuple[int, ...]) -> None:
        self.compiled = compiled
        self.first = first
        self.dispatcher = Dispatcher(compiled, urgencies(compiled))
        ranks = [(*_ranks(compiled, mode), mode.operation) for mode in compiled.modes]
        self.state_rank = rank_by(ranks)

    def levels(self, start: Start) -> tuple[int, ...]:
        return self.compiled.levels(start.terms)

    def build(self, rule: DispatchRule) -> Start:
        """By the rule; when that runs into fixed work, with the fixed work put in first."""
        start = self.dispatcher.build(rule, self.first)
        fixed = self.dispatcher.fixed
        if start.terms[0] and fixed:
            return min(start, self.dispatcher.build(rule, self.first + fixed), key=self.levels)
        return start

    def simple(self) -> dict[str, DispatchRule]:
        """The rules without settings."""
        entered = tuple(range(len(self.compiled.modes)))
        return {
            AS_ENTERED: DispatchRule(Kind.RANKED, entered),
            DUE_DATE: DispatchRule(Kind.RANKED, self.dispatcher.due_rank),
            BY_STATE: DispatchRule(Kind.RANKED, self.state_rank, stay=True),
        }

    def in_time(self) -> list[Start]:
        """The fifth rule with its best settings, best first."""

        def levels(patience: Patience) -> tuple[int, ...]:
            return self.compiled.levels(self.dispatcher.terms(self.patient(patience), self.first))

        best = best_settings(levels, len(self.compiled.ops), KEPT)
        return [self.build(self.patient(patience)) for patience in best]

    def patient(self, patience: Patience) -> DispatchRule:
        """The fifth rule with these settings."""
        return DispatchRule(Kind.PATIENT, self.state_rank, patience=patience)


def _ranks(compiled: Compiled, mode: Mode) -> Iterator[float]:
    """The numbers in the names of its needs, so that 38.1 comes before 101.6."""
    for need in mode.needs:
        base = compiled.bases[mode.base]
        name = base.slots[need.slot - base.first_slot].names[need.value]
        found = re.search(r"\d+(\.\d+)?", name)
        yield float(found[0]) if found else 0.0
        yield need.value
