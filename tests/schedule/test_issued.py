"""The start that leaves issued work where the floor expects it."""

from __future__ import annotations

from dataclasses import replace

from planner.schedule.compiled import Compiled, compile_problem
from planner.schedule.decoder import decode
from planner.schedule.dispatch import Start
from planner.schedule.issued import AS_ISSUED, MOST_NEW, as_issued
from planner.schedule.problem import (
    Alternative,
    Arc,
    Base,
    Fixed,
    Interval,
    Issued,
    Job,
    Operation,
    Person,
    Problem,
    Rule,
    Station,
    Term,
)

DAY = (Interval(420, 960),)


def an_operation(
    key: str, at: int | None = None, od: str = "1", minutes: int = 60, station: str = "saw"
) -> Operation:
    issued = None if at is None else Issued(station, at, begin_min=at)
    return Operation(key, (Alternative(station, minutes),), needs={"od": od}, issued=issued)


def a_problem(
    *operations: Operation, arcs: tuple[Arc, ...] = (), dues: dict[str, int] | None = None
) -> Problem:
    dues = dues or {}
    return Problem(
        bases=(Base("saw", (Rule("od", 10),), mounted={"od": "1"}),),
        stations=(Station("saw", hours=DAY),),
        operations=operations,
        arcs=arcs,
        jobs=tuple(Job(op.key, dues.get(op.key, 960), (op.key,)) for op in operations),
        horizon_min=1440,
    )


def times(problem: Problem) -> dict[str, int]:
    compiled = compile_problem(problem)
    return _times(compiled, as_issued(compiled)[AS_ISSUED])


def _times(compiled: Compiled, start: Start) -> dict[str, int]:
    _, steps = decode(compiled, start.order, list(start.modes))
    keys = [operation.key for operation in compiled.problem.operations]
    return {keys[step.operation]: step.start for step in steps if step.operation < len(keys)}


def test_without_issued_work_there_is_no_such_start() -> None:
    assert as_issued(compile_problem(a_problem(an_operation("a")))) == {}


def test_issued_work_keeps_its_order_and_times_against_any_rule() -> None:
    problem = a_problem(
        an_operation("a", 540), an_operation("b", 480), an_operation("c", 420), dues={"a": 480}
    )
    assert times(problem) == {"c": 420, "b": 480, "a": 540}


def test_new_work_that_can_wait_goes_where_nothing_moves() -> None:
    problem = a_problem(an_operation("a", 420), an_operation("b", 480), an_operation("new"))
    assert times(problem) == {"a": 420, "b": 480, "new": 540}


def test_new_work_that_is_due_goes_in_before_it_is_late() -> None:
    problem = a_problem(
        an_operation("a", 420), an_operation("b", 480), an_operation("new"), dues={"new": 540}
    )
    assert times(problem) == {"a": 420, "new": 480, "b": 540}


def test_new_work_in_two_steps_is_placed_by_when_its_last_is_due() -> None:
    rush = an_operation("rush"), an_operation("more", minutes=30)
    problem = a_problem(
        *(an_operation(f"old {n}", 420 + 60 * n) for n in range(6)),
        *rush,
        arcs=(Arc("rush", "more"),),
        dues={"more": 640},
    )
    found = times(problem)
    assert found["more"] + 30 <= 640
    assert sum(found[f"old {n}"] != 420 + 60 * n for n in range(6)) <= 5


def test_more_new_work_than_can_be_tried_comes_last_by_due_date() -> None:
    new = [an_operation(f"new {n}", minutes=1) for n in range(MOST_NEW + 1)]
    dues = {op.key: 960 - n for n, op in enumerate(new)} | {"new 0": 421}
    found = times(a_problem(an_operation("old", 420), *new, dues=dues))
    assert found["old"] == 420
    assert sorted(found, key=lambda key: found[key])[:3] == ["old", "new 0", f"new {MOST_NEW}"]


def test_running_work_comes_first_even_if_other_work_was_issued_earlier() -> None:
    fixed = Fixed(425, 500, "saw")
    running = Operation("run", (Alternative("saw", 75),), needs={"od": "1"}, fixed=fixed)
    late = replace(an_operation("late", 421), release_min=425)
    assert times(a_problem(late, running)) == {"run": 425, "late": 500}


def test_who_was_to_do_it_is_found_free_though_work_begins_at_one_minute() -> None:
    problem = Problem(
        stations=(Station("notcher", hours=DAY), Station("bender", hours=DAY)),
        operations=(
            an_operation_of("either", "notcher"),
            an_operation_of("only", "bender"),
        ),
        jobs=(Job("j", 960, ("either", "only")),),
        people=(Person("Bo", ("notcher",), DAY), Person("Cy", ("notcher", "bender"), DAY)),
        horizon_min=1440,
    )
    assert times(problem) == {"either": 420, "only": 420}


def an_operation_of(key: str, station: str) -> Operation:
    return Operation(key, (Alternative(station, 60),), issued=Issued(station, 420, begin_min=420))


def test_the_start_is_judged_by_what_it_moves() -> None:
    compiled = compile_problem(
        a_problem(an_operation("a", 420), an_operation("new"), dues={"new": 480})
    )
    start = as_issued(compiled)[AS_ISSUED]
    terms = dict(zip(Term, start.terms, strict=True))
    assert terms[Term.LATENESS] == 0
    assert terms[Term.DISTURBANCE] == 31
