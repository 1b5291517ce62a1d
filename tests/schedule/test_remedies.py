"""A remedy that is told for a late job does what it says when it is applied."""

from __future__ import annotations

import random
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace
from typing import Generic, TypeVar

from planner.schedule import (
    Ahead,
    Alternative,
    Arc,
    Base,
    Behind,
    Interval,
    Job,
    LateJob,
    Operation,
    Overtime,
    Person,
    Problem,
    Result,
    Rule,
    Station,
    Term,
    Turn,
    settle,
    solve,
)
from planner.schedule.compiled import compile_problem
from planner.schedule.decoder import decode
from planner.schedule.dispatch import Start, topological, urgencies
from planner.schedule.floors import completions_alone
from planner.schedule.problem import Hours
from planner.schedule.report import Outcome, make_result
from planner.schedule.settle import as_given
from planner.stop import Status, Stop
from tests.schedule.audit import assert_schedule_valid

DAY_MIN = 1440
ORDERS = range(150)
"""Random orders, each of a week of its own."""
LATE_WEEKS = (12, 30, 41, 74, 93, 100, 111, 112, 114)
"""Of the first 120 weeks those that are late when they are planned, and on time with overtime."""
NEAR_DUE_MIN = 1500
"""How far an order may stray from that of due dates."""
URGENT = 1000
"""A weight that outweighs all others."""


def a_tight_shop(seed: int) -> Problem:
    """Jobs of one or two steps on two stations, two shifts a day, more work than is due in time."""
    dice = random.Random(seed)
    shifts = tuple(
        Interval(day * DAY_MIN + start, day * DAY_MIN + start + 180)
        for day in range(8)
        for start in (420, 630)
    )
    operations: list[Operation] = []
    arcs: list[Arc] = []
    jobs: list[Job] = []
    for number in range(5):
        steps = dice.choice((("m",), ("n",), ("m", "n"), ("n", "m")))
        keys = [f"{number}{station}" for station in steps]
        for key, station in zip(keys, steps, strict=True):
            way = Alternative(station, dice.randint(30, 200))
            operations.append(Operation(key, (way,), {"od": str(dice.randint(1, 2))}))
        if len(keys) > 1:
            arcs.append(Arc(keys[0], keys[1]))
        due = dice.randint(0, 2) * DAY_MIN + dice.choice((600, 810))
        jobs.append(Job(str(number), due, (keys[-1],), dice.randint(0, 3)))
    people = (Person("Ann", ("m", "n"), shifts), Person("Bob", ("n",), shifts))
    return Problem(
        stations=(Station("m", hours=shifts), Station("n", hours=shifts)),
        bases=tuple(Base(key, (Rule("od", 15),)) for key in ("m", "n")),
        operations=tuple(operations),
        arcs=tuple(arcs),
        jobs=tuple(jobs),
        people=people if seed % 2 else (),
        horizon_min=8 * DAY_MIN,
    )


def with_overtime(problem: Problem, overtime: Overtime, price: int = 1) -> Problem:
    """Longer hours as a planner would write them down: after the last shift, that of one day or
    those of all days whose overtime ends by the due date, for the stations and who must stay."""

    def longer(hours: Hours) -> Hours:
        last: dict[int, int] = {}
        for piece in hours or ():
            last[piece.start_min // DAY_MIN] = piece.end_min
        wanted = [
            Interval(end, end + overtime.minutes, price)
            for end in last.values()
            if end == overtime.from_min or (overtime.daily and end > overtime.from_min)
        ]
        return tuple(sorted((*(hours or ()), *wanted), key=lambda each: each.start_min))

    return replace(
        problem,
        stations=tuple(
            replace(each, hours=longer(each.hours)) if each.key in overtime.stations else each
            for each in problem.stations
        ),
        people=tuple(
            replace(each, hours=longer(each.hours)) if each.key in (overtime.people or ()) else each
            for each in problem.people
        ),
    )


def urgent(problem: Problem, job: str) -> Problem:
    """The problem with a job that outweighs all others: what a Priority is."""
    jobs = (replace(j, weight=URGENT) if j.key == job else j for j in problem.jobs)
    return replace(problem, jobs=tuple(jobs))


def ends_of(problem: Problem, end: Mapping[str, int]) -> dict[str, int]:
    return {job.key: max(end[key] for key in job.finals) for job in problem.jobs}


def ends(problem: Problem, result: Result) -> dict[str, int]:
    return ends_of(problem, {each.operation: each.end_min for each in result.placed})


def listed(problem: Problem, order: tuple[str, ...]) -> dict[str, int]:
    """When jobs end if the operations are placed in this order, without a search."""
    stations = {op.key: op.alternatives[0].station for op in problem.operations}
    turns = tuple(Turn(key, stations[key]) for key in order)
    settled = settle(problem, [turns], Stop(), 0, 0.0)
    return ends_of(problem, {turn.operation: turn.end_min for turn in settled.turns})


def start_of(key: str, problem: Problem, order: tuple[str, ...]) -> int:
    """When an operation starts if all are placed in this order."""
    compiled = compile_problem(problem)
    start = as_given(compiled, tuple(Turn(each, "") for each in order))
    steps = decode(compiled, start.order, list(start.modes))[1]
    return next(step.start for step in steps if compiled.ops[step.operation].key == key)


def by_list(problem: Problem, dice: random.Random) -> tuple[tuple[str, ...], Result]:
    """Some order of all operations, and the result that it makes without any search."""
    compiled = compile_problem(problem)
    order = topological(
        compiled, [due + dice.randrange(NEAR_DUE_MIN) for due in urgencies(compiled).due]
    )
    modes = [op.modes[0] for op in compiled.ops]
    terms = tuple(decode(compiled, order, modes)[0].terms)
    best = Start(tuple(order), tuple(modes), terms)
    outcome = Outcome(best, {}, (), completions_alone(compiled), Status.GAP, 0)
    keys = tuple(compiled.ops[i].key for i in order)
    return keys, make_result(compiled, outcome)


Kind = TypeVar("Kind", Ahead, Behind, Overtime)


@dataclass(frozen=True)
class Offer(Generic[Kind]):
    """What is told of a late job of some order, and when each job ends in it."""

    problem: Problem
    order: tuple[str, ...]
    ends: Mapping[str, int]
    late: LateJob
    remedy: Kind


def offers(kind: type[Kind], seeds: range = ORDERS) -> Iterator[Offer[Kind]]:
    for seed in seeds:
        problem = a_tight_shop(seed)
        order, result = by_list(problem, random.Random(f"order {seed}"))
        for late in result.late:
            for remedy in late.remedies:
                if isinstance(remedy, kind):
                    yield Offer(problem, order, ends(problem, result), late, remedy)


def planned(problem: Problem) -> Result:
    """What a week comes to when it is planned, by the rules of the shop."""
    result = solve(problem, Stop(), seconds=0.02)
    assert_schedule_valid(problem, result)
    return result


def later(problem: Problem, was: Mapping[str, int], then: Mapping[str, int]) -> dict[str, int]:
    """By job the minutes by which it is late now, or later than it was."""
    more = {job.key: then[job.key] - max(job.due_min, was[job.key]) for job in problem.jobs}
    return {key: minutes for key, minutes in more.items() if minutes > 0}


def lateness(problem: Problem, then: Mapping[str, int]) -> int:
    return sum(job.weight * max(0, then[job.key] - job.due_min) for job in problem.jobs)


def test_work_that_goes_behind_a_late_job_s_own_harms_nobody() -> None:
    tried = 0
    for one in offers(Behind):
        arc = Arc(one.remedy.behind, one.remedy.operation)
        then = listed(replace(one.problem, arcs=(*one.problem.arcs, arc)), one.order)
        assert then[one.late.job] <= one.late.due_min
        assert later(one.problem, one.ends, then) == {}
        tried += 1
    assert tried >= 10


def test_overtime_after_the_shifts_told_makes_the_job_punctual_in_the_same_order() -> None:
    tried: set[tuple[int, bool]] = set()
    for one in offers(Overtime):
        then = listed(with_overtime(one.problem, one.remedy, price=0), one.order)
        assert then[one.late.job] <= one.late.due_min
        assert later(one.problem, one.ends, then) == {}
        tried.add((len(one.remedy.stations), one.remedy.daily))
    assert tried == {(1, False), (1, True), (2, True)}


def test_work_of_one_step_in_front_of_other_work_costs_the_others_what_is_told() -> None:
    free, not_at_once = {False: 0, True: 0}, 0
    for one in offers(Ahead):
        own = [key for key in one.order if key.startswith(one.late.job)]
        if len(own) > 1:
            continue
        rest = [key for key in one.order if key not in own]
        place = rest.index(one.remedy.before)
        then = listed(one.problem, (*rest[:place], *own, *rest[place:]))
        assert then[one.late.job] <= one.late.due_min
        assert later(one.problem, one.ends, then) == dict(one.remedy.harmed)
        started = start_of(own[0], one.problem, (*rest[:place], *own, *rest[place:]))
        assert started == one.remedy.start_min
        free[not one.remedy.harmed] += 1
        not_at_once += started > 420
    assert min(free.values()) >= 1
    assert not_at_once >= 1


def test_a_late_job_that_goes_ahead_is_punctual_and_the_others_pay_no_more_than_told() -> None:
    tried = 0
    for one in offers(Ahead, ORDERS[:40]):
        then = ends(one.problem, planned(urgent(one.problem, one.late.job)))
        assert then[one.late.job] <= one.late.due_min
        pays = dict(one.remedy.harmed)
        told = sum(
            job.weight * (max(0, one.ends[job.key] - job.due_min) + pays.get(job.key, 0))
            for job in one.problem.jobs
            if job.key != one.late.job
        )
        assert lateness(one.problem, then) <= told
        tried += 1
    assert tried >= 10


def test_a_week_with_the_overtime_told_is_planned_with_the_job_on_time() -> None:
    tried = 0
    for problem in map(a_tight_shop, LATE_WEEKS):
        result = planned(problem)
        weight = {job.key: job.weight for job in problem.jobs}
        for late, remedy in ((job, each) for job in result.late for each in job.remedies):
            if isinstance(remedy, Overtime):
                longer = with_overtime(problem, remedy)
                least = result.figures.terms[Term.LATENESS] - weight[late.job] * late.late_min
                assert planned(longer).figures.terms[Term.LATENESS] <= least
                again = planned(urgent(longer, late.job))
                assert ends(problem, again)[late.job] <= late.due_min
                tried += 1
    assert tried >= 5
