"""Alarms when runs grow slower than the model says: a worn belt or a worn wheel.

For each belt, and for each finisher over its sound belts, the residuals in order of time are
split where the later ones are slower by the most standard errors: the likelihood-ratio test for
one change of a normal mean (Hawkins 1977). An alarm needs four standard errors, which sound
series seldom reach by chance, and a slow-down worth walking to the machine for.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from math import exp, log, sqrt

import numpy as np

from planner.finisher.calibration import Calibration
from planner.finisher.observations import Observation

FEWEST = 6
"""Runs on each side of a split."""
STANDARD_ERRORS = 4.0
"""What an alarm needs of them."""
LEAST_SLOWER = 0.04
"""A slow-down worth walking to the machine for, in logs."""
CLIP_SIGMAS = 3.0
"""A wild run counts no more than this."""


@dataclass(frozen=True, slots=True)
class Drift:
    """A series of runs that has become slower."""

    kind: str
    """`belt` or `finisher`."""
    name: str
    since_row: int
    """Row of the log from which it has been slower."""
    slower: float
    """Time of a run since then over what it was before, above 1."""
    runs: int
    """Runs since then."""

    @property
    def message(self) -> str:
        """What to look at."""
        what = (
            f"Belt {self.name} may be worn"
            if self.kind == "belt"
            else f"The brake wheel of {self.name} may be worn: measure its diameter"
        )
        return (
            f"{what}: since row {self.since_row} of the log, {self.runs} runs have taken "
            f"{100 * (self.slower - 1):.0f} % longer."
        )


def drifts(calibration: Calibration, observations: Sequence[Observation]) -> tuple[Drift, ...]:
    """Every belt and every finisher whose runs have become slower over time."""
    ordered = sorted(observations, key=lambda o: (o.day, o.row))
    found: list[Drift] = []
    for belt in dict.fromkeys(o.work.belt for o in ordered):
        series = [o for o in ordered if o.work.belt == belt]
        found.extend(_watch(calibration, series, "belt", belt))
    slow = {drift.name for drift in found}
    for station in dict.fromkeys(o.work.station for o in ordered):
        series = [o for o in ordered if o.work.station == station and o.work.belt not in slow]
        found.extend(_watch(calibration, series, "finisher", station))
    return tuple(found)


def _watch(
    calibration: Calibration, series: Sequence[Observation], kind: str, name: str
) -> list[Drift]:
    count = len(series)
    if count < 2 * FEWEST:
        return []
    sigmas = np.array(
        [sqrt(calibration.noise**2 + o.resolution_s**2 / 12 / o.seconds**2) for o in series]
    )
    off = np.array([log(o.seconds / calibration.predict(o.work).median_s) for o in series])
    off = np.clip(off - np.median(off), -CLIP_SIGMAS * sigmas, CLIP_SIGMAS * sigmas)
    splits = range(FEWEST, count - FEWEST + 1)
    typical = float(np.median(sigmas))
    steps = [float(off[k:].mean() - off[:k].mean()) for k in splits]
    errors = [typical * sqrt(1 / k + 1 / (count - k)) for k in splits]
    best = max(range(len(steps)), key=lambda i: steps[i] / errors[i])
    if steps[best] < max(LEAST_SLOWER, STANDARD_ERRORS * errors[best]):
        return []
    first = splits[best]
    return [Drift(kind, name, series[first].row, exp(steps[best]), count - first)]
