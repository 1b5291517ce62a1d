"""Random small shops with everything that a problem may say, for tests and sweeps."""

from __future__ import annotations

import random
from dataclasses import replace

from planner.schedule import (
    Alternative,
    Arc,
    Base,
    Combine,
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

DAY_MIN = 1440
DAYS = 60


def some_hours(dice: random.Random, days: int = DAYS) -> tuple[Interval, ...]:
    """Two pieces a day with a break between, now and then overtime after the second."""
    start, length = dice.randint(300, 480), dice.randint(90, 240)
    pieces: list[Interval] = []
    overtime = dice.random() < 0.3
    for day in range(days):
        if day % 7 >= 5 or dice.random() < 0.05:
            continue
        first = day * DAY_MIN + start
        second = first + length + 30
        pieces += [Interval(first, first + length), Interval(second, second + length)]
        if overtime:
            pieces.append(Interval(second + length, second + length + 60, dice.randint(1, 5)))
    return tuple(pieces)


def a_random_shop(
    seed: int, operations: int = 12, *, people: bool = True, fixed: bool = True
) -> Problem:
    """A shop drawn by `seed`: stations, a shared base, lags, crews, hours and issued work."""
    dice = random.Random(seed)
    hours = [some_hours(dice) for _ in range(3)]
    rules = tuple(
        Rule(name, dice.randint(0, 30), _exceptions(dice), dice.choice([None, 0, 7]))
        for name in ("od", "belt", "attachment")
    )
    bases = (
        Base("base", rules, dice.choice(list(Combine)), {"od": "1"} if dice.random() < 0.5 else {}),
        Base("saw", (Rule("od", dice.randint(0, 12)),), free_from_min=dice.randint(0, 500)),
    )
    stations = (
        Station("finisher", "base", dice.choice(hours), {"attachment": "f"}),
        Station("notcher", "base", dice.choice(hours), {"attachment": "n"}),
        Station("saw", None, dice.choice([*hours, None])),
        Station("bender", None, dice.choice(hours)),
        Station("rack", unlimited=True),
    )
    ops = tuple(_operation(dice, f"o{i}", people, fixed) for i in range(operations))
    arcs = tuple(
        Arc(f"o{a}", f"o{b}", dice.choice([0, 0, 5, -3]), dice.random() < 0.1, dice.randint(0, 1))
        for b in range(1, operations)
        for a in dice.sample(range(b), min(b, dice.choice([0, 1, 1, 2])))
    )
    jobs = tuple(
        Job(
            f"j{i}",
            dice.randint(-100, 4 * DAY_MIN),
            tuple(
                f"o{n}"
                for n in dice.sample(range(operations), min(operations, dice.choice([1, 1, 2])))
            ),
            dice.randint(0, 4),
        )
        for i in range(max(1, operations // 2))
    )
    staff = tuple(
        Person(f"p{i}", tuple(s.key for s in stations), dice.choice(hours), dice.randint(0, 300))
        for i in range(dice.randint(2, 4) if people else 0)
    )
    jobs = _with_aims(random.Random(f"aims {seed}"), jobs)
    return Problem(stations, ops, bases, arcs, jobs, staff, DAYS * DAY_MIN)


def _with_aims(dice: random.Random, jobs: tuple[Job, ...]) -> tuple[Job, ...]:
    """Time to spare for some jobs of every second shop."""
    if dice.random() < 0.5:
        return jobs
    spare = [dice.choice((0, 60, 1000)) for _ in jobs]
    return tuple(
        replace(job, spare_min=each, aim_min=job.due_min - 2 * each if each == 60 else None)
        for job, each in zip(jobs, spare, strict=True)
    )


def _exceptions(dice: random.Random) -> dict[tuple[str, str], int]:
    pairs = [(str(a), str(b)) for a in range(3) for b in range(3)]
    return {pair: dice.randint(0, 40) for pair in dice.sample(pairs, dice.randint(0, 4))}


def _operation(dice: random.Random, key: str, people: bool, fixed: bool) -> Operation:
    names = dice.sample(["finisher", "notcher", "saw", "bender", "rack"], dice.choice([1, 1, 2]))
    alternatives = tuple(_alternative(dice, name, people) for name in names)
    op = Operation(
        key,
        alternatives,
        release_min=dice.choice([0, 0, dice.randint(0, 3 * DAY_MIN)]),
        latest_end_min=dice.choice([None, None, None, 5 * DAY_MIN]),
        may_pause=dice.random() < 0.8,
    )
    if fixed and dice.random() < 0.1:
        start = dice.randint(0, DAY_MIN)
        done = dice.random() < 0.5
        return replace(op, fixed=Fixed(start, start + 30, names[0], done=done))
    if dice.random() < 0.2:
        return replace(op, issued=Issued(dice.choice(names), dice.randint(0, DAY_MIN)))
    return op


def _alternative(dice: random.Random, name: str, people: bool) -> Alternative:
    needs: dict[str, str] = {}
    if name in ("finisher", "notcher", "saw"):
        needs["od"] = str(dice.randint(0, 2))
    if name == "finisher" or (name == "notcher" and dice.random() < 0.3):
        needs["belt"] = str(dice.randint(0, 2))
    return Alternative(
        name,
        dice.randint(0, 80),
        crew=dice.choice([0, 1, 1, 2]) if people else 1,
        attended_min=dice.choice([None, None, 0, 10]),
        needs=needs,
    )
