"""Floor of lateness from capacity: bases must have worked enough before jobs can be complete.

Every operation is counted for one of the jobs that wait for it. When the k-th job is complete,
its group of bases has worked at least the k smallest amounts, whatever is interrupted or moved
between its bases (a preemptive relaxation without changeovers). Sorted completions against
sorted due dates, less what must follow, give the least total lateness; weights are taken in
layers: a job of weight 3 is in the layers 1, 2 and 3.
"""

from __future__ import annotations

from bisect import bisect_left
from collections.abc import Sequence

from planner.schedule.calendar import FAR_MIN
from planner.schedule.compiled import Compiled
from planner.schedule.dispatch import topological
from planner.schedule.floors.alone import completions_alone, times_alone
from planner.schedule.floors.groups import BaseGroup, base_groups
from planner.schedule.floors.windows import Clock
from planner.schedule.problem import Term
from planner.schedule.result import Floor

MOST_LAYERS = 200


def lateness_by_capacity(compiled: Compiled) -> Floor:
    """The best over all groups of bases."""
    starts, _ = times_alone(compiled)
    tails = _tails(compiled)
    owner = _owners(compiled)
    best = max(
        (_of_group(compiled, group, starts, tails, owner) for group in base_groups(compiled)),
        default=0,
    )
    return Floor(Term.LATENESS, best, "one group of stations, work interrupted at will")


def _tails(compiled: Compiled) -> list[dict[int, int]]:
    """For each operation and each job that waits for it, the minutes that must follow."""
    tails: list[dict[int, int]] = [{} for _ in compiled.ops]
    for i in reversed(topological(compiled)):
        op = compiled.ops[i]
        tails[i] = dict.fromkeys(op.jobs, 0)
        for after in op.succs:
            arcs = [p for p in compiled.ops[after].preds if p.operation == i and not p.from_start]
            if not arcs or compiled.ops[after].fixed_start >= 0:
                continue
            length = min(compiled.modes[m].duration for m in compiled.ops[after].modes)
            length += max(p.lag for p in arcs)
            for job, tail in tails[after].items():
                tails[i][job] = max(tails[i].get(job, -FAR_MIN), tail + length)
    return tails


def _owners(compiled: Compiled) -> list[int]:
    """The one job that each operation is counted for: the first due; -1 if none waits for it."""
    owner = [-1] * len(compiled.ops)
    for i in reversed(topological(compiled)):
        op = compiled.ops[i]
        waiting = [*op.jobs, *(owner[after] for after in op.succs if owner[after] >= 0)]
        owner[i] = min(waiting, key=lambda job: compiled.due[job], default=-1)
    return owner


def _of_group(
    compiled: Compiled,
    group: BaseGroup,
    starts: Sequence[int],
    tails: Sequence[dict[int, int]],
    owner: Sequence[int],
) -> int:
    work: dict[int, int] = {}
    tail: dict[int, int] = {}
    first = FAR_MIN
    for i in group.operations:
        op, job = compiled.ops[i], owner[i]
        if job < 0 or op.fixed_start >= 0 or job not in tails[i]:
            continue
        work[job] = work.get(job, 0) + min(compiled.modes[m].duration for m in op.modes)
        tail[job] = min(tail.get(job, FAR_MIN), tails[i][job])
        first = min(first, starts[i])
    if not work:
        return 0
    clock = _Finish(compiled, group, first)
    alone = completions_alone(compiled)
    layers = sorted({compiled.weight[job] for job in work})[:MOST_LAYERS]
    total = below = 0
    for layer in layers:
        jobs = [job for job in work if compiled.weight[job] >= layer]
        total += (layer - below) * _layer(compiled, jobs, work, tail, clock)
        below = layer
    others = (job for job in range(len(compiled.due)) if job not in work)
    return total + sum(
        compiled.weight[job] * max(0, alone[job] - compiled.due[job]) for job in others
    )


def _layer(
    compiled: Compiled,
    jobs: Sequence[int],
    work: dict[int, int],
    tail: dict[int, int],
    clock: _Finish,
) -> int:
    done = late = 0
    dues = sorted(compiled.due[job] - tail[job] for job in jobs)
    for minutes, due in zip(sorted(work[job] for job in jobs), dues, strict=True):
        done += minutes
        late += max(0, clock.when(done) - due)
    return late


class _Finish:
    """When a group of bases can have worked so many minutes together, from `first` on."""

    def __init__(self, compiled: Compiled, group: BaseGroup, first: int) -> None:
        changes: dict[int, int] = {}
        for start, end in Clock.of(compiled, group).opens:
            if end > first:
                begin = max(start, first)
                changes[begin] = changes.get(begin, 0) + 1
                changes[end] = changes.get(end, 0) - 1
        self.minutes: list[int] = []
        self.worked: list[int] = []
        self.rates: list[int] = []
        rate = worked = before = 0
        for minute in sorted(changes):
            worked += rate * (minute - before)
            rate, before = rate + changes[minute], minute
            self.minutes.append(minute)
            self.worked.append(worked)
            self.rates.append(rate)

    def when(self, work: int) -> int:
        """The earliest minute at which `work` minutes may be done; nothing is done at once."""
        i = bisect_left(self.worked, work) - 1
        if i < 0:
            return 0
        return self.minutes[i] - (self.worked[i] - work) // max(1, self.rates[i])
