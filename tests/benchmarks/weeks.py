"""Generated weeks of an invented tube shop, as problems of the run-order engine.

A lot has one to three passes on the finisher (coarse to fine), is sawn, and feeds one or two
order lines that are notched or bent or both. Due dates are spread so that the finisher is busy
about four fifths of the time; the hours are ten spare days longer than the work.
"""

from __future__ import annotations

import random
from dataclasses import dataclass, field

from planner.schedule import (
    Alternative,
    Arc,
    Base,
    Interval,
    Job,
    Operation,
    Person,
    Problem,
    Rule,
    Station,
)

DAY_MIN = 1440
SHIFT = ((360, 600), (615, 840))
ODS = ("19", "25", "32", "38", "42", "48", "51", "60", "76", "89")
FAMILIES = ("carbon", "carbon", "stainless", "aluminium")
CLEAN_DOWN = {("carbon", "stainless"): 45, ("carbon", "aluminium"): 40, ("stainless", "carbon"): 15}
STATIONS = ("saw", "notcher", "bender")


@dataclass
class Week:
    """A week while it is being drawn."""

    dice: random.Random
    finishers: tuple[str, ...]
    operations: list[Operation] = field(default_factory=list[Operation])
    arcs: list[Arc] = field(default_factory=list[Arc])
    finals: list[str] = field(default_factory=list[str])

    def add(self, key: str, stations: tuple[str, ...], minutes: int, needs: dict[str, str]) -> str:
        """One operation."""
        crew = 2 if self.dice.random() < 0.1 else 1
        attended = 5 if stations == ("saw",) and self.dice.random() < 0.3 else None
        ways = tuple(Alternative(name, minutes, crew, (), attended) for name in stations)
        self.operations.append(Operation(key, ways, needs))
        return key

    def follow(self, before: str | None, after: str) -> str:
        """`after` waits for `before`."""
        if before is not None:
            self.arcs.append(Arc(before, after, holding=1))
        return after

    def lot(self, name: str) -> None:
        """One lot with its passes and order lines."""
        dice, od = self.dice, self.dice.choice(ODS)
        family = dice.choice(FAMILIES)
        rail = "thin" if int(od) < 50 else "thick"
        last: str | None = None
        for grit in sorted(dice.sample((60, 80, 120, 180, 240), dice.choice((1, 2, 2, 3)))):
            needs = {"family": family, "od": od, "rail": rail, "belt": f"P{grit}"}
            last = self.follow(
                last, self.add(f"{name}-P{grit}", self.finishers, dice.randint(8, 45), needs)
            )
        sawn = self.follow(last, self.add(f"{name}-saw", ("saw",), dice.randint(8, 30), {"od": od}))
        for line in range(dice.choice((1, 1, 2))):
            end = sawn
            if dice.random() < 0.6:
                needs = {"od": od, "roller": str(int(od) // 20)}
                minutes = dice.randint(8, 40)
                end = self.follow(
                    end, self.add(f"{name}-notch{line}", ("notcher",), minutes, needs)
                )
            if dice.random() < 0.5:
                needs = {"die": f"{od}x{dice.choice((2, 3))}D"}
                end = self.follow(
                    end, self.add(f"{name}-bend{line}", ("bender",), dice.randint(10, 50), needs)
                )
            self.finals.append(end)


def a_week(lots: int, seed: int, *, finishers: int = 1, people: bool = False) -> Problem:
    """The problem; the same arguments give the same week."""
    names = tuple(f"finisher {i + 1}" for i in range(finishers))
    week = Week(random.Random(seed), names)
    for number in range(lots):
        week.lot(f"L{number}")
    busy_days = lots * 80 / finishers / 465 + 0.5
    days = int(busy_days * 1.5) + 10
    hours = tuple(
        Interval(day * DAY_MIN + start, day * DAY_MIN + end)
        for day in range(days * 7 // 5 + 7)
        if day % 7 < 5
        for start, end in SHIFT
    )
    return Problem(
        bases=_bases(names),
        stations=tuple(Station(name, hours=hours) for name in (*names, *STATIONS)),
        operations=tuple(week.operations),
        arcs=tuple(week.arcs),
        jobs=tuple(
            Job(
                f"line {i}", _due(week.dice, busy_days), (final,), week.dice.choice((1, 1, 1, 2, 3))
            )
            for i, final in enumerate(week.finals)
        ),
        people=_people(names, hours) if people else (),
        horizon_min=(days * 7 // 5 + 7) * DAY_MIN,
    )


def _bases(finishers: tuple[str, ...]) -> tuple[Base, ...]:
    finishing = (Rule("family", 20, CLEAN_DOWN), Rule("od", 18), Rule("rail", 8), Rule("belt", 6))
    return (
        *(Base(name, finishing) for name in finishers),
        Base("saw", (Rule("od", 6),)),
        Base("notcher", (Rule("od", 12), Rule("roller", 8))),
        Base("bender", (Rule("die", 25),)),
    )


def _due(dice: random.Random, busy_days: float) -> int:
    day = int(dice.uniform(1.5, 1.4 * busy_days + 2))
    return (day + 2 * (day // 5)) * DAY_MIN + SHIFT[1][1]


def _people(finishers: tuple[str, ...], hours: tuple[Interval, ...]) -> tuple[Person, ...]:
    """As many people as stations; everybody runs three stations that follow each other."""
    every = (*finishers, *STATIONS)
    return tuple(
        Person(f"person {i + 1}", (*every[i:], *every[:i])[:3], hours) for i in range(len(every))
    )
