"""Logs with a known truth: what a shop would have written down if it worked just so."""

from dataclasses import dataclass, field, replace
from datetime import date, timedelta

import numpy as np

from planner.finisher.observations import Carry, Observation, Work, observe
from planner.finisher.observations import LoggedRun as Run
from planner.shop import Belt, Shop
from planner.tube import Family
from tests.finisher.builders import a_belt_of, a_shop, inch

LENGTHS_IN = (24, 48, 96, 120, 240, 240, 240)
ODS_IN = (0.75, 1, 1.25, 1.5, 1.9, 2.375, 3)
FIRST_DAY = date(2026, 1, 5)


@dataclass(frozen=True)
class Truth:
    """How the invented shop really works."""

    slip: float = 0.78
    handling_s: float = 34
    short_handling_s: float = 18
    noise: float = 0.05
    """Standard deviation of a run in logs."""
    kinds: float = 0.03
    """The same of the belts' and OD classes' own slips."""
    outliers: float = 0.02
    """Share of rows that are wildly wrong."""
    timed: int = 0
    """The first so many rows are single tubes timed with a watch."""
    worn_from: int = 10**9
    """Row from which the first belt is worn."""
    worn: float = 1.25
    """What a worn belt multiplies a run's feeding time by."""


@dataclass
class Log:
    """Generated rows, with the true slip and handling of each."""

    shop: Shop
    observations: list[Observation] = field(default_factory=list[Observation])
    slips: list[float] = field(default_factory=list[float])
    handlings: list[float] = field(default_factory=list[float])
    wild: list[int] = field(default_factory=list[int])


def some_truth(seed: int, noise: float = 0.05, timed: int = 0) -> Truth:
    """Another invented shop for each seed."""
    random = np.random.default_rng(seed)
    return Truth(
        slip=float(random.uniform(0.7, 0.95)),
        handling_s=25 * float(np.exp(random.normal(0, 0.3))),
        short_handling_s=12 * float(np.exp(random.normal(0, 0.3))),
        noise=noise,
        timed=timed,
    )


def log_shop() -> Shop:
    return a_shop(*(a_belt_of(f"{label} carbon", label) for label in ("P80", "P120", "P180")))


def a_log(runs: int, seed: int = 1, truth: Truth | None = None) -> Log:
    truth = truth or Truth()
    random = np.random.default_rng(seed)
    log = Log(log_shop())
    belts = {belt.name: float(random.normal(0, truth.kinds)) for belt in log.shop.belts}
    ods = {k: float(random.normal(0, truth.kinds)) for k in ("up to 1 in", "1 to 2 in")}
    for row in range(1, runs + 1):
        belt = log.shop.belts[int(random.integers(len(log.shop.belts)))]
        planned = observe(log.shop, _planned(random, row, belt, row <= truth.timed))
        work = planned.work
        slip = truth.slip / np.exp(belts[work.belt] + ods.get(work.od_class, 0.0))
        by_hand = work.carry == Carry.HAND.value
        handling = truth.short_handling_s if by_hand else truth.handling_s
        worn = truth.worn if row >= truth.worn_from and belt is log.shop.belts[0] else 1.0
        log.observations.append(_done(planned, work, slip / worn, handling, truth, random))
        if random.random() < truth.outliers:
            log.wild.append(row)
            log.observations[-1] = _spoiled(log.observations[-1], random)
        log.slips.append(float(slip))
        log.handlings.append(handling)
    return log


def _planned(random: np.random.Generator, row: int, belt: Belt, timed: bool) -> Run:
    return Run(
        row=row,
        day=FIRST_DAY + timedelta(days=row // 3),
        station="Finisher",
        belt=belt.name,
        family=Family.CARBON,
        od_nm=inch(float(random.choice(ODS_IN))),
        length_nm=inch(float(random.choice(LENGTHS_IN))),
        count=1 if timed else int(random.integers(4, 60)),
        tilt_mdeg=int(random.integers(6, 17)) * 500,
        minutes=1,
        timed=timed,
    )


def _done(
    planned: Observation,
    work: Work,
    slip: float,
    handling: float,
    truth: Truth,
    random: np.random.Generator,
) -> Observation:
    seconds = work.formula_s / slip + work.count * handling
    seconds *= float(np.exp(random.normal(0, truth.noise)))
    return _rounded(planned, seconds)


def _spoiled(done: Observation, random: np.random.Generator) -> Observation:
    return _rounded(done, done.seconds * float(random.choice((0.3, 2.5, 4))))


def _rounded(planned: Observation, seconds: float) -> Observation:
    step = planned.resolution_s
    return replace(planned, seconds=max(step, round(seconds / step) * step))
