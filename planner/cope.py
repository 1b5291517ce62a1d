"""Ends cut to sit on another tube (saddles) or at an angle (mitres).

A branch of radius r meets a header of radius R, axes crossing at angle θ.  Along the branch, from
the header's axis, its wall ends at

    s(φ) = [√(R² - r² sin²φ) + r · cos φ · cos θ] / sin θ

for the turn φ around the branch.  The blank must reach the smallest s, its longest point.

>>> inch = 25_400_000
>>> tee = saddle(branch_od_nm=3 * inch // 2, header_od_nm=2 * inch, angle_mdeg=90_000)
>>> round(tee.nearest_nm / inch, 4), round(tee.farthest_nm / inch, 4)
(0.6614, 1.0)
"""

from __future__ import annotations

import cmath
import math
from collections.abc import Sequence
from dataclasses import dataclass

from planner.errors import input_error
from planner.units import MDEG_PER_DEGREE, format_angle, format_size

LEAST_ANGLE_MDEG = 15 * MDEG_PER_DEGREE
"""Sharpest angle between two tubes that a saddle is cut for; below it the point is a knife."""


@dataclass(frozen=True)
class Saddle:
    """How near to the header's axis the saddle comes, and how far from it it ends, nm."""

    nearest_nm: int
    farthest_nm: int

    @property
    def depth_nm(self) -> int:
        """How deep the cut goes into the end."""
        return self.farthest_nm - self.nearest_nm


def saddle(branch_od_nm: int, header_od_nm: int, angle_mdeg: int) -> Saddle:
    """The saddle of a branch on a header; an obtuse angle is the acute one seen from behind.

    Where s(φ) is stationary off the heel, at cos φ = -√(R²-r²) · cot θ / r, it is √(R²-r²).
    Raises InputError for a branch wider than the header and for an angle too sharp to cut.
    """
    acute = min(angle_mdeg, 180 * MDEG_PER_DEGREE - angle_mdeg)
    _check_saddle(branch_od_nm, header_od_nm, angle_mdeg, acute)
    branch, header = branch_od_nm / 2, header_od_nm / 2
    theta = math.radians(acute / MDEG_PER_DEGREE)
    heel = (header - branch * math.cos(theta)) / math.sin(theta)
    toe = (header + branch * math.cos(theta)) / math.sin(theta)
    root = math.sqrt(header**2 - branch**2)
    flank_is_nearest = root * math.cos(theta) <= branch * math.sin(theta)
    return Saddle(round(root if flank_is_nearest else heel), round(toe))


def _both(od_nm: int) -> str:
    return f"{format_size(od_nm, 'inch')} ({format_size(od_nm, 'mm')})"


def _check_saddle(branch_od_nm: int, header_od_nm: int, angle_mdeg: int, acute: int) -> None:
    if branch_od_nm > header_od_nm:
        on, end = (_both(od_nm) for od_nm in (header_od_nm, branch_od_nm))
        message = f"A {end} tube cannot sit on a {on} tube; name the wider tube as the header."
        raise input_error(message, read=on, expected=f"{end} or more")
    if acute < LEAST_ANGLE_MDEG:
        least = format_angle(LEAST_ANGLE_MDEG)
        message = (
            f"A saddle at {format_angle(angle_mdeg)} is too sharp to cut; give {least} or more."
        )
        raise input_error(message, read=format_angle(angle_mdeg), expected=f"{least} or more")


def mitre_reach_nm(od_nm: int, angle_mdeg: int) -> int:
    """From a mitred end's centre to its long point: OD/2 · tan α, α off square.

    Raises InputError for an angle that no saw reaches, above 75°.

    >>> mitre_reach_nm(1_000, 45_000)
    500
    """
    if not 0 <= angle_mdeg <= 75 * MDEG_PER_DEGREE:
        message = f"A mitre of {format_angle(angle_mdeg)} off square cannot be sawn; give 0 to 75°."
        raise input_error(message, read=format_angle(angle_mdeg), expected="0 to 75° off square")
    return round(od_nm / 2 * math.tan(math.radians(angle_mdeg / MDEG_PER_DEGREE)))


def short_side_nm(long_nm: int, od_nm: int, angles_mdeg: Sequence[int], twist_mdeg: int = 0) -> int:
    """The shortest side of a straight piece with mitred ends, from its length between long points;
    the second mitre is turned by the twist.

    At the turn φ the mitres take r₁(1 - cos φ) and r₂(1 - cos(φ - twist)) off, at most
    r₁ + r₂ + |r₁ + r₂·exp(i·twist)|, where r₁ and r₂ are their reaches.

    >>> short_side_nm(10_000, 1_000, [45_000, 45_000])
    8000
    >>> short_side_nm(10_000, 1_000, [45_000, 45_000], 180_000)
    9000
    """
    reaches = [mitre_reach_nm(od_nm, angle) for angle in angles_mdeg]
    twist = math.radians(twist_mdeg / MDEG_PER_DEGREE)
    turned = sum(reach * cmath.exp(1j * twist * end) for end, reach in enumerate(reaches))
    return long_nm - sum(reaches) - round(abs(turned))
