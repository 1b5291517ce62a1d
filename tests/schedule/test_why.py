"""What held an operation, and what would have made a job on time."""

from __future__ import annotations

from dataclasses import replace
from itertools import pairwise

import pytest

from planner.schedule import (
    Ahead,
    Alternative,
    Arc,
    Base,
    Behind,
    Fixed,
    Hold,
    Interval,
    Job,
    Operation,
    Overtime,
    Person,
    Problem,
    Remedy,
    Rule,
    Station,
    Why,
    solve,
)
from planner.schedule.compiled import compile_problem
from planner.schedule.decoder import decode
from planner.schedule.dispatch import Start
from planner.schedule.extension import extended
from planner.schedule.remedy import Remedies
from planner.schedule.why import chain, reasons
from planner.stop import Stop

DAY = (Interval(0, 100), Interval(200, 300), Interval(1000, 1300))


def an_operation(key: str, station: str, minutes: int, release_min: int = 0) -> Operation:
    return Operation(key, (Alternative(station, minutes),), release_min=release_min)


def a_shop(*operations: Operation, arcs: tuple[Arc, ...] = (), jobs: tuple[Job, ...] = (),
           people: tuple[Person, ...] = ()) -> Problem:  # fmt: skip
    return Problem(
        stations=(Station("m", hours=DAY), Station("saw", hours=DAY)),
        operations=operations,
        arcs=arcs,
        jobs=jobs,
        people=people,
        horizon_min=1400,
    )


def test_each_kind_of_hold_is_told() -> None:
    shop = a_shop(
        an_operation("a", "m", 40),
        an_operation("b", "m", 20),
        an_operation("c", "saw", 10, release_min=70),
        an_operation("d", "saw", 10),
        arcs=(Arc("a", "b"), Arc("b", "d")),
    )
    why = {p.operation: p.why for p in solve(shop, Stop(), seconds=0.05).placed}
    assert why["a"].hold is Hold.NOTHING
    assert (why["b"].hold, why["b"].operation) == (Hold.PREDECESSOR, "a")
    assert (why["d"].hold, why["d"].operation) == (Hold.PREDECESSOR, "b")
    assert why["c"].hold in (Hold.RELEASE, Hold.STATION)


def test_a_busy_person_is_named() -> None:
    ann = Person("Ann", ("m", "saw"), DAY)
    shop = a_shop(an_operation("a", "m", 40), an_operation("b", "saw", 20), people=(ann,))
    late = max(solve(shop, Stop(), seconds=0.05).placed, key=lambda each: each.start_min)
    assert (late.why.hold, late.why.person) == (Hold.PERSON, "Ann")


def reasons_of(problem: Problem) -> dict[str, Why]:
    """Why each operation starts when it does, in the order in which they are given."""
    compiled = compile_problem(problem)
    order = tuple(range(len(compiled.ops)))
    _, steps = decode(compiled, order, [op.modes[0] for op in compiled.ops])
    return {
        compiled.ops[step.operation].key: why
        for step, why in zip(steps, reasons(compiled, steps), strict=True)
    }


def test_where_station_and_person_are_free_at_once_it_is_the_station() -> None:
    ann = Person("Ann", ("m", "saw"), DAY)
    shop = a_shop(an_operation("a", "m", 40), an_operation("b", "m", 20), people=(ann,))
    assert reasons_of(shop)["b"] == Why(Hold.STATION, "a")


def test_of_two_people_the_one_who_is_busy_is_named() -> None:
    both = Operation("both", (Alternative("m", 20, crew=2),))
    people = (Person("Ann", ("m", "saw"), DAY), Person("Bob", ("m", "saw"), DAY))
    one, two = (
        Operation(key, (Alternative(station, minutes, who=(who,)),))
        for key, station, minutes, who in (("one", "m", 10, "Ann"), ("two", "saw", 40, "Bob"))
    )
    shop = a_shop(one, two, both, people=people)
    assert reasons_of(shop)["both"] == Why(Hold.PERSON, "two", "Bob")


def test_a_changeover_before_all_work_is_the_stations() -> None:
    shop = replace(
        a_shop(Operation("a", (Alternative("m", 30),), {"od": "2"})),
        bases=(Base("m", (Rule("od", 20),), mounted={"od": "1"}),),
    )
    assert reasons_of(shop)["a"] == Why(Hold.STATION)


def test_a_station_that_is_not_free_from_the_first_minute_is_held_by_nothing_in_the_plan() -> None:
    shop = replace(a_shop(an_operation("a", "m", 30)), bases=(Base("m", free_from_min=10),))
    assert reasons_of(shop)["a"] == Why(Hold.NOTHING)


def test_of_two_that_it_waits_for_the_later_one_holds_it() -> None:
    shop = a_shop(
        an_operation("short", "m", 10),
        an_operation("long", "saw", 40),
        an_operation("then", "m", 10),
        arcs=(Arc("short", "then"), Arc("long", "then")),
    )
    assert reasons_of(shop)["then"] == Why(Hold.PREDECESSOR, "long")


@pytest.mark.parametrize(("lag", "why"), [(0, Why(Hold.NOTHING)), (1, Why(Hold.PREDECESSOR, "a"))])
def test_work_that_may_begin_with_another_is_held_by_its_beginning(lag: int, why: Why) -> None:
    shop = a_shop(
        an_operation("a", "m", 40),
        an_operation("b", "saw", 20),
        arcs=(Arc("a", "b", lag_min=lag, from_start=True),),
    )
    assert reasons_of(shop)["b"] == why


@pytest.mark.parametrize(("release", "hold"), [(0, Hold.NOTHING), (1, Hold.RELEASE)])
def test_material_that_comes_a_minute_later_holds_its_work(release: int, hold: Hold) -> None:
    assert reasons_of(a_shop(an_operation("a", "m", 40, release)))["a"] == Why(hold)


def test_a_break_is_named() -> None:
    shop = a_shop(an_operation("a", "m", 40, release_min=120))
    assert solve(shop, Stop(), seconds=0.05).placed[0].why.hold is Hold.HOURS


def test_a_changeover_that_waits_for_the_next_shift_is_held_by_the_hours() -> None:
    shop = replace(
        a_shop(
            Operation("a", (Alternative("m", 80),), {"od": "1"}),
            Operation("b", (Alternative("m", 10),), {"od": "2"}),
            arcs=(Arc("a", "b"),),
        ),
        bases=(Base("m", (Rule("od", 40),), mounted={"od": "1"}),),
    )
    placed = {p.operation: p for p in solve(shop, Stop(), seconds=0.02).placed}
    assert placed["b"].changeover_start_min == 200
    assert placed["b"].why == Why(Hold.HOURS, "a")


def test_what_is_fixed_at_the_first_minute_says_so() -> None:
    shop = a_shop(replace(an_operation("a", "m", 40), fixed=Fixed(0, 40, "m")))
    (placed,) = solve(shop, Stop(), seconds=0.02).placed
    assert placed.why.hold is Hold.FIXED


def test_overtime_that_makes_a_job_on_time_is_told() -> None:
    shop = a_shop(an_operation("a", "m", 220), jobs=(Job("a", 900, ("a",)),))
    late = solve(shop, Stop(), seconds=0.05).late[0]
    assert late.late_min == 120
    assert late.chain == ("a",)
    assert late.unavoidable_min == 120
    assert late.remedies == (Overtime(("m",), 30, 300, daily=False),)


@pytest.mark.parametrize(
    ("lacks", "told"), [(15, 15), (16, 30), (60, 60), (61, 120), (121, 240), (241, 480)]
)
def test_overtime_of_one_evening_comes_in_steps(lacks: int, told: int) -> None:
    shop = Problem(
        stations=(Station("m", hours=(Interval(0, 600), Interval(1440, 2000))),),
        operations=(an_operation("a", "m", 600 + lacks),),
        jobs=(Job("a", 1200, ("a",)),),
        horizon_min=2000,
    )
    late = solve(shop, Stop(), seconds=0.01).late[0]
    assert late.remedies == (Overtime(("m",), told, 600, daily=False),)


@pytest.mark.parametrize(
    ("lacks", "told"), [(90, 30), (91, 60), (181, 120), (361, 180), (541, 240)]
)
def test_overtime_of_three_evenings_comes_in_steps(lacks: int, told: int) -> None:
    days = tuple(Interval(day * 1440, day * 1440 + 100) for day in range(14))
    shop = Problem(
        stations=(Station("m", hours=days),),
        operations=(an_operation("a", "m", 300 + lacks),),
        jobs=(Job("a", 3 * 1440, ("a",)),),
        horizon_min=14 * 1440,
    )
    late = solve(shop, Stop(), seconds=0.01).late[0]
    daily = [each for each in late.remedies if isinstance(each, Overtime) and each.daily]
    once = [each for each in late.remedies if isinstance(each, Overtime) and not each.daily]
    assert daily == ([] if once else [Overtime(("m",), told, 100, daily=True)])
    assert lacks > 480 or once


def test_overtime_every_day_is_told_where_one_evening_does_not_suffice() -> None:
    days = tuple(Interval(day * 1440, day * 1440 + 100) for day in range(12))
    shop = Problem(
        stations=(Station("m", hours=days),),
        operations=(an_operation("a", "m", 1000),),
        jobs=(Job("a", 4 * 1440, ("a",)),),
        horizon_min=12 * 1440,
    )
    late = solve(shop, Stop(), seconds=0.05).late[0]
    assert late.remedies == (Overtime(("m",), 180, 100, daily=True),)


def test_overtime_is_over_by_the_time_the_job_is_due() -> None:
    """It needs 20 min more: 30 min end when it is due, and a minute earlier nothing is told."""
    for due, remedies in ((330, (Overtime(("m",), 30, 300, daily=False),)), (329, ())):
        shop = a_shop(an_operation("a", "m", 220), jobs=(Job("a", due, ("a",)),))
        late = solve(shop, Stop(), seconds=0.05).late[0]
        assert late.remedies == remedies


def test_who_works_then_already_needs_no_longer_hours() -> None:
    hours = (Interval(0, 300), Interval(1440, 1740))
    people = (
        Person("day", ("m",), hours),
        Person("evening", ("m",), (Interval(300, 500),)),
        Person("both", ("m",), (Interval(0, 320), Interval(330, 340))),
        Person("elsewhere", ("saw",), hours),
        Person("always", ("m",)),
    )
    shop = replace(
        a_shop(an_operation("a", "m", 10), people=people), stations=(Station("m", hours=hours),)
    )
    found = extended(shop, ("m",), 400, 60, daily=False)
    assert found is not None
    longer, from_min = found
    assert from_min == 300
    told = {each.key: each.hours for each in longer.people}
    assert told["day"] == (hours[0], Interval(300, 360, 1), hours[1])
    assert told["evening"] == (Interval(300, 500),)
    assert told["both"] == (
        *(Interval(0, 320), Interval(320, 330, 1), Interval(330, 340), Interval(340, 360, 1)),
    )
    assert (told["elsewhere"], told["always"]) == (hours, None)


def test_fixed_work_is_neither_put_behind_nor_brought_forward() -> None:
    fixed = replace(an_operation("fixed", "m", 60), fixed=Fixed(0, 60, "m"))
    jobs = (Job("own", 40, ("own",)), Job("fixed", 200, ("fixed",)))
    shop = a_shop(fixed, an_operation("own", "m", 30), jobs=jobs)
    late = solve(shop, Stop(), seconds=0.02).late[0]
    assert (late.job, late.late_min, late.first_late_min) == ("own", 50, None)
    assert late.remedies == ()
    mine = replace(an_operation("mine", "m", 20), fixed=Fixed(60, 80, "m"))
    shop = a_shop(
        an_operation("x", "m", 60),
        mine,
        an_operation("own", "saw", 30),
        arcs=(Arc("mine", "own"),),
        jobs=(Job("own", 100, ("own",)), Job("x", 60, ("x",))),
    )
    late = solve(shop, Stop(), seconds=0.02).late[0]
    assert (late.job, late.first_late_min, late.remedies) == ("own", 110, ())


def test_a_wait_after_earlier_work_is_the_work_s() -> None:
    shop = a_shop(
        an_operation("a", "m", 40),
        an_operation("b", "saw", 20),
        arcs=(Arc("a", "b", lag_min=15),),
    )
    why = {p.operation: p.why for p in solve(shop, Stop(), seconds=0.02).placed}
    assert why["b"] == Why(Hold.PREDECESSOR, "a")


def test_remedies_are_looked_for_among_the_ten_latest_jobs() -> None:
    """Each job has a station of its own, where overtime makes up for up to half an hour."""
    names = [f"m{n}" for n in range(12)]
    shop = Problem(
        stations=tuple(Station(name, hours=DAY) for name in names),
        operations=tuple(an_operation(f"of {name}", name, 220 - n) for n, name in enumerate(names)),
        jobs=tuple(Job(name, 900, (f"of {name}",)) for name in names),
        horizon_min=1400,
    )
    late = solve(shop, Stop(), seconds=0.02).late
    assert [job.job for job in late] == names
    assert [bool(job.remedies) for job in late] == [True] * 10 + [False] * 2


def test_what_cannot_be_on_time_says_so() -> None:
    shop = a_shop(an_operation("a", "m", 50), jobs=(Job("a", 30, ("a",)),))
    late = solve(shop, Stop(), seconds=0.05).late[0]
    assert (late.unavoidable_min, late.first_late_min, late.remedies) == (20, 20, ())


def test_who_pays_for_a_job_that_goes_first_is_told() -> None:
    shop = a_shop(
        an_operation("heavy", "m", 60),
        an_operation("light", "m", 30),
        jobs=(Job("heavy", 80, ("heavy",), 1), Job("light", 40, ("light",), 0)),
    )
    result = solve(shop, Stop(), seconds=0.05)
    assert [late.job for late in result.late] == ["light"]
    assert result.late[0].remedies == (Ahead("heavy", 0, (("heavy", 10),)),)
    assert result.late[0].first_late_min == 0


def test_all_of_a_jobs_work_goes_forward_to_where_it_then_arrives() -> None:
    shop = a_shop(
        an_operation("x", "m", 40),
        an_operation("own 1", "m", 20),
        an_operation("y", "saw", 30, release_min=25),
        an_operation("own 2", "saw", 20),
        arcs=(Arc("own 1", "own 2"),),
        jobs=(Job("own", 45, ("own 2",)), Job("y", 200, ("y",)), Job("x", 60, ("x",))),
    )
    compiled = compile_problem(shop)
    order = (0, 1, 2, 3)
    start = Start(order, order, tuple(decode(compiled, order, [*order])[0].terms))
    found = Remedies(compiled, start).find(job=0, final=3, chain=[0, 1, 3])
    assert found.remedies == (Ahead("x", 0, ()),)


def remedies_of_the_second(*jobs: Job) -> tuple[Remedy, ...]:
    """For an operation of 30 min behind one of 60, in this order, on one station."""
    shop = a_shop(
        an_operation("first", "m", 60),
        an_operation("second", "m", 30),
        jobs=(Job("second", 40, ("second",)), *jobs),
    )
    compiled = compile_problem(shop)
    start = Start((0, 1), (0, 1), tuple(decode(compiled, (0, 1), [0, 1])[0].terms))
    return Remedies(compiled, start).find(job=0, final=1, chain=[0, 1]).remedies


def test_remedies_are_tried_on_the_list_itself() -> None:
    assert remedies_of_the_second() == (Behind("first", "second"),)


def test_a_move_that_makes_another_job_late_is_no_move_that_harms_nobody() -> None:
    punctual, late = Job("first", 90, ("first",)), Job("first", 80, ("first",), weight=0)
    assert remedies_of_the_second(punctual) == (Behind("first", "second"),)
    assert remedies_of_the_second(late) == (Ahead("first", 0, (("first", 10),)),)


def remedies_of_own(*others: Operation, due: int, jobs: tuple[Job, ...] = ()) -> tuple[Remedy, ...]:
    """For an operation `own` of 20 min behind these, in this order, on one station."""
    own = an_operation("own", "m", 20)
    shop = a_shop(*others, own, jobs=(Job("own", due, ("own",)), *jobs))
    compiled = compile_problem(shop)
    order = tuple(range(len(others) + 1))
    start = Start(order, order, tuple(decode(compiled, order, list(order))[0].terms))
    found = Remedies(compiled, start).find(job=0, final=len(others), chain=order)
    return found.remedies


def test_of_moves_that_harm_nobody_the_one_that_moves_the_nearest_work_is_told() -> None:
    both = (an_operation("far", "m", 20), an_operation("near", "m", 20))
    assert remedies_of_own(*both, due=45) == (Behind("near", "own"),)
    harmed = (Job("near", 40, ("near",)),)
    assert remedies_of_own(*both, due=45, jobs=harmed) == (Behind("far", "own"),)


def test_of_places_to_go_ahead_the_latest_that_is_early_enough_is_told() -> None:
    both = (an_operation("a", "m", 20), an_operation("b", "m", 20))
    jobs = (Job("a", 20, ("a",)), Job("b", 40, ("b",)))
    assert remedies_of_own(*both, due=45, jobs=jobs) == (Ahead("b", 20, (("b", 20),)),)
    assert remedies_of_own(*both, due=25, jobs=jobs) == (Ahead("a", 0, (("b", 20), ("a", 20))),)


def test_a_move_beyond_a_limit_is_none() -> None:
    assert remedies_of_own(an_operation("x", "m", 60), due=40) == (Behind("x", "own"),)
    limited = replace(an_operation("x", "m", 60), latest_end_min=60)
    assert remedies_of_own(limited, due=40) == ()


def test_work_at_a_fixed_time_is_not_told_to_move() -> None:
    fixed = replace(an_operation("x", "m", 10), fixed=Fixed(50, 60, "m"))
    assert remedies_of_own(fixed, due=40) == ()


def test_a_move_is_only_told_of_work_that_comes_before_the_job_s_own() -> None:
    shop = a_shop(
        an_operation("own", "m", 20),
        an_operation("x", "m", 60),
        an_operation("y", "m", 20),
        an_operation("y then", "saw", 10),
        an_operation("own then", "saw", 10),
        arcs=(Arc("own", "own then"), Arc("y", "y then")),
        jobs=(Job("own", 60, ("own then",)),),
    )
    compiled = compile_problem(shop)
    order = tuple(range(5))
    start = Start(order, order, tuple(decode(compiled, order, [*order])[0].terms))
    found = Remedies(compiled, start).find(job=0, final=4, chain=order)
    assert found.remedies == (Behind("y then", "own then"),)


def test_no_overtime_is_told_in_a_break() -> None:
    days = tuple(
        Interval(day * 1440 + start, day * 1440 + start + 240)
        for day in (0, 1)
        for start in (420, 690)
    )
    shop = Problem(
        stations=(Station("m", hours=days),),
        operations=(an_operation("a", "m", 260),),
        jobs=(Job("a", 700, ("a",)),),
        horizon_min=2 * 1440,
    )
    assert solve(shop, Stop(), seconds=0.05).late[0].remedies == ()


class Name(str):
    """A key that counts how often it is compared with another."""

    __slots__ = ()
    compared = 0

    def __eq__(self, other: object) -> bool:
        Name.compared += 1
        return super().__eq__(other)

    def __hash__(self) -> int:
        return super().__hash__()


def test_a_long_chain_is_followed_without_comparing_each_link_with_all_others() -> None:
    names = [Name(f"operation {n}") for n in range(300)]
    why: dict[str, Why] = {b: Why(Hold.STATION, a) for a, b in pairwise(names)}
    why[names[0]] = Why(Hold.NOTHING)
    assert chain(why, names[-1]) == tuple(names)
    assert Name.compared < 10 * len(names)


def test_operations_that_hold_each_other_are_told_once() -> None:
    why = {"a": Why(Hold.STATION, "b"), "b": Why(Hold.PERSON, "a", "Ann")}
    assert chain(why, "a") == ("b", "a")
