"""Words that drop-downs offer."""

from __future__ import annotations

from planner.tube import Family, Surface

FAMILY_WORDS = tuple(family.value for family in Family)
SURFACE_WORDS = tuple(surface.value for surface in Surface)
LENGTH_IS_WORDS = ("cut", "axis to axis", "bent", "blank")
PRIORITY_WORDS = ("low", "normal", "high", "rush")
ROUTE_WORDS = ("usual", "saw first", "bend before notch")
TWIST_WORDS = ("same side", "opposite sides")
