"""Who is asked for people first, where the order on each base is given."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

import pytest

from planner.schedule import Term
from planner.schedule.asking import asked_in_time
from planner.schedule.compiled import NOWHERE, TERMS, Compiled, compile_problem
from planner.schedule.decoder import decode, placed
from planner.schedule.dispatch import Start
from planner.schedule.rules import make_rules
from planner.schedule.unstaffed import unstaffed
from tests.benchmarks.weeks import a_week

WEEKS = [(30, 5, 1), (60, 82, 2), (60, 83, 1)]


def ordered_and_wished(lots: int, seed: int, finishers: int) -> tuple[Compiled, Start, list[int]]:
    """The order of the best rule, and when its work would begin were nobody needed."""
    compiled = compile_problem(a_week(lots, seed, finishers=finishers, people=True))
    best = min(make_rules(compiled).starts, key=lambda start: compiled.levels(start.terms))
    free, _ = decode(unstaffed(compiled), best.order, list(best.modes))
    return compiled, best, free.start


def by_base(compiled: Compiled, order: Sequence[int], modes: Sequence[int]) -> dict[int, list[int]]:
    found: dict[int, list[int]] = {}
    for op in order:
        found.setdefault(compiled.modes[modes[op]].base, []).append(op)
    found.pop(NOWHERE, None)
    return found


@pytest.mark.parametrize(("lots", "seed", "finishers"), WEEKS)
def test_each_base_and_each_route_keep_their_order(lots: int, seed: int, finishers: int) -> None:
    compiled, order, wished = ordered_and_wished(lots, seed, finishers)
    asked = asked_in_time(compiled, order, wished)
    assert asked.modes == order.modes
    assert by_base(compiled, asked.order, asked.modes) == by_base(
        compiled, order.order, order.modes
    )
    place = {op: p for p, op in enumerate(asked.order)}
    assert len(place) == len(compiled.ops)
    for number, op in enumerate(compiled.ops):
        assert all(place[pred.operation] < place[number] for pred in op.preds)


@pytest.mark.parametrize(("lots", "seed", "finishers"), WEEKS)
def test_its_terms_are_those_of_the_decoder(lots: int, seed: int, finishers: int) -> None:
    compiled, order, wished = ordered_and_wished(lots, seed, finishers)
    asked = asked_in_time(compiled, order, wished)
    assert asked == placed(compiled, asked.order, asked.modes)


@pytest.mark.parametrize("seed", [82, 84, 86])
def test_less_is_late_than_where_people_are_asked_by_start(seed: int) -> None:
    """All due at four fifths of their dates, so that much is late."""
    problem = a_week(60, seed, finishers=2, people=True)
    hurried = tuple(replace(job, due_min=4 * job.due_min // 5) for job in problem.jobs)
    compiled = compile_problem(replace(problem, jobs=hurried))
    rule = make_rules(compiled).starts[0]
    free, _ = decode(unstaffed(compiled), rule.order, list(rule.modes))
    by_start = sorted(rule.order, key=lambda op: (free.start[op], rule.order.index(op)))
    late = TERMS.index(Term.LATENESS)
    usual = placed(compiled, by_start, rule.modes).terms[late]
    asked = asked_in_time(compiled, rule, free.start).terms[late]
    assert asked < usual
