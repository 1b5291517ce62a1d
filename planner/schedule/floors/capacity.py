"""Floor of lateness from capacity: bases and people must have worked enough before jobs end.

Every operation is counted for one of the jobs that wait for it. When the k-th job is complete,
its group of bases has worked at least the k smallest amounts, whatever is interrupted or moved
between its bases (a preemptive relaxation without changeovers). The same holds of people, who must
have attended as much. Sorted completions against sorted due dates, less what must follow, give the
least total lateness; weights are taken in layers: a job of weight 3 is in the layers 1, 2 and 3.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from planner.schedule.calendar import FAR_MIN
from planner.schedule.compiled import Compiled
from planner.schedule.dispatch import topological
from planner.schedule.floors.alone import completions_alone, times_alone
from planner.schedule.floors.groups import base_groups
from planner.schedule.floors.people import staffs
from planner.schedule.floors.program import minutes_of
from planner.schedule.floors.windows import Clock, Pace
from planner.schedule.problem import Term
from planner.schedule.result import Floor

MOST_LAYERS = 200
STATIONS = "one group of stations, work interrupted at will"
PEOPLE = "some of the people, work interrupted at will"


def lateness_by_capacity(compiled: Compiled) -> Floor:
    """The best over all groups of bases, and over all people that some work needs."""
    groups = base_groups(compiled)
    count = _Count(
        compiled,
        times_alone(compiled)[0],
        _tails(compiled),
        _owners(compiled),
        completions_alone(compiled),
    )
    found = [(0, STATIONS)]
    for group in groups:
        work = {i: minutes_of(compiled, i) for i in group.operations}
        found.append((count.least(work, Clock.of(compiled, group)), STATIONS))
    for staff in staffs(compiled, groups):
        found.append((count.least(staff.work, staff.clock), PEOPLE))
    value, kind = max(found, key=lambda each: each[0])
    return Floor(Term.LATENESS, value, kind)


def _tails(compiled: Compiled) -> list[dict[int, int]]:
    """For each operation and each job that waits for it, the minutes that must follow."""
    tails: list[dict[int, int]] = [{} for _ in compiled.ops]
    for i in reversed(topological(compiled)):
        op = compiled.ops[i]
        tails[i] = dict.fromkeys(op.jobs, 0)
        for after in op.succs:
            arcs = [p for p in compiled.ops[after].preds if p.operation == i and not p.from_start]
            if not arcs or compiled.ops[after].fixed_start >= 0 or compiled.ops[after].done:
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


@dataclass(frozen=True, slots=True)
class _Count:
    """What is known of all operations and jobs."""

    compiled: Compiled
    starts: Sequence[int]
    tails: Sequence[dict[int, int]]
    owner: Sequence[int]
    alone: Sequence[int]

    def least(self, minutes: Mapping[int, int], clock: Clock) -> int:
        """Weighted lateness if the operations take so many minutes of some bases or people."""
        due, weight = self.compiled.due, self.compiled.weight
        work: dict[int, int] = {}
        tail: dict[int, int] = {}
        first = FAR_MIN
        for i, each in minutes.items():
            job = self.owner[i]
            if job < 0 or self.compiled.ops[i].fixed_start >= 0 or job not in self.tails[i]:
                continue
            work[job] = work.get(job, 0) + each
            tail[job] = min(tail.get(job, FAR_MIN), self.tails[i][job])
            first = min(first, self.starts[i])
        if not work:
            return 0
        pace = Pace(clock, first)
        total = below = 0
        for layer in sorted({weight[job] for job in work})[:MOST_LAYERS]:
            dues = {job: due[job] - tail[job] for job in work if weight[job] >= layer}
            total += (layer - below) * _layer(dues, work, pace)
            below = layer
        others = (job for job in range(len(due)) if job not in work)
        return total + sum(weight[job] * max(0, self.alone[job] - due[job]) for job in others)


def _layer(dues: Mapping[int, int], work: Mapping[int, int], pace: Pace) -> int:
    done = late = 0
    sizes = sorted(work[job] for job in dues)
    for minutes, due in zip(sizes, sorted(dues.values()), strict=True):
        done += minutes
        late += max(0, pace.when(done) - due)
    return late
