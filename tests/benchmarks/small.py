"""Small shops of every kind for the comparison with brute force."""

from __future__ import annotations

import random
from collections.abc import Callable
from dataclasses import replace

from planner.schedule import (
    Alternative,
    Arc,
    Base,
    Combine,
    Interval,
    Job,
    Operation,
    Person,
    Problem,
    Rule,
    Station,
)
from tests.schedule.shops import a_random_shop

DAY_MIN = 1440
DAYS = 40
CLEAN_DOWN = {("0", "1"): 45, ("1", "0"): 15}


def one_station(seed: int, operations: int) -> Problem:
    """Independent operations with set-ups, due dates and, often, releases on one station."""
    dice = random.Random(seed)
    released = dice.random() < 0.5
    ops = tuple(
        Operation(
            f"o{i}",
            (Alternative("finisher", dice.randint(5, 60)),),
            _mounted(dice),
            release_min=dice.choice((0, dice.randint(0, 900))) if released else 0,
            may_pause=dice.random() < 0.7,
        )
        for i in range(operations)
    )
    tight = dice.choice((1, 2, 4))
    return _shop(dice, ("finisher",), ops, (), tuple(op.key for op in ops), tight)


def one_matrix(seed: int, operations: int) -> Problem:
    """The published problem: minutes from each operation to each other, weights, no hours."""
    dice = random.Random(seed)
    minutes = {
        (str(a), str(b)): dice.randint(0, 60) for a in range(operations) for b in range(operations)
    }
    ops = tuple(
        Operation(f"o{i}", (Alternative("machine", dice.randint(10, 90)),), {"kind": str(i)})
        for i in range(operations)
    )
    work = operations * 60
    jobs = tuple(
        Job(f"j{i}", dice.randint(work // 4, work), (op.key,), dice.randint(0, 9))
        for i, op in enumerate(ops)
    )
    rule = Rule("kind", 30, minutes, dice.randint(0, 60))
    return Problem((Station("machine"),), ops, (Base("machine", (rule,)),), jobs=jobs)


def chains(seed: int, operations: int) -> Problem:
    """Lots with passes, saw, notcher and bender, as in a week but few."""
    dice = random.Random(seed)
    count = dice.choice((2, 3, 4))
    every = ("finisher", "saw", "notcher", "bender")[:count]
    return _lots(dice, operations, lambda step: (every[min(step, count - 1)],), every)


def two_finishers(seed: int, operations: int) -> Problem:
    """Lots whose passes may run on either of two finishers, then the saw."""
    dice = random.Random(seed)

    def at(step: int) -> tuple[str, ...]:
        return ("saw",) if step == 2 else ("finisher", "finisher 2")

    return _lots(dice, operations, at, ("finisher", "finisher 2", "saw"))


def few_people(seed: int, operations: int) -> Problem:
    """Lots on three stations with one, two or three people who run some of them."""
    dice = random.Random(seed)
    problem = chains(seed, operations)
    names = [station.key for station in problem.stations]
    hours = problem.stations[0].hours
    everybody = Person("p0", tuple(names), hours)
    others = tuple(
        Person(f"p{i}", tuple(dice.sample(names, dice.randint(1, len(names)))), hours)
        for i in range(1, dice.choice((1, 2, 3)))
    )
    return replace(problem, people=(everybody, *others))


def odd(seed: int, operations: int) -> Problem:
    """Anything a problem may say but people: shared base, lags, overtime, issued work."""
    return a_random_shop(seed, operations, people=False, fixed=seed % 2 == 0)


def odd_people(seed: int, operations: int) -> Problem:
    """Anything a problem may say."""
    return a_random_shop(seed, operations, people=True, fixed=seed % 2 == 0)


KINDS: dict[str, Callable[[int, int], Problem]] = {
    "one station": one_station,
    "matrix": one_matrix,
    "chains": chains,
    "two finishers": two_finishers,
    "few people": few_people,
    "odd": odd,
    "odd, people": odd_people,
}


def _mounted(dice: random.Random) -> dict[str, str]:
    return {
        name: str(dice.randint(0, most)) for name, most in (("family", 1), ("od", 3), ("belt", 2))
    }


def _lots(
    dice: random.Random,
    operations: int,
    at: Callable[[int], tuple[str, ...]],
    every: tuple[str, ...],
) -> Problem:
    ops: list[Operation] = []
    arcs: list[Arc] = []
    finals: list[str] = []
    while len(ops) < operations:
        needs, length = _mounted(dice), min(dice.choice((1, 2, 3, 4)), operations - len(ops))
        for step in range(length):
            key = f"o{len(ops)}"
            minutes = dice.randint(5, 60)
            ways = tuple(Alternative(name, minutes) for name in at(step))
            release = dice.randint(0, 600) if step == 0 and dice.random() < 0.3 else 0
            ops.append(Operation(key, ways, needs, release_min=release))
            if step:
                arcs.append(Arc(ops[-2].key, key, dice.choice((0, 0, 10)), holding=1))
        finals.append(ops[-1].key)
    return _shop(dice, every, tuple(ops), tuple(arcs), tuple(finals), dice.choice((1, 2, 4)))


def _shop(
    dice: random.Random,
    every: tuple[str, ...],
    ops: tuple[Operation, ...],
    arcs: tuple[Arc, ...],
    finals: tuple[str, ...],
    tight: int,
) -> Problem:
    combine = dice.choice(list(Combine))
    rules = (Rule("family", 20, CLEAN_DOWN), Rule("od", 18), Rule("belt", 6, from_nothing=0))
    hours = tuple(
        Interval(day * DAY_MIN + begin, day * DAY_MIN + end)
        for day in range(DAYS)
        for begin, end in ((360, 600), (615, 840))
    )
    if dice.random() < 0.2:
        hours = (Interval(0, DAYS * DAY_MIN),)
    latest = 360 + len(ops) * 50
    jobs = tuple(
        Job(
            f"j{i}",
            dice.randint(400, max(401, latest * tight // 2)),
            (key,),
            dice.choice((1, 1, 2, 3)),
        )
        for i, key in enumerate(finals)
    )
    return Problem(
        stations=tuple(Station(name, hours=hours) for name in every),
        operations=ops,
        bases=tuple(Base(name, rules, combine) for name in every),
        arcs=arcs,
        jobs=jobs,
        horizon_min=DAYS * DAY_MIN,
    )
