"""What roughness a last belt usually leaves, to see whether a recipe can reach what it promises.

No standard defines a finish by one number (ASTM A480 and EN 10088-2 do not), and the same belt
leaves half or twice as much with wear, pressure and lubricant.  So only a promise beyond that is
doubted.  Values are ones seen in the trade (common practice), µin Ra.

>>> from planner.abrasives import parse_grade
>>> usual_roughness_uin(parse_grade("P180").grade)
(30, 32)
"""

from __future__ import annotations

import math
from collections.abc import Mapping
from itertools import pairwise
from types import MappingProxyType

from planner.abrasives import FEPA_P_MICRON, Grade, System

SEEN_UIN: Mapping[int, tuple[int, int]] = MappingProxyType(
    {80: (70, 70), 120: (52, 52), 150: (42, 42), 180: (30, 32), 240: (15, 20), 320: (10, 12)}
)
"""Roughness seen after a belt, by P number."""

SPREAD = 2.0
"""How far one belt's roughness may lie from the usual one, as a ratio (common practice)."""


def usual_roughness_uin(grade: Grade) -> tuple[int, int] | None:
    """The range of roughness that a coated belt usually leaves; None outside P80 to P320.

    Between two known grades it is interpolated by the logarithm of grain size.
    """
    if grade.system is System.NON_WOVEN:
        return None
    for coarse, fine in pairwise(SEEN_UIN):
        high, low = FEPA_P_MICRON[coarse], FEPA_P_MICRON[fine]
        if low <= grade.micron <= high:
            share = math.log(high / grade.micron) / math.log(high / low)
            ends = zip(SEEN_UIN[coarse], SEEN_UIN[fine], strict=True)
            first, last = (round(a * (b / a) ** share) for a, b in ends)
            return first, last
    return None


def doubt(grade: Grade, low_uin: float | None, high_uin: float | None) -> str:
    """Why a last belt can hardly leave a roughness in a range, or nothing."""
    usual = usual_roughness_uin(grade)
    if usual is None:
        return ""
    least, most = usual
    seen = f"{grade.label} usually leaves about {most} µin Ra"
    if high_uin is not None and high_uin * SPREAD < least:
        return f"{seen}, more than the {high_uin:g} it allows; end with a finer belt."
    if low_uin is not None and low_uin > most * SPREAD:
        return f"{seen}, less than the {low_uin:g} it asks for; end with a coarser belt."
    return ""
