"""Random small tube shops under pressure of due dates: passes in sequence, then saw or bender."""

from __future__ import annotations

import random
from dataclasses import dataclass, field, replace

from planner.schedule import (
    Alternative,
    Arc,
    Base,
    Combine,
    Fixed,
    Interval,
    Job,
    Operation,
    Person,
    Problem,
    Rule,
    Station,
)

DAY_MIN = 1440
DAYS = 20
ODS, BELTS = ("25", "38", "51"), ("P60", "P80", "P120")


@dataclass
class _Draft:
    dice: random.Random
    finishers: tuple[str, ...]
    operations: list[Operation] = field(default_factory=list[Operation])
    arcs: list[Arc] = field(default_factory=list[Arc])
    jobs: list[Job] = field(default_factory=list[Job])

    def lot(self, number: int, left: int) -> None:
        """Up to three passes, then perhaps saw or bender."""
        dice = self.dice
        od, last = dice.choice(ODS), ""
        family = dice.choice(("carbon", "stainless"))
        belts = sorted(dice.sample(BELTS, dice.choice((1, 1, 2, 2, 3))), key=BELTS.index)
        steps = [("finish", belt) for belt in belts]
        steps += [(each, "") for each in ("saw", "bend") if dice.random() < 0.4]
        for step, belt in steps[:left]:
            key = f"{number} {step}{belt}"
            self.operations.append(self._operation(key, step, od, family, belt))
            if last:
                lag, from_start = dice.choice((0, 0, 0, 7, -5)), dice.random() < 0.05
                self.arcs.append(Arc(last, key, lag, from_start))
            last = key
        due = dice.randint(0, 4) * DAY_MIN + dice.choice((100, 200, 400))
        self.jobs.append(Job(f"line {number}", due, (last,), dice.choice((1, 1, 2, 3))))

    def _operation(self, key: str, step: str, od: str, family: str, belt: str) -> Operation:
        dice = self.dice
        minutes = dice.randint(5, 60)
        if step == "finish":
            needs = {"od": od, "belt": belt}
            if dice.random() < 0.8:
                needs["family"] = family
            ways = tuple(
                Alternative(name, minutes + dice.choice((0, 5))) for name in self.finishers
            )
        else:
            needs = {"od": od} if step == "saw" else {"die": od}
            ways = (Alternative(step, minutes, attended_min=dice.choice((None, 5, 0))),)
        release = dice.choice((0, 0, 0, dice.randint(0, DAY_MIN)))
        op = Operation(key, ways, needs, release, may_pause=dice.random() < 0.8)
        if dice.random() < 0.05:
            start = dice.randint(0, DAY_MIN)
            fixed = Fixed(start, start + minutes, ways[0].station, done=dice.random() < 0.5)
            return replace(op, fixed=fixed)
        return op


def a_small_tube_shop(seed: int, operations: int = 6) -> Problem:
    """A shop drawn by `seed` with so many operations."""
    dice = random.Random(seed)
    finishers = ("finisher 1", "finisher 2") if dice.random() < 0.25 else ("finisher 1",)
    draft = _Draft(dice, finishers)
    while len(draft.operations) < operations:
        draft.lot(len(draft.jobs), operations - len(draft.operations))
    hours = _hours(dice)
    finishing = (
        Rule("family", dice.randint(0, 30), _exceptions(dice, ("carbon", "stainless"))),
        Rule("od", dice.randint(5, 30), _exceptions(dice, ODS)),
        Rule("belt", dice.randint(2, 15), _exceptions(dice, BELTS), dice.choice((None, 0, 9))),
    )
    combine = Combine.LONGEST if dice.random() < 0.2 else Combine.SUM
    mounted = {"od": dice.choice(ODS), "belt": dice.choice(BELTS)} if dice.random() < 0.5 else {}
    bases = [Base(name, finishing, combine, mounted) for name in finishers]
    on = "finisher 1" if dice.random() < 0.2 else "saw"
    if on == "saw":
        bases.append(Base("saw", (Rule("od", dice.randint(0, 15)),), free_from_min=10))
    bases.append(Base("bend", (Rule("die", dice.randint(5, 40)),)))
    stations = (
        *(Station(name, hours=hours) for name in finishers),
        Station("saw", on, hours),
        Station("bend", None, dice.choice((hours, None))),
    )
    everybody = tuple(station.key for station in stations)
    people = tuple(
        Person(f"person {i}", everybody, hours, dice.choice((0, 100)))
        for i in range(dice.choice((0, 0, 1, 2)))
    )
    return Problem(
        stations, tuple(draft.operations), tuple(bases), tuple(draft.arcs), tuple(draft.jobs),
        people, DAYS * DAY_MIN,
    )  # fmt: skip


def _hours(dice: random.Random) -> tuple[Interval, ...]:
    """A short day with a break, so that a day's end hurts; overtime now and then."""
    length, overtime = dice.randint(55, 90), dice.random() < 0.2
    pieces: list[Interval] = []
    for day in range(DAYS):
        start = day * DAY_MIN
        pieces += [Interval(start, start + length), Interval(start + length + 20, start + 120)]
        if overtime:
            pieces.append(Interval(start + 120, start + 140, 2))
    return tuple(each for each in pieces if each.start_min < each.end_min)


def _exceptions(dice: random.Random, names: tuple[str, ...]) -> dict[tuple[str, str], int]:
    """Now and then so that a detour is cheaper than the change itself."""
    if dice.random() < 0.6:
        return {}
    pairs = [(a, b) for a in names for b in names]
    return {pair: dice.randint(0, 50) for pair in dice.sample(pairs, dice.randint(1, 3))}
