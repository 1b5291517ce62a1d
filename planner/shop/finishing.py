"""What a finish is made with: belts, recipes, rails, and settings that were good."""

from __future__ import annotations

from datetime import date

from pydantic import Field

from planner.abrasives import Grade
from planner.frozen import Frozen
from planner.tube import Family, Surface


class Belt(Frozen):
    """A belt that the shop keeps. Its name is its identity: it is part of the mounted state."""

    name: str
    grade: Grade
    families: tuple[Family, ...]
    """Families that it may touch; stainless belts touch stainless only."""
    width_nm: int = Field(gt=0)
    thickness_nm: int = Field(gt=0)
    non_woven: bool = False
    life_min: int | None = None
    """Minutes of contact that a new one lasts, or None if the shop does not count."""
    used_min: int = 0
    """Minutes that the mounted or next one has run already."""
    life_cm2: int | None = None
    """Outside of tube that a new one finishes in a pass, cm², or None if the shop does not count
    it. Where minutes are counted too, whichever is used up first counts."""
    used_cm2: int = 0
    """What the mounted or next one has finished already, cm²."""
    wear: dict[Family, float] = Field(default_factory=dict[Family, float])
    """How much faster a family wears it than its life says; 1 where it is not named."""
    count: int = Field(default=1, ge=0)
    """New ones on the shelf, besides the one in use."""
    price_cents: int = 0


class RecipeStep(Frozen):
    """One belt of a recipe and its passes by incoming surface."""

    grade: Grade
    passes: dict[Surface, int]
    """Passes for each incoming surface; 0 or missing means that the step is passed over."""
    least_overlap: float | None = None
    """Turns under the belt in a pass, at least; None for the finisher's own."""
    again: bool = False
    """Goes back to a coarser belt on purpose, after a check of the finish."""


class Recipe(Frozen):
    """A finish: belts from coarse to fine with passes for each."""

    name: str
    steps: tuple[RecipeStep, ...]
    families: tuple[Family, ...] = tuple(Family)
    ra_low_uin: float | None = None
    """Roughness that the shop accepts, µin Ra, as a range."""
    ra_high_uin: float | None = None
    remark: str = ""


class Rail(Frozen):
    """A guide rail."""

    name: str
    thickness_nm: int = Field(gt=0)
    edge_radius_nm: int = 0
    """Rounding of the front edge that the tube rests on, nm; 0 for a square one."""
    material: str = ""
    families: tuple[Family, ...] = tuple(Family)
    """Families that may slide on it."""


class GoodSetting(Frozen):
    """A setting of the finisher that the log calls good, for one OD and wall."""

    od_nm: int = Field(gt=0)
    wall_nm: int = Field(gt=0)
    spring: str
    """How the spring stood, in the shop's own words: turns, a mark, a feel."""
    tilt_mdeg: int = Field(gt=0)
    day: date
    station: str = ""
    """The finisher on which it was good; empty: good on every one."""

    def is_for(self, station: str, od_nm: int) -> bool:
        """Whether it was good for an OD at a finisher of this name."""
        return self.station in ("", station) and self.od_nm == od_nm
