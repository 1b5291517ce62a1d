"""Overtime is used only where it pays.

The decoder works in every minute that its calendars offer, so that overtime which is offered is
worked. Therefore the week is first planned without any; only if work is then late or has no
place is it planned with all of it, and afterwards each stretch of overtime whose loss does not
make the plan worse is taken away again, the latest first.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from planner.errors import InputError
from planner.schedule.compiled import TERMS, Compiled, Mode, compile_problem
from planner.schedule.decoder import placed
from planner.schedule.dispatch import Start
from planner.schedule.problem import Hours, Interval, Problem, Term

Window = tuple[int, int]


def windows(problem: Problem) -> tuple[Window, ...]:
    """Stretches of overtime of anybody, joined where they overlap or touch."""
    hours = [*(s.hours for s in problem.stations), *(p.hours for p in problem.people)]
    spans = sorted(
        (each.start_min, each.end_min)
        for intervals in hours
        for each in intervals or ()
        if each.overtime_price
    )
    joined: list[Window] = []
    for start, end in spans:
        if joined and start <= joined[-1][1]:
            joined[-1] = (joined[-1][0], max(end, joined[-1][1]))
        else:
            joined.append((start, end))
    return tuple(joined)


def without(problem: Problem, dropped: tuple[Window, ...]) -> Problem:
    """The problem without the overtime that begins inside the dropped stretches; what fixed work
    takes of it on its station is worked all the same."""
    kept: dict[str, list[Window]] = {station.key: [] for station in problem.stations}
    for fixed in (op.fixed for op in problem.operations):
        if fixed is not None and not fixed.done:
            kept[fixed.station].append((fixed.start_min, fixed.end_min))
    return replace(
        problem,
        stations=tuple(
            replace(s, hours=_less(s.hours, dropped, kept[s.key])) for s in problem.stations
        ),
        people=tuple(replace(p, hours=_less(p.hours, dropped, ())) for p in problem.people),
    )


def compiled_without(problem: Problem, dropped: tuple[Window, ...]) -> Compiled | None:
    """None where some work can only be done in the overtime that is left out."""
    try:
        return compile_problem(without(problem, dropped))
    except InputError:
        return None


def punctual(start: Start) -> bool:
    """Whether everything has a place and nothing is late."""
    return nothing_late(start.terms)


def nothing_late(terms: Sequence[int]) -> bool:
    """Whether terms are those of a schedule in which everything has a place and nothing is late."""
    return not (terms[TERMS.index(Term.LATENESS)] or terms[TERMS.index(Term.VIOLATION)])


def placed_in(other: Compiled, compiled: Compiled, start: Start) -> Start:
    """A schedule of a problem compiled with other hours, in those. Ways of doing work that nobody
    has hours for have no number there: such work is done in the first of the other ways."""
    modes = tuple(
        next(
            (m for m in op.modes if _is_same_way(other.modes[m], compiled.modes[mode])), op.modes[0]
        )
        for op, mode in zip(other.ops, start.modes, strict=True)
    )
    return placed(other, start.order, modes)


def _is_same_way(one: Mode, other: Mode) -> bool:
    return (one.station, one.duration, one.attended, one.needs, one.able) == (
        other.station, other.duration, other.attended, other.needs, other.able
    )  # fmt: skip


def trim(compiled: Compiled, best: Start) -> tuple[Compiled, Start]:
    """Take away every stretch of overtime that the best list does as well without."""
    dropped: tuple[Window, ...] = ()
    problem = compiled.problem
    for window in reversed(windows(problem)):
        fewer = compiled_without(problem, (*dropped, window))
        if fewer is None:
            continue
        again = placed_in(fewer, compiled, best)
        if compiled.levels(again.terms) <= compiled.levels(best.terms):
            dropped = (*dropped, window)
            compiled, best = fewer, again
    return compiled, best


def _less(hours: Hours, dropped: tuple[Window, ...], kept: Sequence[Window]) -> Hours:
    if hours is None:
        return None
    fewer = [each for each in hours if not _is_dropped(each, dropped)]
    for each in hours:
        if _is_dropped(each, dropped):
            fewer += (
                replace(each, start_min=max(start, each.start_min), end_min=min(end, each.end_min))
                for start, end in kept
                if start < each.end_min and each.start_min < end
            )
    return tuple(sorted(fewer, key=lambda each: each.start_min))


def _is_dropped(each: Interval, dropped: tuple[Window, ...]) -> bool:
    inside = any(start <= each.start_min < end for start, end in dropped)
    return each.overtime_price > 0 and inside
