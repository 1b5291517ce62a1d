"""Small odd shops: what a sweep must survive."""

from __future__ import annotations

import random
from dataclasses import replace

from planner.schedule import Interval, Job, Problem
from tests.benchmarks.weeks import a_week
from tests.schedule.shops import a_random_shop


def an_odd_shop(seed: int) -> Problem:
    """A random small shop or week, often with one thing about it that no shop should have."""
    dice = random.Random(seed)
    if dice.random() < 0.5:
        problem = a_random_shop(seed, dice.randint(1, 14), people=dice.random() < 0.5)
    else:
        people = dice.random() < 0.5
        problem = a_week(dice.randint(1, 6), seed, finishers=dice.choice((1, 2)), people=people)
    return dice.choice(ODDITIES)(problem, dice)


def _as_it_is(problem: Problem, _: random.Random) -> Problem:
    return problem


def _one_person(problem: Problem, _: random.Random) -> Problem:
    return replace(problem, people=problem.people[:1])


def _no_time_to_spare(problem: Problem, dice: random.Random) -> Problem:
    work = sum(op.alternatives[0].duration_min for op in problem.operations if op.alternatives)
    return replace(problem, horizon_min=dice.randint(1, max(2, 4 * work)))


def _all_due_yesterday(problem: Problem, _: random.Random) -> Problem:
    jobs = tuple(Job(job.key, -1440, job.finals, job.weight) for job in problem.jobs)
    return replace(problem, jobs=jobs)


def _one_huge_lot(problem: Problem, dice: random.Random) -> Problem:
    first = problem.operations[0]
    huge = tuple(
        replace(a, duration_min=dice.randint(1000, 30_000), attended_min=None)
        for a in first.alternatives
    )
    operations = (replace(first, alternatives=huge, fixed=None), *problem.operations[1:])
    return replace(problem, operations=operations)


def _holidays_all_week(problem: Problem, dice: random.Random) -> Problem:
    def closed(hours: tuple[Interval, ...] | None) -> tuple[Interval, ...]:
        return tuple(i for i in hours or () if i.start_min >= 7 * 1440 or dice.random() < 0.05)

    stations = tuple(replace(s, hours=closed(s.hours)) for s in problem.stations)
    return replace(problem, stations=stations)


def _no_hours_at_all(problem: Problem, _: random.Random) -> Problem:
    return replace(problem, stations=tuple(replace(s, hours=()) for s in problem.stations))


def _nothing_due(problem: Problem, _: random.Random) -> Problem:
    return replace(problem, jobs=())


ODDITIES = (
    _as_it_is,
    _one_person,
    _no_time_to_spare,
    _all_due_yesterday,
    _one_huge_lot,
    _holidays_all_week,
    _no_hours_at_all,
    _nothing_due,
)
