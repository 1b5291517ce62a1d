"""Bent tube: how long a blank must be, and what bending asks of its wall and straights.

Lengths are nm, angles thousandths of a degree; CLR is the centreline radius.

>>> inch = 25_400_000
>>> round(arc_nm(9 * inch // 2, 90_000) / inch, 4)
7.0686
>>> round(thinning(od_nm=inch, clr_nm=3 * inch), 4)
0.1429
"""

from __future__ import annotations

import math

from planner.units import MDEG_PER_DEGREE

CLAMP_ODS = 2.0
"""Straight that a clamp needs to hold, in ODs (common practice)."""

MINIMUM_WALL: tuple[tuple[int, float], ...] = ((6, 1.06), (5, 1.08), (4, 1.14), (3, 1.25))
"""CLR in ODs, and by how much the wall before bending must exceed the wall that is needed.

Unified facilities guide specification, Table 5-4; the same figures as ASME B31.1 Table 102.4.5.
"""

OVALITY_FROM_ODS = 5
MOST_OVALITY = 0.08
"""Ovality after bending, (largest - smallest OD) / nominal OD, at a CLR of 5 ODs and more; same
table."""

MOST_BEND_INDEX = 10.0
"""OD / wall over CLR / OD above which a tube bent empty tends to kink (common practice)."""


def _radians(angle_mdeg: int) -> float:
    return math.radians(angle_mdeg / MDEG_PER_DEGREE)


def arc_nm(clr_nm: int, angle_mdeg: int) -> int:
    """Length of the centreline in a bend: CLR · θ."""
    return round(clr_nm * _radians(angle_mdeg))


def thinning(od_nm: int, clr_nm: int) -> float:
    """Share of the wall that the outside of a bend loses: (Ro - R) / Ro with Ro = R + OD/2."""
    return od_nm / (2 * clr_nm + od_nm)


def minimum_wall_factor(od_nm: int, clr_nm: int) -> float | None:
    """How many times the needed wall to start with, from the table; None below 3 ODs.

    A radius between two rows takes the tighter one.
    """
    return next((factor for ods, factor in MINIMUM_WALL if clr_nm >= ods * od_nm), None)


def bend_index(od_nm: int, wall_nm: int, clr_nm: int) -> float:
    """How hard a bend is on the wall: (OD / wall) / (CLR / OD)."""
    return (od_nm / wall_nm) / (clr_nm / od_nm)


def clamp_straight_nm(od_nm: int, ods: float = CLAMP_ODS) -> int:
    """Straight that the clamp needs before a bend."""
    return round(od_nm * ods)
