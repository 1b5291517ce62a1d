"""Checks a result of the run-order engine against its problem, from the problem alone."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from itertools import pairwise

from planner.schedule import (
    Alternative,
    Base,
    Combine,
    Job,
    Operation,
    Placed,
    Problem,
    Result,
    Station,
    Term,
)
from planner.schedule.problem import Hours

Span = tuple[int, int]


def assert_schedule_valid(problem: Problem, result: Result) -> None:
    """Every operation once, nothing twice at once, hours, changeovers, precedence, figures."""
    placed = {each.operation: each for each in result.placed}
    assert sorted(placed) == sorted(op.key for op in problem.operations)
    assert len(result.placed) == len(placed)
    for op in problem.operations:
        _assert_operation(problem, op, placed[op.key])
    _assert_precedence(problem, placed)
    _assert_one_at_a_time(problem, result)
    _assert_changeovers(problem, result)
    _assert_figures(problem, result, placed)


def _way(op: Operation, placed: Placed) -> Alternative:
    return next(a for a in op.alternatives if a.station == placed.station)


def _assert_operation(problem: Problem, op: Operation, placed: Placed) -> None:
    station = next(s for s in problem.stations if s.key == placed.station)
    if op.fixed is not None:
        assert (placed.start_min, placed.end_min) == (op.fixed.start_min, op.fixed.end_min)
        return
    way = _way(op, placed)
    assert sum(end - start for start, end in placed.pieces) == way.duration_min
    assert placed.start_min >= op.release_min
    assert op.latest_end_min is None or placed.end_min <= op.latest_end_min
    assert problem.horizon_min is None or placed.end_min <= problem.horizon_min
    assert op.may_pause or len(placed.pieces) <= 1
    if station.unlimited:
        return
    changed = placed.changeover_start_min + placed.changeover_min
    assert changed <= placed.start_min
    attended = [(a, min(b, placed.attended_end_min)) for a, b in placed.pieces]
    if placed.changeover_min:
        attended.append((placed.changeover_start_min, changed))
    _assert_inside(placed.pieces, station.hours)
    _assert_inside([(a, b) for a, b in attended if a < b], station.hours)
    needed = way.crew if problem.people else 0
    if placed.changeover_min or placed.attended_end_min > placed.start_min:
        assert len(set(placed.people)) == needed
    for key in placed.people:
        person = next(p for p in problem.people if p.key == key)
        assert placed.station in person.stations
        assert not way.who or key in way.who
        _assert_inside([(a, b) for a, b in attended if a < b], person.hours)


def _assert_inside(spans: Iterable[Span], hours: Hours) -> None:
    if hours is None:
        return
    joined: list[list[int]] = []
    for each in hours:
        if joined and joined[-1][1] == each.start_min:
            joined[-1][1] = each.end_min
        else:
            joined.append([each.start_min, each.end_min])
    for start, end in spans:
        assert any(a <= start and end <= b for a, b in joined), (start, end)


def _assert_precedence(problem: Problem, placed: Mapping[str, Placed]) -> None:
    for arc in problem.arcs:
        before, after = placed[arc.before], placed[arc.after]
        held = (before.start_min if arc.from_start else before.end_min) + arc.lag_min
        done = next(op for op in problem.operations if op.key == arc.after).fixed
        assert after.start_min >= held or done is not None


def _assert_one_at_a_time(problem: Problem, result: Result) -> None:
    spans: dict[str, list[Span]] = {}
    base = {s.key: s.base_key for s in problem.stations if not s.unlimited}
    done = {op.key for op in problem.operations if op.fixed and op.fixed.done}
    for each in result.placed:
        if each.station not in base or each.operation in done:
            continue
        begin = min(each.changeover_start_min, each.start_min)
        spans.setdefault(base[each.station], []).append((begin, each.end_min))
        if each.attended_end_min > begin:
            for person in each.people:
                spans.setdefault(f"person {person}", []).append((begin, each.attended_end_min))
    for busy in spans.values():
        busy.sort()
        for (_, end), (start, _) in pairwise(busy):
            assert end <= start


def _assert_changeovers(problem: Problem, result: Result) -> None:
    """Every changeover has the minutes of its base's rules for what really was mounted."""
    stations = {s.key: s for s in problem.stations}
    operations = {op.key: op for op in problem.operations}
    bases = {base.key: base for base in problem.bases}
    mounted = {key: dict(base.mounted) for key, base in bases.items()}
    for each in sorted(result.placed, key=lambda p: (p.start_min, p.end_min)):
        op, station = operations[each.operation], stations[each.station]
        if station.unlimited or (op.fixed and op.fixed.done) or station.base_key not in bases:
            continue
        needs = {**station.needs, **op.needs, **_way(op, each).needs}
        state = mounted[station.base_key]
        assert each.changeover_min == _minutes(bases[station.base_key], station, state, needs)
        state.update(needs)


def _minutes(
    base: Base, station: Station, state: Mapping[str, str], needs: Mapping[str, str]
) -> int:
    minutes: list[int] = []
    for rule in base.rules:
        if rule.attribute not in needs:
            continue
        before, after = state.get(rule.attribute), needs[rule.attribute]
        if before is None:
            minutes.append(rule.minutes if rule.from_nothing is None else rule.from_nothing)
        else:
            usual = 0 if before == after else rule.minutes
            minutes.append(rule.from_to.get((before, after), usual))
    assert station.base_key == base.key
    return max(minutes, default=0) if base.combine is Combine.LONGEST else sum(minutes)


def _assert_figures(problem: Problem, result: Result, placed: Mapping[str, Placed]) -> None:
    terms = result.figures.terms
    end = {job.key: max(placed[key].end_min for key in job.finals) for job in problem.jobs}
    late = sum(job.weight * max(0, end[job.key] - job.due_min) for job in problem.jobs)
    assert terms[Term.VIOLATION] == 0
    assert terms[Term.LATENESS] == late
    assert terms[Term.COMPLETION] == sum(max(0, minute) for minute in end.values())
    assert terms[Term.HOLDING] == sum(
        arc.holding * max(0, placed[arc.after].start_min - placed[arc.before].end_min)
        for arc in problem.arcs
    )
    assert terms[Term.CHANGEOVER] == sum(each.changeover_min for each in result.placed)
    assert terms[Term.OVERTIME] == sum(
        _overtime(problem, op, placed[op.key]) for op in problem.operations
    )
    assert terms[Term.DISTURBANCE] == sum(
        _disturbance(op, placed[op.key]) for op in problem.operations
    )
    assert terms[Term.TIGHTNESS] == sum(_tightness(job, end[job.key]) for job in problem.jobs)
    assert result.figures.levels == tuple(
        sum(weight * terms[term] for term, weight in level.items()) for level in problem.levels
    )
    for floor in result.floors:
        assert terms[floor.term] >= floor.value
    for rule in result.rules.values():
        assert result.figures.levels <= rule.levels


def _overtime(problem: Problem, op: Operation, placed: Placed) -> int:
    """Every minute at the price of the station and, where people are there, of each of them."""
    station = next(s for s in problem.stations if s.key == placed.station)
    if station.unlimited or (op.fixed and op.fixed.done):
        return 0
    staff = [p.hours for p in problem.people if p.key in placed.people and not op.fixed]
    attended = [station.hours, *staff]
    until = placed.end_min if op.fixed else placed.attended_end_min
    begin = placed.changeover_start_min
    return (
        _price([(begin, begin + placed.changeover_min)], attended)
        + _price([(a, min(b, until)) for a, b in placed.pieces], attended)
        + _price([(max(a, until), b) for a, b in placed.pieces], [station.hours])
    )


def _price(spans: Iterable[Span], everybody: Sequence[Hours]) -> int:
    minutes = (minute for start, end in spans for minute in range(start, end))
    return sum(_minute_price(minute, everybody) for minute in minutes)


def _minute_price(minute: int, everybody: Sequence[Hours]) -> int:
    prices: list[int] = []
    for hours in everybody:
        if hours is not None:
            at = [i.overtime_price for i in hours if i.start_min <= minute < i.end_min]
            if not at:
                return 0
            prices += at
    return sum(prices)


def _disturbance(op: Operation, placed: Placed) -> int:
    if op.issued is None:
        return 0
    shift = abs(placed.start_min - op.issued.start_min)
    moved = shift > 0 or placed.station != op.issued.station
    return (op.issued.charge if moved else 0) + shift // 60


def _tightness(job: Job, end: int) -> int:
    aim = job.due_min - job.spare_min if job.aim_min is None else job.aim_min
    spent = min(max(0, end - aim), job.spare_min)
    return job.weight * (100 * spent**2 // job.spare_min**2) if spent else 0
