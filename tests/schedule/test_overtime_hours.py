"""Which stretches of overtime there are, and what is left of the hours without some of them."""

from __future__ import annotations

from dataclasses import replace

import pytest

from planner.schedule import (
    Alternative,
    Fixed,
    Interval,
    Job,
    Operation,
    Person,
    Problem,
    Station,
    Term,
)
from planner.schedule.compiled import TERMS, Compiled, compile_problem
from planner.schedule.decoder import decode
from planner.schedule.dispatch import Start
from planner.schedule.overtime import placed_in, punctual, trim, windows, without

Spans = list[tuple[int, int]]


def priced(start: int, end: int) -> Interval:
    return Interval(start, end, overtime_price=1)


def a_station(*hours: Interval, key: str = "m") -> Station:
    return Station(key, hours=hours)


def spans(hours: tuple[Interval, ...] | None) -> Spans:
    return [(each.start_min, each.end_min) for each in hours or ()]


def start_of(compiled: Compiled, order: tuple[int, ...], modes: tuple[int, ...]) -> Start:
    return Start(order, modes, tuple(decode(compiled, order, list(modes))[0].terms))


def test_stretches_that_overlap_or_touch_are_one_and_ordinary_hours_are_none() -> None:
    problem = Problem(
        stations=(
            a_station(Interval(0, 100), priced(100, 200), priced(300, 350)),
            a_station(priced(120, 150), priced(350, 400), priced(401, 402), key="n"),
        ),
        operations=(),
        people=(Person("Ann", ("m",), (Interval(0, 90), priced(500, 510))),),
    )
    assert windows(problem) == ((100, 200), (300, 400), (401, 402), (500, 510))


def left(problem: Problem, *dropped: tuple[int, int]) -> Spans:
    return spans(without(problem, dropped).stations[0].hours)


def test_overtime_that_begins_inside_a_dropped_stretch_goes_and_the_rest_stays() -> None:
    hours = (Interval(0, 100), priced(100, 150), Interval(150, 180), priced(180, 220))
    problem = Problem(stations=(a_station(*hours),), operations=())
    assert left(problem, (100, 180)) == [(0, 100), (150, 180), (180, 220)]
    assert left(problem, (99, 181)) == [(0, 100), (150, 180)]
    assert left(problem) == spans(hours)


def test_people_lose_the_same_overtime() -> None:
    hours = (Interval(0, 100), priced(100, 150))
    people = (Person("Ann", ("m",), hours),)
    problem = Problem(stations=(a_station(*hours),), operations=(), people=people)
    assert spans(without(problem, ((100, 150),)).people[0].hours) == [(0, 100)]


@pytest.mark.parametrize(
    ("begin", "end", "kept"),
    [
        (90, 120, [(100, 120)]),
        (110, 130, [(110, 130)]),
        (140, 320, [(140, 150), (300, 320)]),
        (50, 100, []),
        (150, 300, []),
    ],
)
def test_of_dropped_overtime_stays_what_fixed_work_takes_of_it(
    begin: int, end: int, kept: Spans
) -> None:
    hours = (Interval(0, 100), priced(100, 150), priced(300, 350), Interval(400, 500))
    way = (Alternative("m", 10),)
    problem = Problem(
        stations=(a_station(*hours), a_station(*hours, key="n")),
        operations=(Operation("a", way, fixed=Fixed(begin, end, "m")),),
    )
    assert left(problem, (100, 150), (300, 350)) == [(0, 100), *kept, (400, 500)]
    assert spans(without(problem, ((100, 350),)).stations[1].hours) == [(0, 100), (400, 500)]
    done = Operation("a", way, fixed=Fixed(begin, end, "m", done=True))
    assert left(replace(problem, operations=(done,)), (100, 350)) == [(0, 100), (400, 500)]


@pytest.mark.parametrize(
    ("term", "expected"),
    [(Term.VIOLATION, False), (Term.LATENESS, False), (Term.CHANGEOVER, True)],
)
def test_what_has_no_place_or_is_late_is_not_punctual(term: Term, *, expected: bool) -> None:
    assert punctual(Start((), (), tuple(int(each is term) for each in TERMS))) is expected


def test_work_is_placed_with_the_crew_that_it_had() -> None:
    ways = (
        Alternative("m", 50),
        Alternative("m", 50, crew=2),
        Alternative("m", 50, attended_min=10),
    )
    problem = Problem(
        stations=(Station("m"),),
        operations=(Operation("a", ways),),
        people=(Person("Ann", ("m",)), Person("Bob", ("m",))),
    )
    compiled = compile_problem(problem)
    for mode in range(3):
        assert placed_in(compiled, compiled, start_of(compiled, (0,), (mode,))).modes == (mode,)


def trimmed(minutes: int, due: int, *hours: Interval) -> tuple[Spans, Start]:
    """The overtime that is left of a station's where one job is planned in all of it."""
    problem = Problem(
        stations=(a_station(*hours),),
        operations=(Operation("a", (Alternative("m", minutes),)),),
        jobs=(Job("a", due, ("a",)),),
        horizon_min=2000,
    )
    compiled = compile_problem(problem)
    fewer, best = trim(compiled, start_of(compiled, (0,), (0,)))
    assert best.terms == start_of(fewer, best.order, best.modes).terms
    return list(windows(fewer.problem)), best


def test_of_two_evenings_either_of_which_would_do_the_later_is_given_up() -> None:
    evenings = (priced(100, 150), priced(1100, 1150))
    hours = (Interval(0, 100), evenings[0], Interval(1000, 1100), evenings[1], Interval(1200, 1300))
    kept, best = trimmed(230, 1130, *hours)
    assert kept == [(100, 150)]
    assert best.terms[TERMS.index(Term.OVERTIME)] == 50


def test_overtime_that_nobody_works_is_given_up() -> None:
    kept, _ = trimmed(120, 120, Interval(0, 100), priced(100, 150), priced(1100, 1150))
    assert kept == [(100, 150)]


def test_an_earlier_evening_is_given_up_too_where_a_later_one_is_all_that_some_work_has() -> None:
    """Zed runs `n` on one evening and never else."""
    week, evening = (Interval(0, 100), priced(100, 150)), (priced(1100, 1150),)
    problem = Problem(
        stations=(a_station(*week), a_station(*evening, key="n")),
        operations=(
            Operation("a", (Alternative("m", 60),)),
            Operation("b", (Alternative("n", 20),)),
        ),
        people=(Person("Ann", ("m",), week), Person("Zed", ("n",), evening)),
        jobs=(Job("a", 60, ("a",)), Job("b", 1120, ("b",))),
        horizon_min=2000,
    )
    compiled = compile_problem(problem)
    fewer, _ = trim(compiled, start_of(compiled, (0, 1), (0, 1)))
    assert windows(fewer.problem) == ((1100, 1150),)
