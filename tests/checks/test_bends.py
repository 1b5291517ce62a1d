"""Bends against textbook geometry and the published minimum-wall table."""

from __future__ import annotations

import math

import pytest

from planner.bends import (
    MOST_OVALITY,
    arc_nm,
    clamp_straight_nm,
    minimum_wall_factor,
    thinning,
)
from planner.blanks import make_blank
from planner.units import NM_PER_INCH
from tests.checks.table import Check
from tests.trade import a_line, a_shop, bent, inch

ARC = "arc length = CLR·θ·π/180"
APEX = "setback R·tan(θ/2) from each apex"
UFGS = "unified facilities guide specification, Table 5-4; as ASME B31.1 Table 102.4.5"
WALL = "(Ro - R)/Ro, thinning of the outside of a bend"


def inches(nm: float) -> float:
    return nm / NM_PER_INCH


def arc(clr: str, degrees: int) -> float:
    return inches(arc_nm(inch(clr), 1000 * degrees))


def blank(first: float, middle: float, last: float) -> float:
    """Length of a blank with two quarter bends at a CLR of 4.5 in, from its straights."""
    line = a_line(shape=bent((first, 90, 4.5), (middle, 90, 4.5), last))
    return inches(make_blank(line, a_shop()).length_nm)


def by_apexes(*legs: float) -> float:
    """The same from end to apex, apex to apex, apex to end: legs less setbacks, and arcs."""
    setback = 4.5 * math.tan(math.radians(90) / 2)
    return sum(legs) - 4 * setback + 2 * 4.5 * math.pi / 2


def wall(ods: int) -> float:
    return minimum_wall_factor(inch(1), ods * inch(1)) or 0.0


CHECKS = [
    Check("4.5 in, 90°", lambda: arc("4.5", 90), 7.0686, 5e-5, ARC, "C"),
    Check("6 in, 90°", lambda: arc("6", 90), 9.4248, 5e-5, ARC, "C"),
    Check("3 in, 45°", lambda: arc("3", 45), 2.3562, 5e-5, ARC, "C"),
    Check("two bends as a blank", lambda: blank(10, 20, 10), 54.137, 5e-4, ARC, "C"),
    Check(
        "two bends by apexes",
        lambda: blank(10, 20, 10),
        *(by_apexes(14.5, 29, 14.5), 1e-6, APEX, "C"),
    ),
    Check("thinning at 3D", lambda: thinning(inch(1), inch(3)), 0.1429, 5e-5, WALL, "C"),
    Check("thinning at 2D", lambda: thinning(inch(1), inch(2)), 0.20, 1e-12, WALL, "C"),
    Check("wall at 3D", lambda: wall(3), 1.25, 0, UFGS, "P"),
    Check("wall at 4D", lambda: wall(4), 1.14, 0, UFGS, "P"),
    Check("wall at 5D", lambda: wall(5), 1.08, 0, UFGS, "P"),
    Check("wall at 6D", lambda: wall(6), 1.06, 0, UFGS, "P"),
    Check("wall at 10D", lambda: wall(10), 1.06, 0, UFGS, "P"),
    Check("ovality", lambda: MOST_OVALITY, 0.08, 0, UFGS, "P"),
    Check("clamp", lambda: inches(clamp_straight_nm(inch("1.5"))), 3.0, 0, "2 × OD", "T"),
]


@pytest.mark.parametrize("check", CHECKS, ids=str)
def test_bends_agree_with_tables_and_geometry(check: Check) -> None:
    check.hold()
