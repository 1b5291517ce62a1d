"""The bottleneck of a problem alone: its busiest base as a line that is always open.

Where most of the lateness is made on one base, its order is nearly a problem of its own: one line
with changeovers, on which work is due early enough for all that comes after it on other bases.
Minutes are those in which the base works, so that a night is nothing; as whatever misses an evening
is a night late, due dates are put forward a little more. Where other bases can do work of the
busiest one, each of them is a line, and a pass may be on any of them.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace

from planner.schedule.calendar import Calendar
from planner.schedule.compiled import NOWHERE, Compiled, compile_problem
from planner.schedule.dispatch import Start, topological
from planner.schedule.line import Line, as_line
from planner.schedule.problem import Arc, Job, Operation, Problem

FOLLOWING = 1.3
"""Minutes that what comes after takes with its changeovers, for each of its own."""
TOGETHER_MIN = 3 * 1440
"""Jobs of one operation that are due within so many minutes of the first count as one."""

Orders = tuple[tuple[int, ...], ...]
"""By line the operations on it one after the other, as numbered in the whole."""


@dataclass(frozen=True, slots=True)
class Branch:
    """One base, and all work that can be done there as a problem of its own."""

    base: int
    mode: Mapping[int, int]
    """Of each of the operations; theirs in the line follow."""
    alone: Compiled
    line: Line


@dataclass(frozen=True, slots=True)
class Bottleneck:
    """The busiest base of a problem and all that can do its work, without what is fixed."""

    whole: Compiled
    branches: tuple[Branch, ...]
    feeding: Mapping[int, tuple[int, ...]]
    """By operation the modes of what it waits for on other bases, as far back as one of these."""

    def lines(self, orders: Orders) -> dict[int, list[int]]:
        """By base the modes of the whole in these orders."""
        return {
            branch.base: [branch.mode[i] for i in order]
            for branch, order in zip(self.branches, orders, strict=True)
        }

    def ranks(self, orders: Orders, others: Sequence[int]) -> Sequence[int]:
        """A place for each mode of the whole: below 0 for what the lines wait for, in the order
        in which they do, and all others as they are ranked."""
        if not any(self.feeding.values()):
            return others
        after = max(map(len, orders))
        found = list(others)
        for order in orders:
            for place, i in enumerate(order):
                for mode in self.feeding[i]:
                    found[mode] = min(found[mode], place - after)
        return found

    def orders_in(self, start: Start) -> Orders:
        """The orders of the lines in a start of the whole."""
        return tuple(
            tuple(i for i in start.order if branch.mode.get(i) == start.modes[i])
            for branch in self.branches
        )


def as_bottleneck(c: Compiled, earlier_min: int) -> Bottleneck | None:
    """The busiest base and all that can do its work, which is due so many minutes earlier; None
    where that is more than lines."""
    if not c.bases:
        return None
    bases = _together(c, _busiest(c))
    if NOWHERE in bases:
        return None
    free = [i for i, op in enumerate(c.ops) if op.fixed_start < 0 and _bases_of(c, i) & bases]
    dues = {i: (due - earlier_min, weight) for i, (due, weight) in _dues(c, free).items()}
    branches = [_branch(c, free, base, dues) for base in sorted(bases)]
    found = tuple(branch for branch in branches if branch is not None)
    if len(found) < len(bases):
        return None
    return Bottleneck(c, found, dict(zip(free, _feeding(c, free), strict=True)))


def _busiest(c: Compiled) -> int:
    work = [0.0] * len(c.bases)
    for mode in c.modes:
        if mode.base != NOWHERE:
            work[mode.base] += mode.duration / len(c.ops[mode.operation].modes)
    return max(range(len(work)), key=work.__getitem__)


def _bases_of(c: Compiled, operation: int) -> set[int]:
    return {c.modes[m].base for m in c.ops[operation].modes}


def _together(c: Compiled, base: int) -> set[int]:
    """The base, and all that can do work of these."""
    found = {base}
    ways = [_bases_of(c, i) for i, op in enumerate(c.ops) if len(op.modes) > 1]
    while more := {each for way in ways if way & found for each in way} - found:
        found |= more
    return found


Dues = Mapping[int, tuple[int, int]]
"""By operation its due minute and weight; none where no job waits for it."""


def _branch(c: Compiled, free: Sequence[int], base: int, dues: Dues) -> Branch | None:
    """What of this work can be done on one base, by its first mode there."""
    ways = {i: [m for m in c.ops[i].modes if c.modes[m].base == base] for i in free}
    mode = {i: each[0] for i, each in ways.items() if each}
    if not mode:
        return None
    alone = compile_problem(_alone(c, mode, dues))
    line = as_line(alone)
    return Branch(base, mode, alone, line) if line is not None and line.timed else None


def _alone(c: Compiled, mode: Mapping[int, int], dues: Dues) -> Problem:
    """Operations by their modes on one base, in its working minutes."""
    given = {op.key: op for op in c.problem.operations}
    one = c.modes[next(iter(mode.values()))]
    base, hours = c.bases[one.base], c.calendars[one.calendar]
    return Problem(
        bases=tuple(
            replace(each, free_from_min=hours.until(base.free_from))
            for each in c.problem.bases
            if each.key == base.key
        ),
        stations=tuple(
            replace(each, hours=None) for each in c.problem.stations if each.base_key == base.key
        ),
        operations=tuple(
            _bare(given[c.ops[i].key], each - c.ops[i].modes[0]) for i, each in mode.items()
        ),
        arcs=tuple(Arc(c.ops[i].key, c.ops[j].key) for i, j in _arcs(c, mode)),
        jobs=tuple(_jobs(c, mode, dues, hours)),
        levels=c.problem.levels,
    )


def _jobs(c: Compiled, mode: Mapping[int, int], dues: Dues, hours: Calendar) -> Iterator[Job]:
    for i in mode:
        if i in dues:
            due_min, weight = dues[i]
            yield Job(c.ops[i].key, hours.until(max(0, due_min)), (c.ops[i].key,), weight)


def _bare(op: Operation, way: int) -> Operation:
    """What it takes and needs by this alternative, whenever and whoever does it."""
    only = replace(op.alternatives[way], who=(), attended_min=None)
    return replace(op, alternatives=(only,), release_min=0, latest_end_min=None, issued=None)


def _arcs(c: Compiled, mine: Mapping[int, int]) -> Iterator[tuple[int, int]]:
    """Which of the operations wait for which, whatever is between them elsewhere: the nearest
    ones, and all behind those that may be elsewhere too."""
    nearest: list[set[int]] = [set() for _ in c.ops]
    for i in topological(c):
        for pred in c.ops[i].preds:
            before = pred.operation
            nearest[i] |= {before} if before in mine else nearest[before]
            if before in mine and len(_bases_of(c, before)) > 1:
                nearest[i] |= nearest[before]
        if i in mine:
            yield from ((before, i) for before in sorted(nearest[i]))


def _feeding(c: Compiled, mine: Sequence[int]) -> Iterator[tuple[int, ...]]:
    """For each of the operations the modes of what it waits for, up to another of them."""
    known = set(mine)
    for i in mine:
        waiting = [pred.operation for pred in c.ops[i].preds]
        found: set[int] = set()
        while waiting:
            before = waiting.pop()
            if before not in known and before not in found:
                found.add(before)
                waiting += [pred.operation for pred in c.ops[before].preds]
        yield tuple(mode for before in sorted(found) for mode in c.ops[before].modes)


def _dues(c: Compiled, mine: Sequence[int]) -> Dues:
    """When each is due for the jobs for which no later one surely on its base has to be done."""
    known = set(mine)
    below: list[list[tuple[int, int]]] = [[] for _ in c.ops]
    for i in reversed(topological(c)):
        below[i] = [(c.due[job], c.weight[job]) for job in c.ops[i].jobs]
        for after in c.ops[i].succs:
            if after not in known or len(_bases_of(c, after)) > 1:
                least = min(c.modes[m].duration for m in c.ops[after].modes)
                taken = round(FOLLOWING * least)
                below[i] += [(due - taken, weight) for due, weight in below[after]]
    found: dict[int, tuple[int, int]] = {}
    for i in mine:
        if below[i]:
            first = min(due for due, _ in below[i])
            together = [weight for due, weight in below[i] if due <= first + TOGETHER_MIN]
            found[i] = first, sum(together)
    return found
