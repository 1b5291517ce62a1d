"""The start that leaves issued work where the floor expects it."""

from __future__ import annotations

from dataclasses import replace

from planner.schedule.compiled import Compiled, compile_problem
from planner.schedule.decoder import decode
from planner.schedule.dispatch import Start
from planner.schedule.issued import AS_ISSUED, as_issued
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


def test_new_work_comes_behind_by_due_date() -> None:
    problem = a_problem(
        an_operation("new", minutes=30),
        an_operation("rush", minutes=30),
        an_operation("a", 420),
        dues={"rush": 400},
    )
    assert times(problem) == {"a": 420, "rush": 480, "new": 510}


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
