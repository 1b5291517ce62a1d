"""The lay: a belt as the texture it leaves, wide strokes for coarse grain, tight for fine.

A coated belt is a hatch, a non-woven one a field of dots.  It prints in one ink and needs no key.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from planner_io.drawing.ink import INK, STEEL, num, rect, svg

_SLANT_DEG = 58


@dataclass(frozen=True)
class Lay:
    """What a belt's texture depends on: median grain size in µm, and whether it is non-woven."""

    micron: float
    non_woven: bool = False


def pitch_mm(micron: float) -> float:
    """Distance between strokes on paper, mm: grows with the grain, so the eye can compare.

    The power is chosen so that P80 and P120, and P180 and P240, are told apart at arm's length.

    >>> round(pitch_mm(201), 2), round(pitch_mm(58.5), 2)
    (2.4, 0.95)
    """
    return 0.045 * math.pow(micron, 0.75)


def _pattern(lay: Lay) -> tuple[str, str]:
    """Name and definition of the pattern; the name is the same wherever the texture is."""
    pitch = pitch_mm(lay.micron)
    name = f"lay-{'n' if lay.non_woven else 'c'}{num(lay.micron).replace('.', '-')}"
    if lay.non_woven:
        dot, side = num(pitch * 0.24), num(pitch)
        marks = "".join(
            f'<circle cx="{num(pitch * x)}" cy="{num(pitch * y)}" r="{dot}" fill="{STEEL}"/>'
            for x, y in ((0.25, 0.25), (0.75, 0.75))
        )
        turn = ""
    else:
        side = num(pitch)
        marks = (
            f'<line x1="{num(pitch / 2)}" y1="0" x2="{num(pitch / 2)}" y2="{side}" '
            f'stroke="{STEEL}" stroke-width="{num(pitch * 0.34)}"/>'
        )
        turn = f' patternTransform="rotate({_SLANT_DEG})"'
    return name, (
        f'<pattern id="{name}" width="{side}" height="{side}" '
        f'patternUnits="userSpaceOnUse"{turn}>{marks}</pattern>'
    )


def lay_marks(lay: Lay, x: float, y: float, width: float, height: float) -> str:
    """A strip of the texture, for drawing into another picture."""
    name, definition = _pattern(lay)
    style = f'fill="url(#{name})" stroke="{INK}" stroke-width="0.2"'
    return f"<defs>{definition}</defs>{rect(x, y, width, height, style)}"


def lay_strip(lay: Lay, width: float = 24.0, height: float = 3.2) -> str:
    """A picture of the texture alone, `width` × `height` mm."""
    return svg(width, height, [lay_marks(lay, 0.1, 0.1, width - 0.2, height - 0.2)])
