"""What would make a late job on time: tried, not guessed.

Each remedy is applied to the best list, the list is placed again, and only one that really makes
the job punctual is told. A harmless move comes first: an operation of another job that is ahead
in the critical chain goes behind the late job's own, and nobody pays for it: no other job is late
that was punctual, or later than it was. Without one there are two offers, what overtime it takes
at the stations of the chain, and where the job's own work has to go in front, with who pays for it.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from functools import cached_property

import numpy as np

from planner.schedule.chain import Chain
from planner.schedule.compiled import NOWHERE, TERMS, Compiled
from planner.schedule.dispatch import Start, topological
from planner.schedule.extension import extended, runs
from planner.schedule.problem import Term
from planner.schedule.rehoured import Rehoured
from planner.schedule.result import Ahead, Behind, Overtime, Remedy

MOST_MOVES = 12
ONCE_MIN = (15, 30, 60, 120, 240, 480)
DAILY_MIN = (30, 60, 120, 180, 240)
MOST_PLACES = 24
"""Places in front of which the job's own work is tried."""
VIOLATION = TERMS.index(Term.VIOLATION)


@dataclass(frozen=True, slots=True)
class Help:
    """What makes one job on time, and how late it is when all its work goes first; None where
    fixed work does not let it."""

    remedies: tuple[Remedy, ...]
    first_late_min: int | None


class Remedies:
    """Finds remedies for the jobs of one schedule."""

    def __init__(self, compiled: Compiled, best: Start) -> None:
        self.compiled = compiled
        self.best = best
        self.placing = Chain(compiled)
        self.weights = [0.0] * len(TERMS)
        arcs = [(p.operation, i) for i, op in enumerate(compiled.ops) for p in op.preds]
        self.before, self.after = np.array(arcs, np.int32).reshape(-1, 2).T
        self.job_ends = self._by_job(self._place(best.order)[0])

    def find(self, job: int, final: int, chain: Sequence[int]) -> Help:
        """For a job that ends with the operation `final`, held by the operations of `chain`."""
        ends, terms = self._place(self._in_front(final, None))
        late = max(0, ends[final] - self.compiled.due[job])
        first_late = None if terms[VIOLATION] else late
        for order, behind in self._moves(final, chain):
            if self._is_harmless(job, *self._place(order)):
                return Help((behind,), first_late)
        offers = (self._overtime(chain, job), self._ahead(final, job))
        return Help(tuple(each for each in offers if each is not None), first_late)

    @cached_property
    def _rehoured(self) -> Rehoured:
        return Rehoured(self.compiled, self.best)

    def _place(self, order: Sequence[int]) -> tuple[list[int], tuple[int, ...]]:
        """Ends of all operations, and the terms."""
        terms = self.placing.begin(Start(tuple(order), self.best.modes, ()), 0, self.weights)
        return self.placing.times()[1], terms

    def _by_job(self, ends: Sequence[int]) -> list[int]:
        found = [0] * len(self.compiled.due)
        for i, op in enumerate(self.compiled.ops):
            for job in op.jobs:
                found[job] = ends[i]
        return found

    def _harmed(self, ends: Sequence[int]) -> tuple[tuple[str, int], ...]:
        """Jobs that are late, or later than they were, with the minutes; the worst first."""
        jobs, due = self.compiled.problem.jobs, self.compiled.due
        both = zip(self._by_job(ends), self.job_ends, due, strict=True)
        later = [
            (max(0, end - max(due_j, was)), jobs[j].key) for j, (end, was, due_j) in enumerate(both)
        ]
        return tuple((key, minutes) for minutes, key in sorted(later, reverse=True) if minutes)

    def _is_harmless(self, job: int, ends: Sequence[int], terms: Sequence[int]) -> bool:
        """Whether the job is on time and nobody pays for it."""
        punctual = self._by_job(ends)[job] <= self.compiled.due[job]
        return punctual and not terms[VIOLATION] and not self._harmed(ends)

    def _base(self, i: int) -> int:
        return self.compiled.modes[self.best.modes[i]].base

    def _moves(self, final: int, chain: Sequence[int]) -> Iterator[tuple[list[int], Behind]]:
        """Lists in which one operation ahead in the chain comes after the job's own on its base."""
        ops = self.compiled.ops
        own = self._ancestors(final)
        mine = [i for i in chain if i in own and self._base(i) != NOWHERE]
        others = [i for i in chain if i not in own and ops[i].fixed_start < 0]
        place = {op: p for p, op in enumerate(self.best.order)}
        pairs = [
            (y, x)
            for x in mine
            for y in reversed(others)
            if self._base(x) == self._base(y) and place[y] < place[x]
        ]
        for y, x in pairs[:MOST_MOVES]:
            rank = [2 * place[i] for i in range(len(ops))]
            rank[y] = 2 * place[x] + 1
            yield topological(self.compiled, rank), Behind(ops[y].key, ops[x].key)

    def _ahead(self, final: int, job: int) -> Ahead | None:
        """The latest place in front of which the job's own work makes it on time."""
        due = self.compiled.due[job]
        mine = [i for i in self._ancestors(final) if self._movable(i)]
        for before in self._places(final):
            ends, terms = self._place(self._in_front(final, before))
            if ends[final] <= due and not terms[VIOLATION]:
                starts, _ = self.placing.times()
                first_min = min(starts[i] for i in mine)
                return Ahead(self.compiled.ops[before].key, first_min, self._harmed(ends))
        return None

    def _places(self, final: int) -> list[int]:
        """Operations of others on the base of the job's first movable work, the latest first."""
        own = self._ancestors(final)
        mine = [i for i in self.best.order if i in own and self._movable(i)]
        if not mine:
            return []
        base = self._base(mine[0])
        ahead = self.best.order[: self.best.order.index(mine[0])]
        places = [i for i in ahead if self._base(i) == base and self._movable(i)]
        step = max(1, -(-len(places) // MOST_PLACES))
        return list(reversed(places))[step - 1 :: step]

    def _movable(self, i: int) -> bool:
        return self.compiled.ops[i].fixed_start < 0 and self._base(i) != NOWHERE

    def _in_front(self, final: int, before: int | None) -> list[int]:
        """The list with the job's own work brought forward: the first of it in front of
        `before` (of everything if None), the rest into the order in which it then arrives."""
        own = self._ancestors(final)
        order = list(self.best.order)
        mine = [i for i in order if i in own and self._movable(i)]
        for number, i in enumerate(mine):
            order.remove(i)
            if number == 0:
                at = 0 if before is None else order.index(before)
            else:
                at = self._arrival(order, i)
            order.insert(at, i)
            order = self._sound(order)
        return order

    def _sound(self, order: list[int]) -> list[int]:
        """The list, or one in which what waits comes right after the last that it waits for."""
        place = np.empty(len(order), np.int64)
        place[order] = np.arange(len(order))
        if (place[self.before] < place[self.after]).all():
            return order
        return topological(self.compiled, place.tolist())

    def _arrival(self, order: list[int], i: int) -> int:
        """Where in the list, which lacks `i`, it goes in front of work that starts later."""
        waiting = self._waiting(i)
        rest = (other for other in order if other not in waiting)
        self._place([*rest, i, *(other for other in order if other in waiting)])
        starts, ends = self.placing.times()
        ready = max((ends[p.operation] for p in self.compiled.ops[i].preds), default=0)
        for place, other in enumerate(order):
            same_base = self._base(other) == self._base(i) and self._movable(other)
            if same_base and starts[other] >= ready:
                return place
        return len(order)

    def _ancestors(self, final: int) -> set[int]:
        """The operation and all that it waits for."""
        return _reached(final, lambda i: [p.operation for p in self.compiled.ops[i].preds])

    def _waiting(self, i: int) -> set[int]:
        """The operation and all that waits for it."""
        return _reached(i, lambda i: self.compiled.ops[i].succs)

    def _overtime(self, chain: Sequence[int], job: int) -> Overtime | None:
        """The least of the steps that suffices: one evening, else every day; one station, else
        the two that the chain needs most."""
        load: dict[str, int] = {}
        for mode in (self.compiled.modes[self.best.modes[i]] for i in chain):
            if mode.base != NOWHERE:
                load[mode.station] = load.get(mode.station, 0) + mode.duration
        busiest = sorted(load, key=lambda name: (-load[name], name))[:2]
        sets = [(name,) for name in busiest] + ([tuple(busiest)] if len(busiest) > 1 else [])
        once = [(names, False) for names in sets if len(names) == 1]
        for stations, daily in (*once, *((names, True) for names in sets)):
            found = self._least(stations, job, daily=daily)
            if found is not None:
                return found
        return None

    def _least(self, stations: tuple[str, ...], job: int, *, daily: bool) -> Overtime | None:
        if daily and self._with(stations, job, DAILY_MIN[-1], daily=True) is None:
            return None
        for minutes in DAILY_MIN if daily else ONCE_MIN:
            found = self._with(stations, job, minutes, daily=daily)
            if found is not None:
                return self._staffed(found, job)
        return None

    def _staffed(self, overtime: Overtime, job: int) -> Overtime:
        """The same with the fewest people whom it needs: one after the other is sent home, the
        last named first."""
        if not self.compiled.problem.people:
            return overtime
        people = [p.key for p in self.compiled.problem.people if runs(p, overtime.stations)]
        home: list[str] = []
        for person in reversed(people):
            away = (*home, person)
            how = (overtime.stations, job, overtime.minutes)
            if self._with(*how, daily=overtime.daily, home=away) is not None:
                home.append(person)
        return replace(overtime, people=tuple(p for p in people if p not in home))

    def _with(
        self,
        stations: tuple[str, ...],
        job: int,
        minutes: int,
        *,
        daily: bool,
        home: Sequence[str] = (),
    ) -> Overtime | None:
        due = self.compiled.due[job]
        extra = extended(self.compiled.problem, stations, due, minutes, daily=daily, home=home)
        if extra is None:
            return None
        problem, from_min = extra
        if not self._is_harmless(job, *self._rehoured.place(problem)):
            return None
        return Overtime(stations, minutes, from_min, daily)


def _reached(first: int, steps: Callable[[int], Iterable[int]]) -> set[int]:
    """An operation and all that steps from it lead to."""
    found = {first}
    ahead = [first]
    while ahead:
        new = [i for i in steps(ahead.pop()) if i not in found]
        found.update(new)
        ahead.extend(new)
    return found
