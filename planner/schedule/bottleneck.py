"""The bottleneck of a problem alone: its busiest base as a line that is always open.

Where most of the lateness is made on one base, its order is nearly a problem of its own: one line
with changeovers, on which work is due early enough for all that comes after it on other bases.
Minutes are those in which the base works, so that a night is nothing; as whatever misses an evening
is a night late, due dates are put forward a little more.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
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


@dataclass(frozen=True, slots=True)
class Bottleneck:
    """The busiest base of a problem, and its work as a problem of its own."""

    whole: Compiled
    operations: tuple[int, ...]
    """Those on it, but for fixed ones, as numbered in the whole; theirs in the line follow."""
    feeding: tuple[tuple[int, ...], ...]
    """Modes of what each of them waits for on other bases, as far back as another of them."""
    alone: Compiled
    line: Line

    def ranks(self, order: Sequence[int], others: Sequence[int]) -> tuple[int, ...]:
        """A place for each mode of the whole: those on the line in this order, what they wait for
        when the first of them does, and then all others as they are ranked already."""
        found = [len(order) + rank for rank in others]
        for place, i in reversed(list(enumerate(order))):
            found[self.whole.ops[self.operations[i]].modes[0]] = place
            for mode in self.feeding[i]:
                found[mode] = place
        return tuple(found)

    def order_in(self, start: Start) -> tuple[int, ...]:
        """The order of the line in a start of the whole."""
        place = {operation: number for number, operation in enumerate(start.order)}
        return tuple(topological(self.alone, [place[i] for i in self.operations]))


def as_bottleneck(c: Compiled, earlier_min: int) -> Bottleneck | None:
    """The busiest base, with work due so many minutes earlier; None where its work can be done
    elsewhere too, or is more than a line."""
    if not c.bases:
        return None
    base = _busiest(c)
    mine = [i for i, op in enumerate(c.ops) if any(c.modes[m].base == base for m in op.modes)]
    if any(c.modes[m].base != base for i in mine for m in c.ops[i].modes):
        return None
    free = [i for i in mine if c.ops[i].fixed_start < 0]
    if not free:
        return None
    alone = compile_problem(_alone(c, free, earlier_min))
    line = as_line(alone)
    if line is None or not line.timed:
        return None
    return Bottleneck(c, tuple(free), tuple(_feeding(c, free)), alone, line)


def _busiest(c: Compiled) -> int:
    work = [0] * len(c.bases)
    for mode in c.modes:
        if mode.base != NOWHERE:
            work[mode.base] += mode.duration
    return max(range(len(work)), key=work.__getitem__)


def _alone(c: Compiled, mine: Sequence[int], earlier_min: int) -> Problem:
    """These operations of one base in its working minutes."""
    given = {op.key: op for op in c.problem.operations}
    mode = c.modes[c.ops[mine[0]].modes[0]]
    base, hours = c.bases[mode.base], c.calendars[mode.calendar]
    return Problem(
        bases=tuple(
            replace(each, free_from_min=hours.until(base.free_from))
            for each in c.problem.bases
            if each.key == base.key
        ),
        stations=tuple(
            replace(each, hours=None) for each in c.problem.stations if each.base_key == base.key
        ),
        operations=tuple(_bare(given[c.ops[i].key]) for i in mine),
        arcs=tuple(Arc(c.ops[i].key, c.ops[j].key) for i, j in _arcs(c, mine)),
        jobs=tuple(_jobs(c, mine, hours, earlier_min)),
        levels=c.problem.levels,
    )


def _bare(op: Operation) -> Operation:
    """What it takes and needs by its first alternative, whenever and whoever does it."""
    first = replace(op.alternatives[0], who=(), attended_min=None)
    return replace(op, alternatives=(first,), release_min=0, latest_end_min=None, issued=None)


def _arcs(c: Compiled, mine: Sequence[int]) -> Iterator[tuple[int, int]]:
    """Which of the operations wait for which, whatever is between them elsewhere."""
    known = set(mine)
    nearest: list[set[int]] = [set() for _ in c.ops]
    for i in topological(c):
        for pred in c.ops[i].preds:
            before = pred.operation
            nearest[i] |= {before} if before in known else nearest[before]
        if i in known:
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


def _jobs(c: Compiled, mine: Sequence[int], hours: Calendar, earlier_min: int) -> Iterator[Job]:
    """Of each operation as one those jobs for which no later one of the base has to be done."""
    known = set(mine)
    below: list[list[tuple[int, int]]] = [[] for _ in c.ops]
    for i in reversed(topological(c)):
        below[i] = [(c.due[job], c.weight[job]) for job in c.ops[i].jobs]
        for after in c.ops[i].succs:
            if after not in known:
                least = min(c.modes[m].duration for m in c.ops[after].modes)
                taken = round(FOLLOWING * least)
                below[i] += [(due - taken, weight) for due, weight in below[after]]
    for i in mine:
        if below[i]:
            first = min(due for due, _ in below[i])
            weight = sum(weight for due, weight in below[i] if due <= first + TOGETHER_MIN)
            due_min = hours.until(max(0, first - earlier_min))
            yield Job(c.ops[i].key, due_min, (c.ops[i].key,), weight)
