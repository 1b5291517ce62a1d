"""Floors never lie above the optimum, and reach it where the argument is tight."""

from __future__ import annotations

import random
from collections.abc import Callable, Iterator
from dataclasses import replace
from itertools import product

import pytest

from planner.schedule import (
    LEXICOGRAPHIC,
    Alternative,
    Arc,
    Base,
    Fixed,
    Interval,
    Job,
    Operation,
    Person,
    Problem,
    Rule,
    Station,
    Term,
)
from planner.schedule.compiled import TERMS, Compiled, compile_problem
from planner.schedule.decoder import decode
from planner.schedule.dispatch import Start
from planner.schedule.floors import (
    lateness_by_capacity,
    lateness_in_periods,
    prove,
)
from planner.schedule.floors.capacity import PEOPLE
from planner.schedule.floors.changeover import groups_of
from planner.schedule.floors.late import needed_by
from planner.schedule.floors.linear import Linear
from planner.schedule.floors.windows import Clock
from planner.schedule.problem import Levels
from planner.stop import Stop
from tests.schedule.brute import all_orders
from tests.schedule.shops import a_random_shop
from tests.schedule.tubes import a_small_tube_shop

LATENESS, CHANGEOVER = TERMS.index(Term.LATENESS), TERMS.index(Term.CHANGEOVER)


def every_list(compiled: Compiled) -> Iterator[list[int]]:
    """Terms of every list in every choice of stations."""
    for order in all_orders(compiled):
        for modes in product(*(op.modes for op in compiled.ops)):
            yield decode(compiled, order, list(modes))[0].terms


def a_pressed_shop(seed: int) -> Problem:
    return a_small_tube_shop(seed, 5)


def an_odd_small_shop(seed: int) -> Problem:
    return a_random_shop(seed, operations=5, people=seed % 2 == 0, fixed=seed % 3 == 0)


def a_late_shop_with_few_people(seed: int) -> Problem:
    """All is due at once, and one or two people are there in the first half of each day."""
    problem = a_small_tube_shop(seed, 5)
    stations = tuple(station.key for station in problem.stations)
    hours = tuple(Interval(day * 1440, day * 1440 + 60) for day in range(20))
    return replace(
        problem,
        jobs=tuple(replace(job, due_min=0) for job in problem.jobs),
        people=tuple(Person(f"p{i}", stations[i:], hours) for i in range(1 + seed % 2)),
    )


@pytest.mark.parametrize("seed", range(20))
def test_minutes_of_several_who_work_at_different_times_are_counted_one_by_one(seed: int) -> None:
    dice = random.Random(seed)
    starts = [dice.randint(0, 90) for _ in range(dice.randint(0, 12))]
    opens = [(start, start + dice.randint(1, 30)) for start in starts]
    clock = Clock(opens)
    minutes = [minute for start, end in opens for minute in range(start, end)]
    assert [clock.until(at) for at in range(-5, 130)] == [
        sum(minute < at for minute in minutes) for at in range(-5, 130)
    ]


@pytest.mark.parametrize("make", [an_odd_small_shop, a_pressed_shop, a_late_shop_with_few_people])
@pytest.mark.parametrize("seed", range(25))
def test_no_list_of_a_small_shop_is_below_a_floor(
    seed: int, make: Callable[[int], Problem]
) -> None:
    compiled = compile_problem(make(seed))
    proof = prove(compiled)
    usable = [terms for terms in every_list(compiled) if terms[0] == 0]
    for terms in usable:
        for floor in proof.holding(terms):
            assert terms[TERMS.index(floor.term)] >= floor.value
    for lateness in sorted({terms[LATENESS] for terms in usable})[:3]:
        for due_by in {*compiled.due}:
            late = lateness_in_periods(compiled, lateness, proof.groups.minutes, due_by)
            assert min(t[LATENESS] for t in usable) >= late.value
        floor = proof.groups.timed(lateness, 2000)
        assert floor.within == lateness
        assert min(t[CHANGEOVER] for t in usable if t[LATENESS] <= lateness) >= floor.value


def a_machine(minutes: list[int], due: list[int], weights: list[int], od: list[str]) -> Problem:
    return Problem(
        bases=(Base("m", (Rule("od", 10, {("1", "2"): 3}), Rule("belt", 2))),),
        stations=(Station("m"),),
        operations=tuple(
            Operation(f"o{i}", (Alternative("m", p),), needs={"od": od[i], "belt": "x"})
            for i, p in enumerate(minutes)
        ),
        jobs=tuple(
            Job(f"j{i}", d, (f"o{i}",), w)
            for i, (d, w) in enumerate(zip(due, weights, strict=True))
        ),
    )


def test_capacity_counts_what_one_machine_must_have_done() -> None:
    problem = a_machine([30, 10, 20], [0, 0, 0], [1, 1, 1], ["1"] * 3)
    assert lateness_by_capacity(compile_problem(problem)).value == 10 + 30 + 60


def test_weights_count_in_layers() -> None:
    problem = a_machine([30, 10], [0, 0], [1, 3], ["1"] * 2)
    assert lateness_by_capacity(compile_problem(problem)).value == (10 + 40) + 2 * 10


def test_people_must_have_attended_enough() -> None:
    # Two stations side by side, but one person who attends 30 and 10 minutes of both.
    problem = Problem(
        stations=(Station("saw"), Station("bender")),
        operations=(
            Operation("o0", (Alternative("saw", 60, attended_min=30),)),
            Operation("o1", (Alternative("bender", 60, attended_min=10),)),
        ),
        jobs=(Job("j0", 60, ("o0",)), Job("j1", 60, ("o1",))),
        people=(Person("p", ("saw", "bender")),),
    )
    floor = lateness_by_capacity(compile_problem(problem))
    assert floor.value == 0
    due = replace(problem, jobs=(Job("j0", 0, ("o0",)), Job("j1", 0, ("o1",))))
    assert lateness_by_capacity(compile_problem(due)).value == 60 + 60
    pair = tuple(
        replace(
            op, alternatives=tuple(replace(a, crew=2, attended_min=60) for a in op.alternatives)
        )
        for op in due.operations
    )
    two = (Person("p", ("saw", "bender")), Person("q", ("saw", "bender")))
    both = replace(due, operations=pair, people=two)
    floor = lateness_by_capacity(compile_problem(both))
    assert (floor.value, floor.kind) == (60 + 120, PEOPLE)


def test_changeovers_that_must_come_first_count_as_work() -> None:
    # 10 minutes each on four ODs, 10 minutes between them: 10, 30, 50 and 70 at the earliest.
    problem = a_machine([10] * 4, [0] * 4, [1] * 4, ["1", "3", "4", "5"])
    mounted = (replace(problem.bases[0], mounted={"od": "1", "belt": "x"}),)
    compiled = compile_problem(replace(problem, bases=mounted))
    assert lateness_by_capacity(compiled).value == 10 + 20 + 30 + 40
    floor = lateness_in_periods(compiled, 1000, [30], due_by=0)
    assert 10 + 20 + 30 + 40 < floor.value <= 10 + 30 + 50 + 70


def test_hours_of_people_raise_the_floor_of_changeovers() -> None:
    # The station is open for 400 minutes a day, the only person for 100.
    problem = two_days([400, 9000, 9000, 400])
    hours = tuple(Interval(d * 1440, d * 1440 + 400) for d in range(9))
    alone = replace(problem, stations=(replace(problem.stations[0], hours=hours),))
    short = replace(alone, people=(Person("p", ("m",), problem.stations[0].hours),))
    values = [
        [floor.value for floor in prove(compile_problem(p)).floors if floor.within is not None]
        for p in (alone, short)
    ]
    assert values == [[30], [40]]


def test_the_tour_of_states_is_the_least_changeover() -> None:
    problem = a_machine([5] * 4, [0] * 4, [1] * 4, ["1", "2", "3", "2"])
    floor = groups_of(compile_problem(problem)).always()
    assert floor.term is Term.CHANGEOVER
    assert floor.value == 2 + 10 + 3 + 10


def two_days(due: list[int], levels: Levels = LEXICOGRAPHIC) -> Problem:
    """Four passes of 40 minutes in days of 100: two ODs on two belts, 10 and 10 minutes."""
    needs = [("1", "a"), ("2", "a"), ("1", "b"), ("2", "b")]
    return Problem(
        bases=(Base("m", (Rule("od", 10), Rule("belt", 10)), mounted={"od": "1", "belt": "a"}),),
        stations=(Station("m", hours=tuple(Interval(d * 1440, d * 1440 + 100) for d in range(9))),),
        operations=tuple(
            Operation(f"o{i}", (Alternative("m", 40),), needs={"od": od, "belt": belt})
            for i, (od, belt) in enumerate(needs)
        ),
        jobs=tuple(Job(f"j{i}", d, (f"o{i}",)) for i, d in enumerate(due)),
        horizon_min=9 * 1440,
        levels=levels,
    )


def test_due_dates_raise_the_floor_of_changeovers() -> None:
    # Without due dates 1a, 2a, 2b, 1b needs three changes. Here 1a and 2b are due on the first
    # day, so that OD and belt change at once, and 1b and 2a cost one and two more.
    proof = prove(compile_problem(two_days([100, 9000, 9000, 100])))
    assert [floor.value for floor in proof.floors if floor.term is Term.CHANGEOVER] == [30, 40]


def test_a_floor_of_plans_in_time_is_not_claimed_of_a_late_one() -> None:
    compiled = compile_problem(two_days([100, 9000, 9000, 100]))
    proof = prove(compiled)
    modes = tuple(op.modes[0] for op in compiled.ops)
    best = Start((1, 2, 0, 3), modes, tuple(decode(compiled, (1, 2, 0, 3), list(modes))[0].terms))
    # 2a ends at 50, 1b after 10 minutes of the second day, 1a 10 + 40 later, and 2b, with two
    # changes, after 20 minutes of the third. The last two are due on the first day.
    lateness = best.terms[LATENESS]
    assert lateness == (1440 + 60 - 100) + (2 * 1440 + 20 - 100)
    assert {floor.within for floor in proof.holding(best.terms)} == {None}
    assert {floor.within for floor in proof.of(best, Stop())} == {None, lateness}
    assert max(f.value for f in proof.of(best, Stop()) if f.term is Term.CHANGEOVER) == 30
    asked = Stop()
    asked.ask()
    assert set(proof.of(best, asked)) == set(proof.holding(best.terms))


def test_lateness_is_looked_for_in_what_early_jobs_wait_for() -> None:
    problem = replace(two_days([100, 9000, 9000, 100]), arcs=(Arc("o1", "o3"),))
    compiled = compile_problem(problem)
    (group,), changes = needed_by(compiled, 100, [40])
    assert group.operations == (0, 1, 3)
    assert changes == [30]
    assert needed_by(compiled, 99, [40])[0][0].operations == ()
    assert lateness_in_periods(compiled, 9000, [40], due_by=99).value == 0
    # 1a ends at 40, 2a after a change at 90, and 2b, after another one, on the second day.
    assert 0 < lateness_in_periods(compiled, 9000, [40], due_by=100).value <= 1440 + 40 - 100


def test_late_dues_are_those_of_jobs_that_count() -> None:
    problem = two_days([100, 40, 9000, 100])
    light = replace(problem, jobs=(replace(problem.jobs[0], weight=0), *problem.jobs[1:]))
    compiled = compile_problem(light)
    decoder, _ = decode(compiled, (1, 3, 0, 2), [op.modes[0] for op in compiled.ops])
    # 2a ends at 50, 2b just in time, and 1a, which does not count, on the second day.
    assert decoder.late_dues() == [40]
    assert decode(compile_problem(problem), (1, 3, 0, 2), [0, 1, 2, 3])[0].late_dues() == [100, 40]


def test_where_lateness_may_be_traded_no_floor_rests_on_due_dates() -> None:
    mixed: Levels = ({Term.VIOLATION: 1}, {Term.LATENESS: 1, Term.CHANGEOVER: 1})
    proof = prove(compile_problem(two_days([100, 9000, 9000, 100], mixed)))
    assert {floor.within for floor in proof.floors} == {None}


def test_passes_in_sequence_do_not_share_a_belt_between_ods() -> None:
    passes = [("1", "a"), ("1", "b"), ("2", "a"), ("2", "b")]
    problem = Problem(
        bases=(Base("m", (Rule("od", 100), Rule("belt", 7))),),
        stations=(Station("m"),),
        operations=tuple(
            Operation(f"o{i}", (Alternative("m", 5),), needs={"od": od, "belt": belt})
            for i, (od, belt) in enumerate(passes)
        ),
        arcs=(Arc("o0", "o1"), Arc("o2", "o3")),
    )
    assert groups_of(compile_problem(problem)).always().value == 2 * 100 + 4 * 7


def test_any_multipliers_prove_a_floor_and_the_best_prove_the_optimum() -> None:
    linear = Linear()
    x, y = linear.column(10, 3), linear.column(10, 2)
    linear.at_least([(x, 2), (y, 1)], 7)
    linear.at_most([(y, 1)], 3)
    assert linear.floor([0.0, 0.0]) == 0
    assert linear.floor([-1.0, 5.0]) == 7
    # At least 10.5 by half a piece, 11 in whole ones: 3 and 1.
    assert linear.relaxed(100)[0] == 11
    assert linear.proven(1.0) == 11


def test_fixed_work_that_nobody_could_attend_any_more_needs_no_people() -> None:
    work = (
        Operation("begun", (Alternative("saw", 10),), fixed=Fixed(0, 10, "saw")),
        Operation("next", (Alternative("bender", 10),)),
    )
    problem = Problem(
        bases=(Base("saw"), Base("bender")),
        stations=(Station("saw"), Station("bender")),
        operations=work,
        jobs=(Job("line", 10, ("next",)),),
        people=(Person("p", ("bender",)),),
        horizon_min=100,
    )
    assert lateness_by_capacity(compile_problem(problem)).value == 0
