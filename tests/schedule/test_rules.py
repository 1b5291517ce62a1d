"""The dispatch rules of the kernel against the same rules in plain Python."""

from __future__ import annotations

import random
from dataclasses import replace

import pytest

from planner.schedule.compiled import Compiled, compile_problem
from planner.schedule.decoder import decode
from planner.schedule.dispatch import Start, urgencies
from planner.schedule.dispatcher import Dispatcher, DispatchRule, Kind, Patience
from planner.schedule.patience import VALUES
from planner.schedule.rules import (
    AS_ENTERED,
    ATCS,
    ATCS_SCALES,
    BY_STATE,
    DUE_DATE,
    IN_TIME,
    atcs_rules,
    make_rules,
)
from tests.benchmarks.weeks import a_week
from tests.schedule.dispatcher import Dispatcher as PlainDispatcher
from tests.schedule.dispatcher import Priority, as_entered, atcs, by_state, due_date
from tests.schedule.patient import PatientDispatcher
from tests.schedule.shops import a_random_shop

SHOPS = range(40)
WEEKS = ((30, False, 1), (40, True, 1), (30, False, 2), (25, True, 2))


def some_work(number: int) -> Compiled:
    """A random shop, or after those a generated week."""
    if number in SHOPS:
        return compile_problem(a_random_shop(number, 10 + number))
    lots, people, finishers = WEEKS[number - len(SHOPS)]
    return compile_problem(a_week(lots, number, people=people, finishers=finishers))


def in_plain_python(compiled: Compiled, rule: Priority) -> Start:
    urgency = urgencies(compiled)
    start = PlainDispatcher(compiled, urgency).build(rule)
    if start.terms[0] and any(op.fixed_start >= 0 and not op.done for op in compiled.ops):
        careful = PlainDispatcher(compiled, urgency).build(rule, fixed_first=True)
        return min(start, careful, key=lambda each: compiled.levels(each.terms))
    return start


@pytest.mark.parametrize("number", range(len(SHOPS) + len(WEEKS)))
def test_the_classical_rules_do_what_they_do_in_plain_python(number: int) -> None:
    compiled = some_work(number)
    named = make_rules(compiled).named
    plain = {AS_ENTERED: as_entered, DUE_DATE: due_date, BY_STATE: by_state(compiled)}
    for name, rule in plain.items():
        start = in_plain_python(compiled, rule)
        assert (named[name].terms, named[name].modes) == (start.terms, start.modes)
    tried = [
        in_plain_python(compiled, atcs(compiled, look_ahead, set_up))
        for look_ahead, set_up in ATCS_SCALES
    ]
    best = min(tried, key=lambda start: compiled.levels(start.terms))
    assert named[ATCS].terms == best.terms


@pytest.mark.parametrize("number", range(len(SHOPS) + len(WEEKS)))
def test_atcs_takes_what_has_a_rank_below_zero_first(number: int) -> None:
    compiled = some_work(number)
    urgency = urgencies(compiled)
    dispatcher = Dispatcher(compiled, urgency)
    dice = random.Random(number)
    count = len(compiled.modes)
    rank = [place - count // 2 for place in dice.sample(range(count), count)]
    rules = list(zip(atcs_rules(compiled, dispatcher), ATCS_SCALES, strict=True))
    for rule, scales in rules[:3]:
        found = dispatcher.build(replace(rule, rank=tuple(rank)))
        expected = PlainDispatcher(compiled, urgency).build(atcs(compiled, *scales, rank))
        assert (found.terms, found.modes) == (expected.terms, expected.modes)


@pytest.mark.parametrize("number", range(len(SHOPS) + len(WEEKS)))
def test_lines_take_their_work_in_order_and_are_left_their_people(number: int) -> None:
    compiled = some_work(number)
    urgency = urgencies(compiled)
    dispatcher = Dispatcher(compiled, urgency)
    dice = random.Random(number)
    lines: dict[int, list[int]] = {0: [], 1: []}
    for m in dice.sample(range(len(compiled.modes)), len(compiled.modes)):
        mode = compiled.modes[m]
        if mode.base in lines and compiled.ops[mode.operation].fixed_start < 0:
            lines[mode.base].append(m)
    rules = list(zip(atcs_rules(compiled, dispatcher), ATCS_SCALES, strict=True))
    for rule, scales in rules[:2]:
        found = dispatcher.build(replace(rule, lines=lines))
        plain = PlainDispatcher(compiled, urgency, lines).build(atcs(compiled, *scales))
        assert (found.terms, found.modes) == (plain.terms, plain.modes)


@pytest.mark.parametrize("number", range(len(SHOPS) + len(WEEKS)))
def test_every_start_is_complete_and_decodes_to_its_terms(number: int) -> None:
    compiled = some_work(number)
    for start in make_rules(compiled).starts:
        assert sorted(start.order) == list(range(len(compiled.ops)))
        decoder, _ = decode(compiled, start.order, list(start.modes))
        assert tuple(decoder.terms) == start.terms


@pytest.mark.parametrize("seed", range(3))
def test_the_cheapest_changeover_in_time_is_punctual_with_fewer_changeovers(seed: int) -> None:
    compiled = compile_problem(a_week(80, seed + 3))
    named = make_rules(compiled).named
    assert compiled.levels(named[IN_TIME].terms) < compiled.levels(named[ATCS].terms)


@pytest.mark.parametrize("number", range(len(SHOPS) + len(WEEKS)))
def test_the_cheapest_changeover_in_time_is_what_it_is_in_plain_python(number: int) -> None:
    compiled = some_work(number)
    urgency = urgencies(compiled)
    dispatcher = Dispatcher(compiled, urgency)
    dice = random.Random(number)
    for _ in range(4):
        patience = Patience(**{name: dice.choice(values) for name, values in VALUES.items()})
        rank = dice.sample(range(len(compiled.modes)), len(compiled.modes))
        rule = DispatchRule(Kind.PATIENT, tuple(rank), patience=patience)
        for fixed_first in (False, True):
            plain = PatientDispatcher(compiled, urgency, patience, rule.rank)
            expected = plain.build(as_entered, fixed_first=fixed_first)
            found = dispatcher.build(rule, dispatcher.fixed if fixed_first else ())
            assert (found.terms, found.modes) == (expected.terms, expected.modes)
