"""Bends against textbook geometry and the published minimum-wall table."""

from __future__ import annotations

import pytest

from planner.bends import (
    MOST_OVALITY,
    arc_nm,
    clamp_straight_nm,
    developed_nm,
    from_apexes,
    minimum_wall_factor,
    thinning,
)
from planner.blanks import make_blank
from planner.orders import Bend
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


def two_bends() -> list[Bend]:
    quarter = {"clr_nm": inch("4.5"), "angle_mdeg": 90_000}
    return [
        Bend(straight_nm=inch(10), **quarter),
        Bend(straight_nm=inch(20), **quarter),
        Bend(straight_nm=inch(10)),
    ]


def by_apexes() -> float:
    legs = [inch("14.5"), inch("29"), inch("14.5")]
    return inches(developed_nm(from_apexes(legs, [(inch("4.5"), 90_000)] * 2)))


def as_a_blank() -> float:
    line = a_line(shape=bent((10, 90, 4.5), (20, 90, 4.5), 10))
    return inches(make_blank(line, a_shop()).length_nm)


def wall(ods: int) -> float:
    return minimum_wall_factor(inch(1), ods * inch(1)) or 0.0


CHECKS = [
    Check("4.5 in, 90°", lambda: arc("4.5", 90), 7.0686, 5e-5, ARC, "C"),
    Check("6 in, 90°", lambda: arc("6", 90), 9.4248, 5e-5, ARC, "C"),
    Check("3 in, 45°", lambda: arc("3", 45), 2.3562, 5e-5, ARC, "C"),
    Check("two bends", lambda: inches(developed_nm(two_bends())), 54.137, 5e-4, ARC, "C"),
    Check("two bends by apexes", by_apexes, 54.137, 5e-4, APEX, "C"),
    Check("two bends as a blank", as_a_blank, 54.137, 5e-4, ARC, "C"),
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
