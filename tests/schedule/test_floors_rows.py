"""Every schedule is a point of the linear programs, so that their floors can lie above none."""

from __future__ import annotations

from bisect import bisect_left
from collections.abc import Mapping, Sequence
from dataclasses import replace
from itertools import pairwise

import pytest

from planner.schedule.chain import Chain
from planner.schedule.compiled import NOWHERE, TERMS, Compiled, compile_problem
from planner.schedule.decoder import Step, decode
from planner.schedule.dispatch import Start
from planner.schedule.floors.changeover import groups_of
from planner.schedule.floors.groups import base_groups
from planner.schedule.floors.late import Late, needed_by
from planner.schedule.floors.program import Program
from planner.schedule.floors.timed import Timed
from planner.schedule.floors.visits import Visits
from planner.schedule.phases import energies
from planner.schedule.problem import Term
from planner.schedule.rules import make_rules
from tests.benchmarks.weeks import a_week
from tests.schedule.shops import a_random_shop
from tests.schedule.tubes import a_small_tube_shop

Mounted = Mapping[str, str]
LATENESS, CHANGEOVER = TERMS.index(Term.LATENESS), TERMS.index(Term.CHANGEOVER)


def the_point(timed: Program, compiled: Compiled, steps: Sequence[Step]) -> list[int]:
    """What a schedule is in the columns of the program: as if only what it looks at were done, as
    whatever is done in between can only cost more."""
    point = [0] * len(timed.linear.costs)
    period = {step.operation: bisect_left(timed.ends, step.end) for step in steps}
    for i, (first, last) in timed.spans.items():
        assert first <= period[i] <= last
    for i, columns in timed.share.items():
        point[columns[period[i] - timed.spans[i][0]]] = 1
    for visits in timed.visits:
        for base in visits.states.bases:
            number = compiled.bases.index(base)
            here = [s for s in steps if compiled.modes[s.mode].base == number]
            known = [s for s in here if s.operation in visits.states.needs]
            _count_visits(visits, compiled, number, known, period, point)
            _count_changes(visits, compiled, number, here, point)
    _costs(timed, point)
    return point


def _count_visits(
    visits: Visits,
    compiled: Compiled,
    number: int,
    steps: Sequence[Step],
    period: dict[int, int],
    point: list[int],
) -> None:
    base, names = compiled.bases[number], visits.states.attributes
    mounted = {slot.attribute: slot.names[slot.mounted] for slot in base.slots}
    states, periods = [dict(mounted)], [-1]
    for step in steps:
        for need in compiled.modes[step.mode].needs:
            slot = base.slots[need.slot - base.first_slot]
            mounted[slot.attribute] = slot.names[need.value]
        states.append(dict(mounted))
        periods.append(period[step.operation])
    for (part, value), operations in visits.members.items():
        inside = [tuple(s.get(names[q]) for q in part) == value for s in states]
        begin = 0
        while begin < len(states):
            end = begin
            while end + 1 < len(states) and inside[end + 1] == inside[begin]:
                end += 1
            done = any(step.operation in operations for step in steps[max(0, begin - 1) : end])
            if inside[begin] and done:
                if begin:
                    point[visits.entry[part, value][periods[begin]]] += 1
                until = periods[end + 1] if end + 1 < len(periods) else visits.count
                for k in range(max(0, periods[begin]), min(until, visits.count - 1)):
                    point[visits.carry[part, value][k]] += 1
            begin = end + 1
    _count_kept(visits, states, point)


def _count_changes(
    visits: Visits, compiled: Compiled, number: int, steps: Sequence[Step], point: list[int]
) -> None:
    """From name to name between operations that are looked at; what comes back to a name on the
    way could as well have stayed."""
    base, names = compiled.bases[number], visits.states.attributes
    way = {names.index(slot.attribute): [slot.names[slot.mounted]] for slot in base.slots}
    for step in steps:
        for need in compiled.modes[step.mode].needs:
            slot = base.slots[need.slot - base.first_slot]
            path, name = way[names.index(slot.attribute)], slot.names[need.value]
            if name in path:
                del path[path.index(name) :]
            path.append(name)
        for q, path in way.items():
            if q not in visits.states.touches.get(step.operation, ()):
                continue
            for pair in pairwise(path):
                if (q, *pair) in visits.change:
                    point[visits.change[q, *pair]] += 1
            del path[:-1]


def _count_kept(visits: Visits, states: Sequence[Mounted], point: list[int]) -> None:
    names = visits.states.attributes
    for core, q, into, out in visits.kept:
        for before, after in pairwise(states):
            a, b = (tuple(s.get(names[p], "") for p in core) for s in (before, after))
            if a != b and before.get(names[q]) == after.get(names[q]):
                point[into[b]] += 1
                if a in out:
                    point[out[a]] += 1


def _costs(program: Program, point: list[int]) -> None:
    """The columns of minutes that only rows from below hold up."""
    entries = {c for visits in program.visits for columns in visits.entry.values() for c in columns}
    entries |= {c for visits in program.visits for c in visits.change.values()}
    shares = {c for columns in program.share.values() for c in columns}
    costs = {column for column, cost in enumerate(program.linear.costs) if cost}
    costs |= {c for visits in program.visits for cost in visits.cost for c, _ in cost}
    known = entries | shares
    for column in sorted(costs - entries):
        rows = [
            (terms, limit) for terms, limit in program.linear.rows
            if (column, -1) in terms and all(c in known or c == column for c, _ in terms)
        ]  # fmt: skip
        sums = (sum(f * point[c] for c, f in terms if c != column) - limit for terms, limit in rows)
        point[column] = max(0, *sums, 0)
        known.add(column)


def assert_point(program: Program, steps: Sequence[Step], minutes: int) -> None:
    """No row is broken, no column is outside of its box, and it costs no more than the schedule."""
    point = the_point(program, program.compiled, steps)
    assert all(0 <= x <= high for x, high in zip(point, program.linear.highs, strict=True))
    for terms, limit in program.linear.rows:
        assert sum(factor * point[column] for column, factor in terms) <= limit
    cost = sum(c * x for c, x in zip(program.linear.costs, point, strict=True))
    assert cost <= minutes


def assert_points(compiled: Compiled, best: Start) -> None:
    """The schedule is a point of both programs with all rows that their solutions ask for."""
    decoder, steps = decode(compiled, best.order, list(best.modes))
    steps = [s for s in steps if compiled.modes[s.mode].base != NOWHERE]
    late, minutes = decoder.terms[LATENESS], decoder.terms[CHANGEOVER]
    groups, always = base_groups(compiled), groups_of(compiled).minutes
    timed = Timed(compiled, groups, late, always)
    timed.floor(4000)
    assert_point(timed, steps, minutes)
    dues = sorted(compiled.due)
    for due_by in {dues[len(dues) // 3], dues[-1]}:
        needed, changes = needed_by(compiled, due_by, always)
        if not any(group.operations for group in needed):
            continue
        program = Late(compiled, needed, changes, late)
        program.floor(4000)
        assert_point(program, steps, late - program.sure)


@pytest.mark.parametrize("seed", range(60))
def test_no_row_is_broken_by_a_small_schedule(seed: int) -> None:
    problem = (
        a_small_tube_shop(seed, 12) if seed % 3 else a_random_shop(seed, 10, people=seed % 2 == 0)
    )
    if seed % 4 == 1:
        problem = replace(problem, jobs=tuple(replace(j, due_min=0) for j in problem.jobs))
    compiled = compile_problem(problem)
    chain = Chain(compiled)
    start = make_rules(compiled).named["ATCS"]
    for weight in (0.0, 0.05):
        chain.begin(start, seed, energies(compiled, weight))
        chain.anneal(20_000, 30.0, 1.0, 40)
        best = chain.best()
        if best.terms[0]:
            continue
        assert_points(compiled, best)


@pytest.mark.parametrize(("lots", "finishers", "people"), [(20, 1, False), (24, 2, True)])
def test_no_row_is_broken_by_a_week(lots: int, finishers: int, people: bool) -> None:
    compiled = compile_problem(a_week(lots, 5, finishers=finishers, people=people))
    chain = Chain(compiled)
    named = make_rules(compiled).named
    for name in ("due date", "by state", "ATCS"):
        chain.begin(named[name], 1, energies(compiled, 0.0))
        chain.anneal(60_000, 30.0, 1.0, 40)
        best = chain.best()
        assert best.terms[0] == 0, name
        assert_points(compiled, best)
