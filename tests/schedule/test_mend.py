"""Around what is new, pinned or late little else moves."""

from __future__ import annotations

from dataclasses import replace

import pytest

from planner.schedule import Interval, Issued, solve
from planner.schedule.compiled import Compiled, compile_problem
from planner.schedule.decoder import decode
from planner.schedule.dispatch import Start
from planner.schedule.issued import AS_ISSUED, as_issued
from planner.schedule.mend import mend, orders_around
from planner.schedule.problem import (
    Alternative,
    Arc,
    Base,
    Job,
    Operation,
    Person,
    Problem,
    Rule,
    Station,
    Term,
)
from planner.stop import Stop
from tests.schedule.audit import assert_schedule_valid
from tests.schedule.test_issued import a_problem, an_operation

WEEK = tuple(Interval(1440 * day + 420, 1440 * day + 960) for day in range(5))


def mended(problem: Problem) -> tuple[Compiled, Start]:
    compiled = compile_problem(problem)
    return compiled, mend(compiled, as_issued(compiled)[AS_ISSUED])


def times(problem: Problem) -> dict[str, int]:
    compiled, start = mended(problem)
    decoder, steps = decode(compiled, start.order, list(start.modes))
    assert tuple(decoder.terms) == start.terms
    return {compiled.ops[step.operation].key: step.start for step in steps}


def test_new_work_that_can_wait_goes_where_nothing_moves() -> None:
    problem = a_problem(an_operation("a", 420), an_operation("b", 480), an_operation("new"))
    assert times(problem) == {"a": 420, "b": 480, "new": 540}


def test_new_work_that_is_due_goes_in_before_it_is_late() -> None:
    problem = a_problem(
        an_operation("a", 420), an_operation("b", 480), an_operation("new"), dues={"new": 540}
    )
    assert times(problem) == {"a": 420, "new": 480, "b": 540}


def test_new_work_in_two_steps_goes_ahead_together() -> None:
    problem = a_problem(
        *(an_operation(f"old {n}", 420 + 60 * n) for n in range(6)),
        an_operation("rush"),
        an_operation("more", minutes=30),
        arcs=(Arc("rush", "more"),),
        dues={"more": 640},
    )
    found = times(problem)
    assert found["rush"] + 60 <= found["more"] <= 640 - 30
    assert sum(found[f"old {n}"] != 420 + 60 * n for n in range(6)) <= 5


def test_it_is_judged_by_what_it_moves() -> None:
    problem = a_problem(an_operation("a", 420), an_operation("new"), dues={"new": 480})
    terms = dict(zip(Term, mended(problem)[1].terms, strict=True))
    assert terms[Term.LATENESS] == 0
    assert terms[Term.DISTURBANCE] == 31


def test_what_is_pinned_ahead_pulls_what_it_waits_for() -> None:
    """The second step is pinned to the morning; the first was issued behind all other work."""
    first = an_operation("first", 420 + 5 * 60)
    pinned = replace(an_operation("second"), release_min=480, latest_end_min=540)
    others = tuple(an_operation(f"old {n}", 420 + 60 * n) for n in range(5))
    problem = a_problem(*others, first, pinned, arcs=(Arc("first", "second"),))
    found = times(problem)
    assert (found["first"], found["second"]) == (420, 480)
    assert [found[f"old {n}"] for n in (2, 3, 4)] == [540, 600, 660]
    assert {found["old 0"], found["old 1"]} == {720, 780}


def test_one_that_was_pushed_aside_goes_where_nobody_else_moves() -> None:
    """A pin takes the place of the first; that goes behind all, and the others stay."""
    pinned = replace(an_operation("pinned"), release_min=420, latest_end_min=480)
    issued = tuple(an_operation(f"old {n}", 420 + 60 * n) for n in range(5))
    found = times(a_problem(*issued, pinned))
    assert found["pinned"] == 420
    assert [found[f"old {n}"] for n in range(1, 5)] == [420 + 60 * n for n in range(1, 5)]
    assert found["old 0"] == 720


def test_a_place_that_costs_as_much_as_the_one_it_has_is_no_gain() -> None:
    compiled = compile_problem(a_problem(an_operation("a", 420), an_operation("new")))
    start = as_issued(compiled)[AS_ISSUED]
    assert mend(compiled, start) is start


ALL = {0, 1, 2, 3, 4}


def test_what_an_operation_waits_for_is_pulled_ahead_of_it() -> None:
    found = list(orders_around((0, 1, 2, 3, 4), 3, {2}, {4}, ALL, 10))
    assert found == [
        *((0, 1, 2, 3, 4), (0, 1, 2, 3, 4), (0, 1, 2, 3, 4)),
        *((0, 2, 3, 1, 4), (2, 3, 0, 1, 4)),
    ]


def test_what_waits_for_an_operation_is_pushed_behind_it() -> None:
    found = list(orders_around((0, 1, 2, 3, 4), 1, set(), {2}, ALL, 10))
    assert found == [
        *((0, 3, 4, 1, 2), (0, 3, 1, 2, 4), (0, 1, 2, 3, 4)),
        *((0, 1, 2, 3, 4), (1, 0, 2, 3, 4)),
    ]


def test_only_behind_what_may_be_waited_for_is_another_place() -> None:
    found = list(orders_around((0, 1, 2, 3, 4), 1, set(), set(), {3}, 10))
    assert found == [(0, 2, 3, 1, 4), (1, 0, 2, 3, 4)]


@pytest.mark.parametrize(("most", "places"), [(5, 5), (4, 3), (3, 3), (2, 2), (1, 1)])
def test_in_a_large_week_fewer_places_are_tried(most: int, places: int) -> None:
    found = list(orders_around((0, 1, 2, 3, 4), 1, set(), set(), ALL, most))
    assert len(found) == places
    assert found[0] == (0, 2, 3, 4, 1)


def test_what_is_done_and_fixed_is_left_alone() -> None:
    problem = a_problem(an_operation("a", 420), an_operation("b", 480))
    compiled = compile_problem(problem)
    start = as_issued(compiled)[AS_ISSUED]
    assert mend(compiled, start) is start


def a_busy_week(count: int) -> Problem:
    """Lots of two steps on two stations with two people, issued one after the other; the first
    step of one in the middle is to wait for the next day."""
    saw = [_issued(f"{n}.saw", "saw", 60, _minute(60 * n)) for n in range(count)]
    bend = [_issued(f"{n}.bend", "bender", 50, _minute(60 * n + 60)) for n in range(count)]
    middle = saw[count // 2]
    assert middle.issued
    day = (middle.issued.start_min // 1440 + 1) * 1440
    pinned = replace(middle, issued=None, release_min=day, latest_end_min=day + 1440)
    people = tuple(Person(name, ("saw", "bender"), WEEK) for name in ("Ann", "Bob"))
    saw[count // 2] = pinned
    return Problem(
        bases=(Base("saw", (Rule("od", 5),), mounted={"od": "1"}), Base("bender")),
        stations=(Station("saw", hours=WEEK), Station("bender", hours=WEEK)),
        operations=(*saw, *bend),
        arcs=tuple(Arc(f"{n}.saw", f"{n}.bend", holding=1) for n in range(count)),
        jobs=tuple(Job(f"{n}", 5 * 1440, (f"{n}.bend",)) for n in range(count)),
        people=people,
        horizon_min=5 * 1440,
    )


def _minute(worked: int) -> int:
    return worked // 540 * 1440 + 420 + worked % 540


def _issued(key: str, station: str, minutes: int, start: int) -> Operation:
    needs = {"od": "1"} if station == "saw" else {}
    way = (Alternative(station, minutes),)
    return Operation(key, way, needs=needs, issued=Issued(station, start, begin_min=start))


@pytest.mark.parametrize("seconds", [0.01, 0.3])
def test_one_pin_moves_little_however_short_the_search(seconds: float) -> None:
    problem = a_busy_week(30)
    result = solve(problem, Stop(), seconds=seconds)
    assert_schedule_valid(problem, result)
    issued = {op.key: op.issued.start_min for op in problem.operations if op.issued}
    moved = [
        p.operation for p in result.placed if issued.get(p.operation, p.start_min) != p.start_min
    ]
    assert len(moved) <= 6
