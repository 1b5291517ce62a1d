"""The ring: a tube drawn as its own cross-section, to the page's one scale."""

from __future__ import annotations

from collections.abc import Iterable

from planner.units import NM_PER_MM
from planner_io.drawing.ink import INK, num, svg

LARGEST_MM = 11.0
"""A ring is never larger on paper, so that a row stays a row."""
SMALLEST_MM = 1.6
"""Nor smaller than this, or it would be a dot."""
_THINNEST_MM = 0.18
"""Walls thinner on paper would be lost by a printer."""


def ring_scale(ods_nm: Iterable[int], largest_mm: float = LARGEST_MM) -> float:
    """Paper millimetres for each real millimetre: the largest OD of the page fills `largest_mm`.

    >>> ring_scale([38_100_000, 50_800_000], 12.7)
    0.25
    """
    return min(1.0, largest_mm / (max(ods_nm, default=NM_PER_MM) / NM_PER_MM))


def ring_marks(od_nm: int, wall_nm: int, scale: float, x: float, y: float) -> str:
    """The ring around (x, y), for drawing into another picture."""
    od = max(SMALLEST_MM, od_nm / NM_PER_MM * scale)
    wall = min(od / 2, max(_THINNEST_MM, wall_nm / NM_PER_MM * scale))
    radius = (od - wall) / 2
    return (
        f'<circle cx="{num(x)}" cy="{num(y)}" r="{num(radius)}" fill="#fff" stroke="{INK}" '
        f'stroke-width="{num(wall)}"/>'
    )


def ring(od_nm: int, wall_nm: int, scale: float, box_mm: float = LARGEST_MM) -> str:
    """A picture of one ring, centred in a square of `box_mm`."""
    middle = box_mm / 2
    return svg(box_mm, box_mm, [ring_marks(od_nm, wall_nm, scale, middle, middle)])
