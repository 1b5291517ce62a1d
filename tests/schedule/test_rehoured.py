"""A schedule in other hours is what the problem with these hours, compiled again, makes of it."""

from __future__ import annotations

import random
from dataclasses import replace

import pytest

from planner.schedule import (
    Alternative,
    Interval,
    Job,
    Operation,
    Overtime,
    Person,
    Problem,
    Station,
)
from planner.schedule.compiled import compile_problem
from planner.schedule.decoder import decode
from planner.schedule.dispatch import Start, topological
from planner.schedule.extension import extended
from planner.schedule.problem import Hours
from planner.schedule.rehoured import Rehoured
from planner.schedule.remedy import Remedies
from tests.schedule.shops import DAY_MIN, a_random_shop

SHIFTS = (
    (Interval(0, 300), Interval(330, 600)),
    (Interval(330, 600), Interval(600, 700, 2)),
    (Interval(60, 200),),
)


def weekly(shift: tuple[Interval, ...], days: int) -> tuple[Interval, ...]:
    return tuple(
        Interval(day * DAY_MIN + i.start_min, day * DAY_MIN + i.end_min, i.overtime_price)
        for day in range(days)
        for i in shift
    )


def an_uneven_shop(seed: int) -> Problem:
    """People and stations who work at different times of the day, some always."""
    dice = random.Random(seed)
    hours: list[Hours] = [weekly(shift, 60) for shift in SHIFTS]
    problem = a_random_shop(seed, operations=12, people=seed % 2 == 0, fixed=seed % 3 == 0)
    return replace(
        problem,
        stations=tuple(replace(s, hours=dice.choice([*hours, None])) for s in problem.stations),
        people=tuple(replace(p, hours=dice.choice([hours[0], None])) for p in problem.people),
    )


@pytest.mark.parametrize("seed", range(40))
def test_a_schedule_is_placed_as_if_all_were_compiled_again(seed: int) -> None:
    problem = an_uneven_shop(seed)
    compiled = compile_problem(problem)
    dice = random.Random(seed)
    order = topological(compiled, [dice.randrange(1000) for _ in compiled.ops])
    modes = tuple(dice.choice(op.modes) for op in compiled.ops)
    rehoured = Rehoured(compiled, Start(tuple(order), modes, ()))
    named = [station.key for station in problem.stations if station.hours]
    people = [person.key for person in problem.people]
    tried = 0
    for _ in range(8 if named else 0):
        stations = tuple(dice.sample(named, dice.randint(1, min(2, len(named)))))
        due, minutes = dice.randint(1, 20) * 1000, dice.choice((15, 60, 400))
        home = [key for key in people if dice.random() < 0.3]
        longer = extended(
            problem, stations, due, minutes, daily=dice.random() < 0.5, home=home
        ) or (problem, 0)
        again = compile_problem(longer[0])
        assert [m.station for m in again.modes] == [m.station for m in compiled.modes]
        decoder, _ = decode(again, order, list(modes))
        assert rehoured.place(longer[0]) == (decoder.end, tuple(decoder.terms))
        tried += longer[0] is not problem
    assert tried or not named


def test_overtime_in_which_other_work_could_be_done_elsewhere_makes_nothing_of_the_plan() -> None:
    """Zed, who works evenings, could do `a` at `n` only in the overtime; it stays at `m`."""
    morning, evening = (
        tuple(Interval(day * DAY_MIN + start, day * DAY_MIN + start + 300) for day in range(4))
        for start in (0, 600)
    )
    shop = Problem(
        stations=(Station("m", hours=morning), Station("n", hours=morning)),
        operations=(
            Operation("a", (Alternative("n", 200, who=("Zed",)), Alternative("m", 40))),
            Operation("b", (Alternative("n", 250),)),
            Operation("c", (Alternative("n", 90),)),
        ),
        jobs=(Job("b", 300, ("b",)), Job("c", DAY_MIN, ("c",))),
        people=(
            Person("Ann", ("m",), morning),
            Person("Bob", ("n",), morning),
            Person("Zed", ("n",), evening),
        ),
        horizon_min=4 * DAY_MIN,
    )
    compiled = compile_problem(shop)
    assert [mode.station for mode in compiled.modes] == ["m", "n", "n"]
    order = (0, 1, 2)
    best = Start(order, order, tuple(decode(compiled, order, [*order])[0].terms))
    overtime, _ = Remedies(compiled, best).find(job=1, final=2, chain=[1, 2]).remedies
    assert overtime == Overtime(("n",), 60, 300, daily=False, people=("Bob",))


def test_hours_that_are_tried_again_and_again_need_no_more_memory() -> None:
    problem = a_random_shop(3, operations=12)
    compiled = compile_problem(problem)
    order = topological(compiled)
    modes = tuple(op.modes[0] for op in compiled.ops)
    rehoured = Rehoured(compiled, Start(tuple(order), modes, ()))
    sizes = set[int]()
    for _ in range(20):
        rehoured.place(problem)
        kernel = rehoured.chain.kernel
        sizes.add(kernel.alloc(0))
    assert len(sizes) == 1
