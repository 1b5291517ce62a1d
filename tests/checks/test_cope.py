"""Saddles against the published-style table, and against rays cast in space."""

from __future__ import annotations

import math

import numpy as np
import pytest

from planner.blanks import make_blank
from planner.cope import mitre_reach_nm, saddle
from planner.units import NM_PER_INCH
from tests.checks.table import Check
from tests.trade import a_line, a_saddle, a_shop, a_spec, axes, inch

S = "s(φ) = [√(R²-r²sin²φ) + r·cosφ·cosθ]/sinθ, sampled over φ"
CASES = {
    ("1.5", "1.5", 90): (0, 0.75),
    ("1.5", "2", 90): (0.6614, 1.0),
    ("1.5", "2", 45): (0.6614, 2.1642),
    ("1.9", "1.9", 45): (0, 2.2935),
    ("1.5", "1.9", 90): (0.5831, 0.95),
}
"""Branch, header and angle: nearest and farthest in inches. Tag C, formula above."""


def inches(nm: float) -> float:
    return nm / NM_PER_INCH


@pytest.mark.parametrize(("branch", "header", "degrees"), sorted(CASES))
def test_saddles_agree_with_the_table(branch: str, header: str, degrees: int) -> None:
    """Source: the table above, tag C."""
    found = saddle(inch(branch), inch(header), 1000 * degrees)
    nearest, farthest = CASES[branch, header, degrees]
    assert inches(found.nearest_nm) == pytest.approx(nearest, abs=5e-5)
    assert inches(found.farthest_nm) == pytest.approx(farthest, abs=5e-5)


def rays(branch: float, header: float, degrees: float) -> tuple[float, float]:
    """Nearest and farthest hit of lines along the branch's wall on the header's cylinder.

    The header lies along x; the branch leaves the origin at the angle θ from it.
    """
    theta = math.radians(degrees)
    phi = np.linspace(0, 2 * math.pi, 7201)
    along = np.array([math.cos(theta), 0, math.sin(theta)])
    up = np.array([-math.sin(theta), 0, math.cos(theta)])
    side = np.array([0, 1, 0])
    start = branch / 2 * (np.outer(np.cos(phi), up) + np.outer(np.sin(phi), side))
    a = along[1] ** 2 + along[2] ** 2
    b = start[:, 1] * along[1] + start[:, 2] * along[2]
    c = start[:, 1] ** 2 + start[:, 2] ** 2 - (header / 2) ** 2
    hits = (-b + np.sqrt(np.maximum(b**2 - a * c, 0))) / a
    return float(hits.min()), float(hits.max())


@pytest.mark.parametrize(
    ("branch", "header", "degrees"),
    [
        *((1.5, 2.0, 90), (1.5, 2.0, 60), (1.5, 2.0, 45), (1.5, 2.0, 30), (1.0, 3.0, 20)),
        *((0.5, 4.0, 75), (1.9, 1.9, 60), (1.25, 1.9, 40), (1.66, 2.375, 50), (2.0, 2.5, 90)),
    ],
)
def test_saddles_agree_with_rays_cast_in_space(
    branch: float, header: float, degrees: float
) -> None:
    """Source: line and cylinder intersected in three dimensions by numpy, tag C."""
    found = saddle(inch(branch), inch(header), round(1000 * degrees))
    nearest, farthest = rays(branch, header, degrees)
    assert inches(found.nearest_nm) == pytest.approx(nearest, abs=2e-4)
    assert inches(found.farthest_nm) == pytest.approx(farthest, abs=2e-4)


def rail() -> float:
    line = a_line(shape=axes("48"), ends=(a_saddle("1.9"), a_saddle("1.9")))
    return inches(make_blank(line, a_shop()).length_nm)


def brace_end() -> float:
    """What one end of a 1.9 brace on a 1.9 post at 45° takes off the length between axes."""
    line = a_line(
        spec=a_spec("1.9"), shape=axes("48"), ends=(a_saddle("1.9", 45), a_saddle("1.9", 45))
    )
    return (48 - inches(make_blank(line, a_shop()).length_nm)) / 2


HEEL = "(R - r·cosθ)/sinθ alone would take .39 in off that end"
CHECKS = [
    Check("1.5 rail between 1.9 posts at 48 in", rail, 46.834, 5e-4, S, "C"),
    Check("1.9 on 1.9 at 45° by its flank", brace_end, 0.0, 1e-6, HEEL, "C"),
    Check(
        "45° mitre of 2 in OD",
        lambda: inches(mitre_reach_nm(inch(2), 45_000)),
        *(1.0, 1e-6, "OD/2·tan α", "C"),
    ),
    Check(
        "22.5° mitre of 1.9 in OD",
        lambda: inches(mitre_reach_nm(inch("1.9"), 22_500)),
        *(0.3935, 5e-5, "OD/2·tan α", "C"),
    ),
]


@pytest.mark.parametrize("check", CHECKS, ids=str)
def test_ends_agree_with_geometry(check: Check) -> None:
    check.hold()
