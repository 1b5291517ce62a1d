"""Tilt and feed: how fast a tilted brake wheel sends the tube along, and how often it turns.

Through-feed rate f = π·D·N·sin α (Groover, *Fundamentals of Modern Manufacturing*, §24.1.4)
for a regulating wheel of diameter D at N turns a minute, tilted by α; here times a slip
factor that timed tubes teach. Feeds are in mm/min, tilts in thousandths of a degree.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from enum import StrEnum
from math import asin, atan, cos, degrees, floor, pi, radians, sin, tan

from planner.errors import Finding, Severity, input_error
from planner.finisher.geometry import mm

QUARTER_TURN_MDEG = 90_000


@dataclass(frozen=True, slots=True)
class Drive:
    """What drives the tube along: the brake wheel at the speed used for finishing."""

    brake_nm: int
    """Diameter of the brake wheel."""
    brake_rpm: float
    slip: float = 1.0
    """Real feed over the feed of the formula."""


def feed_mm_min(drive: Drive, tilt_mdeg: float) -> float:
    """Feed along the tube at a tilt; negative for a mirrored tilt."""
    return _surface_mm_min(drive) * sin(radians(tilt_mdeg / 1000))


def tilt_mdeg(drive: Drive, feed: float) -> float:
    """Tilt that gives a feed in mm/min; raises InputError when no tilt does."""
    share = feed / _surface_mm_min(drive)
    if abs(share) > 1:
        raise input_error(
            f"No tilt feeds {abs(feed):.0f} mm a minute: the brake wheel's face runs at "
            f"{_surface_mm_min(drive):.0f}. Speed it up, or ask for less."
        )
    return degrees(asin(share)) * 1000


def _surface_mm_min(drive: Drive) -> float:
    return pi * mm(drive.brake_nm) * drive.brake_rpm * drive.slip


def tube_rpm(drive: Drive, od_nm: int, tilt: float) -> float:
    """Turns a minute of a tube that the brake wheel turns at a tilt."""
    return _surface_mm_min(drive) * cos(radians(tilt / 1000)) / (pi * mm(od_nm))


def pitch_nm(od_nm: int, tilt: float) -> float:
    """Advance of the tube in one turn, π·OD·tan tilt; slip moves both alike and drops out."""
    return pi * od_nm * abs(tan(radians(tilt / 1000)))


def turns_under_belt(belt_width_nm: int, od_nm: int, tilt: float) -> float:
    """Turns that a spot of the tube makes while the belt passes over it: its overlap."""
    pitch = pitch_nm(od_nm, tilt)
    return belt_width_nm / pitch if pitch else float("inf")


def _tilt_for_turns_mdeg(belt_width_nm: int, od_nm: int, turns: float) -> float:
    """The tilt at which a spot makes just so many turns under the belt."""
    return degrees(atan(belt_width_nm / (turns * pi * od_nm))) * 1000


class Hand(StrEnum):
    """The side on which the tube is laid in."""

    RIGHT = "right"
    LEFT = "left"

    def signed(self, tilt: int) -> int:
        """The tilt with its sign: fed from the left it is mirrored."""
        return tilt if self is Hand.RIGHT else -tilt


@dataclass(frozen=True, slots=True)
class FeedLimits:
    """What the suggested tilt has to respect."""

    least_turns: float
    """Turns under the belt in a pass, at least."""
    feed_min_mm_min: float
    feed_max_mm_min: float
    tilt_min_mdeg: int = 0
    tilt_max_mdeg: int = 10_000
    gentle_mdeg: int | None = None
    """Largest tilt to begin with; None once this set-up has been logged as good."""
    step_mdeg: int = 500
    """What the angle gauge can be read to."""


@dataclass(frozen=True, slots=True)
class FeedSetting:
    """A tilt and what it gives."""

    tilt_mdeg: int
    """Signed: negative when the tube is laid in from the left."""
    feed_mm_min: float
    tube_rpm: float
    turns: float
    """Turns that the tube makes under the belt in a pass."""
    because: str
    """What kept the tilt from being larger."""
    findings: tuple[Finding, ...] = ()


def at_tilt(
    drive: Drive, od_nm: int, belt_width_nm: int, tilt: int, because: str = "as asked"
) -> FeedSetting:
    """Everything that follows from a tilt."""
    return FeedSetting(
        tilt_mdeg=tilt,
        feed_mm_min=abs(feed_mm_min(drive, tilt)),
        tube_rpm=tube_rpm(drive, od_nm, tilt),
        turns=turns_under_belt(belt_width_nm, od_nm, tilt),
        because=because,
    )


def suggest_feed(
    drive: Drive, od_nm: int, belt_width_nm: int, limits: FeedLimits, hand: Hand = Hand.RIGHT
) -> FeedSetting:
    """The largest tilt that keeps the overlap, the feed limits and a gentle first setting.

    It is rounded down to what the gauge can show. Where the least feed or tilt wants more than
    the ceiling allows, the ceiling wins and a finding says so.
    """
    ceilings = {
        "the least overlap": _tilt_for_turns_mdeg(belt_width_nm, od_nm, limits.least_turns),
        "the largest feed": _tilt_or_all(drive, limits.feed_max_mm_min),
        "the largest tilt": limits.tilt_max_mdeg,
    }
    if limits.gentle_mdeg is not None:
        ceilings["a gentle first setting"] = limits.gentle_mdeg
    because = min(ceilings, key=lambda name: ceilings[name])
    step = limits.step_mdeg
    tilt = floor(ceilings[because] / step + 1e-9) * step
    if tilt <= 0:
        tilt = floor(ceilings[because])
    setting = at_tilt(drive, od_nm, belt_width_nm, hand.signed(tilt), because)
    return _with_findings(setting, limits)


def _tilt_or_all(drive: Drive, feed: float) -> float:
    return tilt_mdeg(drive, feed) if feed < _surface_mm_min(drive) else QUARTER_TURN_MDEG


def _with_findings(setting: FeedSetting, limits: FeedLimits) -> FeedSetting:
    found: list[Finding] = []
    if setting.feed_mm_min < limits.feed_min_mm_min:
        found.append(
            Finding(
                severity=Severity.WARNING,
                message=f"The feed is {setting.feed_mm_min:.0f} mm a minute, below the shop's "
                f"least of {limits.feed_min_mm_min:.0f}, because of {setting.because}: use a "
                "wider belt or a faster brake wheel, or accept it.",
            )
        )
    if abs(setting.tilt_mdeg) < limits.tilt_min_mdeg:
        found.append(
            Finding(
                severity=Severity.WARNING,
                message=f"The tilt is {abs(setting.tilt_mdeg) / 1000:.1f}°, below the usual "
                f"{limits.tilt_min_mdeg / 1000:.1f}°, because of {setting.because}: use a wider "
                "belt, or accept it.",
            )
        )
    return replace(setting, findings=tuple(found))
