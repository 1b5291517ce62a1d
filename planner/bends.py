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
from collections.abc import Sequence

from planner.errors import input_error
from planner.orders import Bend
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
"""OD / wall over CLR / OD from which a tube bent empty tends to kink (common practice)."""


def _radians(angle_mdeg: int) -> float:
    return math.radians(angle_mdeg / MDEG_PER_DEGREE)


def arc_nm(clr_nm: int, angle_mdeg: int) -> int:
    """Length of the centreline in a bend: CLR · θ."""
    return round(clr_nm * _radians(angle_mdeg))


def developed_nm(rows: Sequence[Bend]) -> int:
    """Length of tube in a bent part: its straights and the arcs of its bends."""
    return sum(row.straight_nm + arc_nm(row.clr_nm, row.angle_mdeg) for row in rows)


def setback_nm(clr_nm: int, angle_mdeg: int) -> int:
    """From the apex of a bend (where the centrelines meet) back to its tangent point.

    R · tan(θ/2).  Raises InputError for 180 degrees, where the centrelines do not meet.
    """
    if not 0 <= angle_mdeg < 180 * MDEG_PER_DEGREE:
        message = (
            "A bend given by its apex turns less than 180 degrees; give its straights instead."
        )
        raise input_error(message, read=f"{angle_mdeg / MDEG_PER_DEGREE:g}°", expected="below 180°")
    return round(clr_nm * math.tan(_radians(angle_mdeg) / 2))


def from_apexes(legs_nm: Sequence[int], bends: Sequence[tuple[int, int]]) -> tuple[Bend, ...]:
    """Straights and bends of a part whose legs run from end to apex, apex to apex, apex to end.

    `bends` holds (CLR, angle) of each bend, one fewer than the legs.  Raises InputError when a
    leg has no room for the setbacks of its bends.

    >>> rows = from_apexes([145, 290, 145], [(45, 90_000), (45, 90_000)])
    >>> [row.straight_nm for row in rows]
    [100, 200, 100]
    """
    setbacks = [0, *(setback_nm(clr, angle) for clr, angle in bends), 0]
    rows: list[Bend] = []
    for place, (leg, turn) in enumerate(zip(legs_nm, [*bends, (0, 0)], strict=True)):
        straight = leg - setbacks[place] - setbacks[place + 1]
        if straight < 0:
            message = f"Leg {place + 1} is shorter than the bends at its ends need; lengthen it."
            raise input_error(message)
        rows.append(Bend(straight_nm=straight, clr_nm=turn[0], angle_mdeg=turn[1]))
    return tuple(rows)


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
