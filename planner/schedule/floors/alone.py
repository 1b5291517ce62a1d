"""Floor of lateness and completion: every job with the shop to itself and nothing to change."""

from __future__ import annotations

from planner.schedule.compiled import NOWHERE, Compiled
from planner.schedule.decoder import run
from planner.schedule.dispatch import topological
from planner.schedule.problem import Term
from planner.schedule.result import Floor


def completions_alone(compiled: Compiled) -> tuple[int, ...]:
    """Per job the earliest minute at which it can be complete."""
    _, ends = times_alone(compiled)
    final = {job: i for i, op in enumerate(compiled.ops) for job in op.jobs}
    return tuple(ends[final[job]] for job in range(len(compiled.due)))


def times_alone(compiled: Compiled) -> tuple[list[int], list[int]]:
    """Earliest start and end of every operation when stations and people are always free.

    Earliest start and earliest end may come from different modes or crews.
    """
    starts, ends = [0] * len(compiled.ops), [0] * len(compiled.ops)
    for i in topological(compiled):
        op = compiled.ops[i]
        ready = max(op.release, 0)
        for pred in op.preds:
            before = starts if pred.from_start else ends
            ready = max(ready, before[pred.operation] + pred.lag)
        if op.done or op.fixed_start >= 0:
            starts[i], ends[i] = op.fixed_start, op.fixed_end
            continue
        tries = [_alone(compiled, mode, ready) for mode in op.modes]
        starts[i], ends[i] = min(s for s, _ in tries), min(e for _, e in tries)
    return starts, ends


class Following:
    """When jobs can be complete that wait for an operation, by when that ends."""

    def __init__(self, compiled: Compiled) -> None:
        self.compiled = compiled
        self._known: dict[tuple[int, int], dict[int, int]] = {}

    def completions(self, i: int, end: int) -> dict[int, int]:
        """The earliest completion of each job that cannot be complete before operation `i`, if
        that ends at minute `end` or later and the shop does nothing else afterwards."""
        if (i, end) not in self._known:
            op = self.compiled.ops[i]
            found = dict.fromkeys(op.jobs, end)
            for after in op.succs:
                for job, minute in self._through(i, end, after).items():
                    found[job] = max(minute, found.get(job, minute))
            self._known[i, end] = found
        return self._known[i, end]

    def _through(self, i: int, end: int, after: int) -> dict[int, int]:
        """What is done or fixed has its times, whatever was to be done before it."""
        op = self.compiled.ops[after]
        lags = [p.lag for p in op.preds if p.operation == i and not p.from_start]
        if not lags or op.done or op.fixed_start >= 0:
            return {}
        ready = max(end + max(lags), op.release, 0)
        return self.completions(after, min(_alone(self.compiled, m, ready)[1] for m in op.modes))


def _alone(compiled: Compiled, number: int, ready: int) -> tuple[int, int]:
    mode = compiled.modes[number]
    if mode.base == NOWHERE:
        return ready, ready + mode.duration
    own = compiled.calendars[mode.calendar]
    may_pause = compiled.ops[mode.operation].may_pause
    tries: list[tuple[int, int]] = []
    for crew in mode.crews:
        first = max(
            ready,
            compiled.bases[mode.base].free_from,
            *(compiled.people_free[p] for p in crew.people),
        )
        start, _, end = run(compiled.calendars[crew.calendar], own, first, mode, may_pause)
        tries.append((start, end))
    if mode.attended == 0:
        start, _, end = run(own, own, max(ready, 0), mode, may_pause)
        tries.append((start, end))
    return min(s for s, _ in tries), min(e for _, e in tries)


def lateness_alone(compiled: Compiled) -> Floor:
    """Weighted lateness that no order of work can avoid."""
    ends = completions_alone(compiled)
    late = (max(0, end - due) for end, due in zip(ends, compiled.due, strict=True))
    value = sum(w * minutes for w, minutes in zip(compiled.weight, late, strict=True))
    return Floor(Term.LATENESS, value, "every job alone in the shop")
