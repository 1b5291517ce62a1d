"""What would make a late job on time: tried, not guessed.

Each remedy is applied to the best list, the list is placed again, and only one that really makes
the job punctual is told. Moves come first, since they cost nothing: an operation of another job
that is ahead in the critical chain is put behind the late job's own, as long as all jobs together
get no later. Then overtime at a station of the chain, in steps of a quarter of an hour.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

from planner.schedule.compiled import NOWHERE, TERMS, Compiled, compile_problem
from planner.schedule.decoder import decode
from planner.schedule.dispatch import Start, topological
from planner.schedule.problem import Hours, Interval, Problem, Term

MOST_MOVES = 12
STEP_MIN, MOST_STEPS = 15, 32


@dataclass(frozen=True, slots=True)
class Remedy:
    """One change that makes one job on time."""

    move: str | None = None
    """This operation goes behind `behind`, both on the same station."""
    behind: str | None = None
    station: str | None = None
    """Overtime here, and for everybody who runs it, of `overtime_min` from `from_min` on."""
    overtime_min: int = 0
    from_min: int = 0

    def __str__(self) -> str:
        if self.move is not None:
            return f"do {self.move} after {self.behind}"
        return f"{self.overtime_min} min of overtime on {self.station}"


def find_remedy(compiled: Compiled, best: Start, final: int, chain: Sequence[int]) -> Remedy | None:
    """The first remedy that works for the job that ends with `final`; None if none was found."""
    job = compiled.ops[final].jobs[0]
    due = compiled.due[job]
    late = best.terms[TERMS.index(Term.LATENESS)]
    for order, remedy in _moves(compiled, best, final, chain):
        decoder, _ = decode(compiled, order, list(best.modes))
        better = decoder.terms[TERMS.index(Term.LATENESS)] < late
        sound = decoder.terms[TERMS.index(Term.VIOLATION)] == 0
        if decoder.end[final] <= due and better and sound:
            return remedy
    return _overtime(compiled, best, final, chain, due)


def _moves(
    compiled: Compiled, best: Start, final: int, chain: Sequence[int]
) -> Iterator[tuple[list[int], Remedy]]:
    """Lists in which one operation ahead in the chain comes after the job's own on its base."""
    own = _ancestors(compiled, final)
    base = {i: compiled.modes[best.modes[i]].base for i in chain}
    mine = [i for i in chain if i in own and base[i] != NOWHERE]
    others = [i for i in chain if i not in own and compiled.ops[i].fixed_start < 0]
    pairs = [(y, x) for x in mine for y in reversed(others) if base[x] == base[y]]
    place = {op: p for p, op in enumerate(best.order)}
    for y, x in pairs[:MOST_MOVES]:
        rank = [2 * place[i] for i in range(len(compiled.ops))]
        rank[y] = 2 * place[x] + 1
        order = topological(compiled, rank)
        yield order, Remedy(move=compiled.ops[y].key, behind=compiled.ops[x].key)


def _ancestors(compiled: Compiled, final: int) -> set[int]:
    found = {final}
    ahead = [final]
    while ahead:
        for pred in compiled.ops[ahead.pop()].preds:
            if pred.operation not in found:
                found.add(pred.operation)
                ahead.append(pred.operation)
    return found


def _overtime(
    compiled: Compiled, best: Start, final: int, chain: Sequence[int], due: int
) -> Remedy | None:
    modes = [compiled.modes[best.modes[i]] for i in chain]
    load: dict[str, int] = {}
    for mode in modes:
        if mode.base != NOWHERE:
            load[mode.station] = load.get(mode.station, 0) + mode.duration
    for station in sorted(load, key=lambda name: (-load[name], name))[:2]:
        for step in (1, 2, 4, 8, 16, MOST_STEPS):
            extra = _extended(compiled.problem, station, due, step * STEP_MIN)
            if extra is None:
                break
            problem, from_min = extra
            changed = compile_problem(problem)
            if decode(changed, best.order, list(best.modes))[0].end[final] <= due:
                return Remedy(station=station, overtime_min=step * STEP_MIN, from_min=from_min)
    return None


def _extended(problem: Problem, station: str, due: int, minutes: int) -> tuple[Problem, int] | None:
    """The problem with so many more minutes after the last shift of the station that ends in
    time, and when they begin; None where that is not free."""
    hours = next(each.hours for each in problem.stations if each.key == station)
    ends = [piece.end_min for piece in hours or () if piece.end_min + minutes <= due]
    if not ends:
        return None
    extra = Interval(ends[-1], ends[-1] + minutes, overtime_price=1)
    stations = tuple(
        replace(each, hours=_with(each.hours, extra)) if each.key == station else each
        for each in problem.stations
    )
    people = tuple(
        replace(each, hours=_with(each.hours, extra)) if station in each.stations else each
        for each in problem.people
    )
    return replace(problem, stations=stations, people=people), ends[-1]


def _with(hours: Hours, extra: Interval) -> Hours:
    """The hours with one more interval, which gives way where there are hours already."""
    if hours is None:
        return None
    start = extra.start_min
    added: list[Interval] = []
    for each in hours:
        if each.end_min <= start or each.start_min >= extra.end_min:
            continue
        if start < each.start_min:
            added.append(replace(extra, start_min=start, end_min=each.start_min))
        start = max(start, each.end_min)
    if start < extra.end_min:
        added.append(replace(extra, start_min=start))
    return tuple(sorted((*hours, *added), key=lambda each: each.start_min))
