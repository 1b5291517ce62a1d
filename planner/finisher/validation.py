"""How good the learned minutes are on runs that they were not learned from."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from statistics import median

from planner.finisher.calibration import calibrate
from planner.finisher.observations import Observation

FOLDS = 10
"""Parts of a log of which each is left out once: as usual for cross-validation."""
FEWEST = 5
"""Runs that a log must have for its error to say anything."""


@dataclass(frozen=True, slots=True)
class Validation:
    """Median error of a run's minutes, before and after learning, each run predicted from
    the others."""

    runs: int
    before: float
    """Share of the logged time, with the shop's settings."""
    after: float
    covered: float
    """Share of runs inside their 80 % interval."""


def cross_validate(observations: Sequence[Observation], folds: int = FOLDS) -> Validation | None:
    """Cross-validate a log; every fold-th run is left out in turn. None for fewer than 5 runs."""
    if len(observations) < FEWEST:
        return None
    folds = min(folds, len(observations))
    before: list[float] = []
    after: list[float] = []
    inside = 0
    for fold in range(folds):
        learned = calibrate([o for i, o in enumerate(observations) if i % folds != fold])
        for observation in observations[fold::folds]:
            told = learned.predict(observation.work)
            before.append(abs(observation.work.usual_s / observation.seconds - 1))
            after.append(abs(told.median_s / observation.seconds - 1))
            inside += told.low_s <= observation.seconds <= told.high_s
    count = len(observations)
    return Validation(count, median(before), median(after), inside / count)
