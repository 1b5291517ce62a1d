"""Tube specs: what a stick is made of, how it measures, what it weighs and what it is called.

>>> spec = TubeSpec(family=Family.STAINLESS, grade="304", od_nm=38_100_000, wall_nm=1_651_000,
...                 surface=Surface.BRIGHT)
>>> spec_name(spec), mass_g(spec, 10**9)
('1-1/2" × .065" 304 bright', 1518)
"""

from __future__ import annotations

import math
from collections.abc import Mapping
from enum import StrEnum
from types import MappingProxyType
from typing import Self

from pydantic import Field, model_validator

from planner.frozen import Frozen
from planner.standard_sizes import BWG_NM, Pipe, pipe_of_od
from planner.units import NM_PER_INCH, NM_PER_M, NM_PER_MM, Unit, format_size


class Family(StrEnum):
    """Material families: what may touch the same belt, rail and dust collector."""

    CARBON = "carbon"
    ALLOY = "alloy"
    STAINLESS = "stainless"
    ALUMINIUM = "aluminium"


class Surface(StrEnum):
    """The surface that tube comes in with, roughest first."""

    SCALED = "scaled"
    BRIGHT = "bright"
    POLISHED = "polished"


COATINGS = ("galvanised", "aluminised", "painted", "plated")
"""Words that end the grade of tube with a coating."""


def coating(grade: str) -> str:
    """The coating that a grade names, empty for bare tube.

    >>> coating("A53 galvanised"), coating("A53")
    ('galvanised', '')
    """
    last = grade.rpartition(" ")[2]
    return last if last in COATINGS else ""


class TubeSpec(Frozen):
    """Tube that is the same for every purpose of the shop."""

    family: Family
    grade: str
    od_nm: int = Field(gt=0)
    """Outside diameter, nm."""
    wall_nm: int = Field(gt=0)
    """Wall thickness, nm."""
    surface: Surface

    @model_validator(mode="after")
    def _has_a_bore(self) -> Self:
        if 2 * self.wall_nm >= self.od_nm:
            msg = "twice the wall must be less than the OD"
            raise ValueError(msg)
        return self


DENSITY_KG_M3: Mapping[Family, int] = MappingProxyType(
    {
        Family.CARBON: 7_850,
        Family.ALLOY: 7_850,
        Family.STAINLESS: 8_030,
        Family.ALUMINIUM: 2_700,
    }
)
"""Handbook densities, from memory: steel 7.85, 18-8 stainless .29 lb/in³, 6061 .0975 lb/in³."""

_GRADE_DENSITY_KG_M3 = {"6063": 2_690, "409": 7_750, "430": 7_750, "439": 7_750}
"""Grades that differ enough from their family to notice (handbook, from memory)."""


def density_kg_m3(spec: TubeSpec) -> int:
    """Density of the grade if it is known, else of its family."""
    grade = spec.grade.partition(" ")[0].partition("-")[0]
    return _GRADE_DENSITY_KG_M3.get(grade, DENSITY_KG_M3[spec.family])


def mass_g(spec: TubeSpec, length_nm: int) -> int:
    """Mass of a length of tube in whole grams: π·(D - t)·t·L·density."""
    section_mm2 = math.pi * (spec.od_nm - spec.wall_nm) * spec.wall_nm / NM_PER_MM**2
    return round(section_mm2 * length_nm / NM_PER_M * density_kg_m3(spec) / 1000)


def spec_name(spec: TubeSpec, unit: Unit = "inch") -> str:
    """What the shop calls it: `1-1/2" × .065" 304 bright`, or `2 sch 40 A53 scaled` for pipe.

    >>> spec_name(TubeSpec(family=Family.CARBON, grade="A53", od_nm=60_325_000, wall_nm=3_911_600,
    ...                    surface=Surface.SCALED))
    '2 sch 40 A53 scaled'
    """
    return f"{size_name(spec, unit)} {spec.grade} {spec.surface}"


def size_name(spec: TubeSpec, unit: Unit = "inch") -> str:
    """OD and wall alone, or pipe size and schedule when the two name a pipe.

    A whole-fraction OD with a gauge wall stays tube: 3-1/2 × .120 is not called 3 sch 10.
    """
    pipe = pipe_of_od(spec.od_nm)
    schedule = _schedule(spec, pipe) if pipe else None
    if pipe and schedule:
        return f"{pipe.name} sch {schedule}"
    od, wall = format_size(spec.od_nm, unit), format_size(spec.wall_nm, unit)
    return f"{od.removesuffix(' mm')} × {wall}"


def _schedule(spec: TubeSpec, pipe: Pipe) -> str | None:
    tube_too = spec.od_nm % (NM_PER_INCH // 4) == 0 and spec.wall_nm in BWG_NM.values()
    if tube_too:
        return None
    found = {wall: name for name, wall in pipe.walls_nm.items()}.get(spec.wall_nm)
    return found.removesuffix("S") if found and spec.family != Family.STAINLESS else found
