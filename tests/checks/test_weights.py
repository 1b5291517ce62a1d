"""Weight a foot against stock lists and handbook formulas."""

from __future__ import annotations

import math

import pytest

from planner.standard_sizes import PIPES, Pipe
from planner.tube import Family, Surface, TubeSpec, mass_g
from planner.units import NM_PER_FOOT, NM_PER_INCH, NM_PER_M, parse_od, parse_wall
from tests.checks.piping import library_pipe_m
from tests.checks.table import Check

FORMULA = "10.69·(D - t)·t lb/ft, the steel tube formula of stock lists"
B36 = "ASME B36.10M, plain-end weight"
DENSITIES = "handbook densities .29, .0975 and .097 lb/in³"


def a_spec(od: str, wall: str, family: Family, grade: str) -> TubeSpec:
    return TubeSpec(
        family=family,
        grade=grade,
        od_nm=parse_od(od).nm,
        wall_nm=parse_wall(wall).nm,
        surface=Surface.BRIGHT,
    )


def weight_lb_ft(spec: TubeSpec) -> float:
    """Weight in pounds a foot, as stock lists print it: a pound is 453.59237 g."""
    return mass_g(spec, 1_000 * NM_PER_FOOT) / 1_000 / 453.59237


def weight(od: str, wall: str, family: Family = Family.CARBON, grade: str = "A513") -> float:
    return weight_lb_ft(a_spec(od, wall, family, grade))


STAINLESS, ALUMINIUM = Family.STAINLESS, Family.ALUMINIUM
CHECKS = [
    Check("1.5 × .065 steel", lambda: weight("1.5", ".065"), 0.997, 1e-3, FORMULA, "P"),
    Check("2 × .065 steel", lambda: weight("2", ".065"), 1.345, 1e-3, FORMULA, "P"),
    Check("1-1/2 sch 40", lambda: weight("1.9", ".145"), 2.720, 2e-3, B36, "P"),
    Check("2 sch 40", lambda: weight("2.375", ".154"), 3.656, 2e-3, B36, "P"),
    Check(
        "1.5 × .065 304",
        lambda: weight("1.5", ".065", STAINLESS, "304"),
        *(1.020, 1e-3, DENSITIES, "M"),
    ),
    Check(
        "2 × .065 304",
        lambda: weight("2", ".065", STAINLESS, "304"),
        *(1.375, 1e-3, DENSITIES, "M"),
    ),
    Check(
        "1.5 × .065 6061",
        lambda: weight("1.5", ".065", ALUMINIUM, "6061-T6"),
        *(0.343, 1e-3, DENSITIES, "M"),
    ),
    Check(
        "2 × .065 6061",
        lambda: weight("2", ".065", ALUMINIUM, "6061-T6"),
        *(0.462, 1e-3, DENSITIES, "M"),
    ),
    Check(
        "1.5 × .065 6063",
        lambda: weight("1.5", ".065", ALUMINIUM, "6063-T52"),
        *(0.341, 1e-3, DENSITIES, "M"),
    ),
    Check(
        "2 × .065 6063",
        lambda: weight("2", ".065", ALUMINIUM, "6063-T52"),
        *(0.460, 1e-3, DENSITIES, "M"),
    ),
]


@pytest.mark.parametrize("check", CHECKS, ids=str)
def test_weights_agree_with_stock_lists(check: Check) -> None:
    check.hold()


@pytest.mark.parametrize("row", PIPES, ids=[f"NPS {row.name}" for row in PIPES])
def test_pipe_weighs_what_its_section_in_fluids_weighs(row: Pipe) -> None:
    """Source: inner and outer diameters of fluids.piping.nearest_pipe times 7850 kg/m³, tag L."""
    bore, od, _ = library_pipe_m(row, "40")
    kg_m = math.pi / 4 * (od**2 - bore**2) * 7850
    spec = TubeSpec(
        family=Family.CARBON,
        grade="A53",
        od_nm=row.od_nm,
        wall_nm=row.walls_nm["40"],
        surface=Surface.SCALED,
    )
    assert mass_g(spec, NM_PER_M) / 1000 == pytest.approx(kg_m, rel=0.005)


def test_the_factor_of_steel_tube_is_the_printed_one() -> None:
    """Source: 10.69 (10.68 also in print), tag P."""
    spec = a_spec("3", ".1", Family.CARBON, "A513")
    inches = (spec.od_nm - spec.wall_nm) * spec.wall_nm / NM_PER_INCH**2
    assert weight_lb_ft(spec) / inches == pytest.approx(10.69, abs=0.01)
