"""Minutes that changes really take, learned kind by kind and never far from the shop's table
while runs are few.

A kind's minutes are log-normal around its median; the table's minutes count as much as a few
runs. The middle is a Huber estimate (Huber 1964, constant 1.345), so one bad morning does not
move it.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from math import exp, log, sqrt

import numpy as np
from scipy.special import stdtrit

from planner.finisher.calibration import Z_80
from planner.finisher.observations import LoggedRun
from planner.shop import What

TABLE_WEIGHT = 3.0
"""Runs that the shop's own table counts for."""
USUAL_NOISE, NOISE_WEIGHT = 0.25, 4.0
"""Prior noise of a changeover in logs, and how many runs that belief is worth."""
HUBER = 1.345
"""Huber's constant: 95 % efficient on normal noise."""
ROUNDS = 20
"""Rounds of reweighting that the median and its noise get."""


@dataclass(frozen=True, slots=True)
class SetupTime:
    """Median and 80 % interval of one kind of change, in minutes."""

    what: What
    table_min: float
    median_min: float
    low_min: float
    high_min: float
    runs: int
    shared: float
    """Part of its variance that is not of one change but of what is not known of the median."""

    @property
    def spread(self) -> float:
        """Standard deviation in logs that the interval stands for."""
        return log(self.high_min / self.low_min) / 2 / Z_80

    @property
    def basis(self) -> str:
        """What it rests on, in words."""
        if self.runs == 0:
            return "the shop's table: none logged yet"
        if self.runs < TABLE_WEIGHT:
            return f"{self.runs} logged, leaning on the shop's table"
        return f"{self.runs} logged"


def setup_times(runs: Sequence[LoggedRun], table: dict[What, float]) -> dict[What, SetupTime]:
    """Learned minutes for each kind of change in the shop's table, whose minutes are above zero.

    Changes of other kinds, and those that took no time, teach nothing.
    """
    logged: dict[What, list[float]] = {what: [] for what in table}
    for run in runs:
        for setup in run.setups:
            if setup.minutes > 0 and setup.what in logged:
                logged[setup.what].append(setup.minutes)
    return {what: _learn(what, table[what], minutes) for what, minutes in logged.items()}


def _learn(what: What, table_min: float, minutes: list[float]) -> SetupTime:
    prior = log(table_min)
    logs = np.log(np.array(minutes, dtype=float))
    noise, middle, weight = USUAL_NOISE, prior, 0.0
    for _ in range(ROUNDS):
        off = np.abs(logs - middle) / noise
        weights = np.minimum(1.0, HUBER / np.maximum(off, 1e-12))
        weight = float(weights.sum())
        middle = (TABLE_WEIGHT * prior + float(weights @ logs)) / (TABLE_WEIGHT + weight)
        around = float(weights @ (logs - middle) ** 2)
        noise = sqrt((NOISE_WEIGHT * USUAL_NOISE**2 + around) / (NOISE_WEIGHT + weight))
    reach = float(stdtrit(NOISE_WEIGHT + weight, 0.9))
    unknown = 1 / (TABLE_WEIGHT + weight)
    reach *= noise * sqrt(1 + unknown)
    return SetupTime(
        what=what,
        table_min=table_min,
        median_min=exp(middle),
        low_min=exp(middle - reach),
        high_min=exp(middle + reach),
        runs=len(minutes),
        shared=unknown / (1 + unknown),
    )
