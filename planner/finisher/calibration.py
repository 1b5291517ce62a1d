"""Learn slip and handling from logged runs: robustly, with shrinkage, and with honest spreads.

The model is `seconds = formula / slip + count × handling`, with log-normal noise. The log of
1/slip and of handling are each the shop's own setting plus a common correction plus one small
effect for each station, OD class, family and belt (slip), or station and way of carrying
(handling). Effects are normal around zero, so a kind with few runs stays near the shop's mean
(a ridge, or random-effects, estimate). The size of the effects is itself learned, by one
expectation step a round (Dempster, Laird and Rubin 1977). Rounds are Gauss-Newton with Tukey's
biweight (Beaton and Tukey 1974; constant 4.685), so that a wild row has no say and is reported.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from math import exp, log, sqrt

import numpy as np
from numpy.typing import NDArray
from scipy.special import stdtrit

from planner.finisher.observations import Observation, Work

Floats = NDArray[np.float64]

BIWEIGHT = 4.685
"""Tukey's constant: 95 % efficient on normal noise."""
MAD_TO_SIGMA = 1.4826
"""Standard deviation of a normal over its median absolute deviation: 1 / Φ⁻¹(3/4)."""
OUTLIER_SIGMAS = 4.0
"""A run this far from what is expected of it is reported; of sound ones one in 16,000 is."""
LEAST_MIDDLE, LEAST_NOISE = 0.02, 0.01
"""Runs that agree better than this, in logs, are not taken to be as sure as they look."""
ROUNDS, SETTLED = 40, 1e-9
"""Rounds at most, and the largest step in logs after which there are no more."""
UNSETTLED = 0.2
"""Handling known no better than this, in logs, is not told apart from feeding."""
Z_80 = 1.2815515655446004
"""Four fifths of a normal lie within so many standard deviations."""

BASE_SPREAD = (0.25, 0.4)
"""Prior spread of the common correction to 1/slip and to handling, in logs."""
USUAL_NOISE, NOISE_WEIGHT = 0.08, 4.0
"""Prior noise of a run in logs, and how many runs that belief is worth."""
EFFECT_SPREADS = {
    ("slip", "station"): 0.08,
    ("slip", "od_class"): 0.05,
    ("slip", "family"): 0.05,
    ("slip", "belt"): 0.05,
    ("handling", "station"): 0.15,
    ("handling", "carry"): 0.25,
}
EFFECT_WEIGHT = 4.0
"""Prior size of each factor's effects in logs, and how many levels that belief is worth."""


@dataclass(frozen=True, slots=True)
class Outlier:
    """A run that is too far from the rest to learn from."""

    row: int
    factor: float
    """Its time over what was expected of it."""


@dataclass(frozen=True, slots=True)
class Duration:
    """Median and 80 % interval of a pass still to do, in seconds."""

    median_s: float
    low_s: float
    high_s: float
    runs: int
    """Runs on the same station and belt that it rests on."""
    basis: str
    shared: float
    """Part of its variance that is not of one run but of what is not known of the shop's times, so
    that other runs are off by it too."""

    @property
    def spread(self) -> float:
        """Half the interval's width in logs: what a sampler needs."""
        return log(self.high_s / self.low_s) / 2 / Z_80


@dataclass(frozen=True)
class Calibration:
    """What the log has taught; with no runs it is the shop's settings and a wide interval."""

    columns: tuple[tuple[str, str, str], ...]
    """What each number corrects: `slip` or `handling`, factor, level; the commons come first."""
    effects: Floats
    covariance: Floats
    noise: float
    """Standard deviation of a run in logs."""
    freedom: float
    """Degrees of freedom behind the noise."""
    counts: dict[tuple[str, str], int]
    """Runs by station and belt."""
    runs: int
    outliers: tuple[Outlier, ...]

    def slip(self, work: Work) -> float:
        """Learned slip, real feed over the feed of the formula, for a kind of work."""
        return work.slip / exp(float(self._rows(work)[0] @ self.effects))

    def handling_s(self, work: Work) -> float:
        """Learned seconds of handling a piece for a kind of work."""
        return work.handling_s * exp(float(self._rows(work)[1] @ self.effects))

    def predict(self, work: Work, coverage: float = 0.8) -> Duration:
        """Median and interval of a pass still to do."""
        slip_row, handling_row = self._rows(work)
        feeding, handling = work.formula_s / self.slip(work), work.count * self.handling_s(work)
        share = feeding / (feeding + handling)
        row = share * slip_row + (1 - share) * handling_row
        unknown = self._unseen(work, share)
        shared = float(row @ self.covariance @ row) + unknown
        spread = sqrt(self.noise**2 + shared)
        reach = float(stdtrit(self.freedom, 0.5 + coverage / 2)) * spread
        median = feeding + handling
        runs = self.counts.get((work.station, work.belt), 0)
        return Duration(
            median_s=median,
            low_s=median * exp(-reach),
            high_s=median * exp(reach),
            runs=runs,
            basis=self._basis(runs),
            shared=shared / spread**2,
        )

    def handling_spread(self, work: Work) -> float:
        """What is not known of the handling, as a standard deviation in logs."""
        row = self._rows(work)[1]
        return sqrt(float(row @ self.covariance @ row))

    def unsettled(self, work: Work) -> bool:
        """Whether slip and handling cannot be told apart, though their sum may be well known.

        So it is while all runs are alike; a few tubes timed with a watch settle it.
        """
        return self.runs > 0 and self.handling_spread(work) > UNSETTLED

    def _basis(self, runs: int) -> str:
        if self.runs == 0:
            return "the shop's settings: no runs logged yet"
        if runs == 0:
            return f"{self.runs} runs of other kinds: none on this belt yet"
        if runs < 3:
            return f"{runs} of this kind, leaning on the shop's mean of {self.runs} runs"
        return f"{runs} runs of this kind"

    def _rows(self, work: Work) -> tuple[Floats, Floats]:
        return _row(self.columns, "slip", work), _row(self.columns, "handling", work)

    def _unseen(self, work: Work, share: float) -> float:
        """Variance of effects that no run has shown yet."""
        known = set(self.columns)
        shares = {"slip": share, "handling": 1 - share}
        return sum(
            (shares[part] * spread) ** 2
            for (part, factor), spread in EFFECT_SPREADS.items()
            if (part, factor, getattr(work, factor)) not in known
        )


def _row(columns: Sequence[tuple[str, str, str]], part: str, work: Work) -> Floats:
    return np.array(
        [
            float(own == part and (factor == "" or getattr(work, factor) == level))
            for own, factor, level in columns
        ]
    )


def calibrate(observations: Sequence[Observation]) -> Calibration:
    """Fit the model to what was logged; any number of runs will do, also none."""
    columns = _columns(observations)
    fit = _Fit(columns, observations)
    for _ in range(ROUNDS):
        if fit.improve() < SETTLED:
            break
    counts: dict[tuple[str, str], int] = {}
    for observation in observations:
        kind = (observation.work.station, observation.work.belt)
        counts[kind] = counts.get(kind, 0) + 1
    return Calibration(
        columns=columns,
        effects=fit.effects,
        covariance=fit.covariance,
        noise=fit.noise,
        freedom=NOISE_WEIGHT + fit.believed,
        counts=counts,
        runs=len(observations),
        outliers=fit.outliers(),
    )


def _columns(observations: Sequence[Observation]) -> tuple[tuple[str, str, str], ...]:
    columns = [("slip", "", ""), ("handling", "", "")]
    for part, factor in EFFECT_SPREADS:
        levels = sorted({getattr(o.work, factor) for o in observations})
        columns.extend((part, factor, level) for level in levels)
    return tuple(columns)


class _Fit:
    """The state of the rounds."""

    def __init__(
        self, columns: tuple[tuple[str, str, str], ...], observations: Sequence[Observation]
    ) -> None:
        works = [observation.work for observation in observations]
        width = len(columns)
        self.columns = columns
        self.rows = [observation.row for observation in observations]
        self.slip_rows = _stack([_row(columns, "slip", work) for work in works], width)
        self.handling_rows = _stack([_row(columns, "handling", work) for work in works], width)
        self.feeding = np.array([work.formula_s / work.slip for work in works])
        self.handling = np.array([work.count * work.handling_s for work in works])
        self.logs = np.log(np.array([o.seconds for o in observations]))
        self.rounding = np.array([o.resolution_s**2 / 12 / o.seconds**2 for o in observations])
        self.effects: Floats = np.zeros(width)
        self.covariance: Floats = np.zeros((width, width))
        self.spreads = np.array(
            [*BASE_SPREAD, *(EFFECT_SPREADS[part, factor] for part, factor, _ in columns[2:])]
        )
        self.noise = USUAL_NOISE
        self.believed = 0.0

    def expected(self) -> tuple[Floats, Floats]:
        """Logs of the expected seconds, and the share that is feeding."""
        feeding = self.feeding * np.exp(self.slip_rows @ self.effects)
        handling = self.handling * np.exp(self.handling_rows @ self.effects)
        return np.log(feeding + handling), feeding / (feeding + handling)

    def improve(self) -> float:
        """One round: noise, weights, a Gauss-Newton step, the size of effects; returns its step."""
        logs, share = self.expected()
        off = self.logs - logs
        self._judge_noise(off)
        variance = self.noise**2 + self.rounding
        ratio = off / np.sqrt(variance) / BIWEIGHT
        weights = np.where(np.abs(ratio) < 1, (1 - ratio**2) ** 2, 0.0) / variance
        slope = share[:, None] * self.slip_rows + (1 - share)[:, None] * self.handling_rows
        precision = slope.T @ (weights[:, None] * slope) + np.diag(self.spreads**-2.0)
        pull = slope.T @ (weights * off) - self.effects / self.spreads**2
        self.covariance = np.asarray(np.linalg.inv(precision), dtype=np.float64)
        step = self.covariance @ pull
        self.effects = self.effects + step
        self._judge_effects()
        return float(np.max(np.abs(step)))

    def _judge_noise(self, off: Floats) -> None:
        """Noise from the runs that are not wild, with the prior's belief mixed in."""
        if not len(off):
            return
        middle = MAD_TO_SIGMA * float(np.median(np.abs(off)))
        limit = OUTLIER_SIGMAS * np.sqrt(max(middle, LEAST_MIDDLE) ** 2 + self.rounding)
        tame = np.abs(off) <= limit
        self.believed = max(0.0, float(tame.sum()) - self._used())
        excess = float(np.sum(off[tame] ** 2 - self.rounding[tame] * self._damping(tame)))
        total = NOISE_WEIGHT * USUAL_NOISE**2 + max(0.0, excess)
        self.noise = max(LEAST_NOISE, sqrt(total / (NOISE_WEIGHT + self.believed)))

    def _damping(self, tame: NDArray[np.bool_]) -> float:
        return self.believed / max(1.0, float(tame.sum()))

    def _used(self) -> float:
        """Numbers that the data, not the prior, have settled (effective parameters)."""
        if not self.covariance.any():
            return 0.0
        return float(np.sum(1 - np.diag(self.covariance) / self.spreads**2))

    def _judge_effects(self) -> None:
        """The size of each factor's effects, from the effects and what is not known of them."""
        squares = self.effects**2 + np.diag(self.covariance)
        for factor, spread in EFFECT_SPREADS.items():
            own = [i for i, column in enumerate(self.columns) if column[:2] == factor]
            total = EFFECT_WEIGHT * spread**2 + float(squares[own].sum())
            self.spreads[own] = sqrt(total / (EFFECT_WEIGHT + len(own)))

    def outliers(self) -> tuple[Outlier, ...]:
        """Runs too far from what the model expects of them."""
        if not self.rows:
            return ()
        off = self.logs - self.expected()[0]
        sigmas = off / np.sqrt(self.noise**2 + self.rounding)
        return tuple(
            Outlier(row, exp(float(far)))
            for row, far, many in zip(self.rows, off, sigmas, strict=True)
            if abs(many) > OUTLIER_SIGMAS
        )


def _stack(rows: list[Floats], width: int) -> Floats:
    return np.array(rows) if rows else np.zeros((0, width))
