"""Tiny named builders for the finisher's tests; lengths in inches."""

from typing import Any

from planner.abrasives import parse_grade
from planner.finisher.geometry import BeltFace, Machine, Margins, RailPlate, SetUpProblem
from planner.shop import Belt, Rail, RecipeStep, Shop, Station, StationKind, Wheels
from planner.tube import Family, Surface, TubeSpec
from planner.units import NM_PER_INCH


def inch(value: float) -> int:
    return round(value * NM_PER_INCH)


def a_machine(contact: float = 14, brake: float = 10, rise: float = 0) -> Machine:
    return Machine(
        contact_nm=inch(contact),
        brake_nm=inch(brake),
        brake_rise_nm=inch(rise),
        stop_min_nm=inch(1 / 8),
        stop_max_nm=inch(6),
        od_min_nm=inch(3 / 8),
        od_max_nm=inch(5),
        centre_above_base_nm=inch(9),
    )


def a_belt(thickness: float = 0.05, width: float = 4) -> BeltFace:
    return BeltFace(inch(thickness), inch(width), non_woven=thickness > 0.2)


def a_problem(
    od: float = 1.5,
    rail: float = 1 / 4,
    front: float | None = None,
    drop: float | None = None,
    edge: float = 0,
    machine: Machine | None = None,
    belt: BeltFace | None = None,
    margins: Margins | None = None,
) -> SetUpProblem:
    return SetUpProblem(
        machine=machine or a_machine(),
        belt=belt or a_belt(),
        rail=RailPlate(inch(rail), inch(edge)),
        od_nm=inch(od),
        rail_front_nm=inch(od / 4 if front is None else front),
        drop_nm=inch(od / 4 if drop is None else drop),
        margins=margins or Margins(),
    )


def a_belt_of(name: str = "P120 carbon", label: str = "P120", **changes: Any) -> Belt:
    usual: dict[str, Any] = {
        "families": (Family.CARBON, Family.ALLOY),
        "width_nm": inch(4),
        "thickness_nm": inch(0.05),
    }
    return Belt(name=name, grade=parse_grade(label).grade, **{**usual, **changes})


def a_step(label: str = "P120", passes: int = 1, least: float | None = None) -> RecipeStep:
    return RecipeStep(
        grade=parse_grade(label).grade,
        passes=dict.fromkeys(Surface, passes),
        least_overlap=least,
    )


def a_finisher(**changes: Any) -> Station:
    usual: dict[str, Any] = {
        "name": "Finisher",
        "kind": StationKind.FINISHER,
        "od_min_nm": inch(3 / 8),
        "od_max_nm": inch(5),
        "speed": "low",
    }
    return Station(**{**usual, **changes})


def a_spec(od: float = 1.5, family: Family = Family.CARBON, wall: float = 0.065) -> TubeSpec:
    return TubeSpec(
        family=family, grade="1020", od_nm=inch(od), wall_nm=inch(wall), surface=Surface.BRIGHT
    )


def a_shop(*belts: Belt, **changes: Any) -> Shop:
    usual: dict[str, Any] = {
        "stations": (a_finisher(),),
        "wheels": (
            Wheels(station="Finisher", contact_nm=inch(14), brake_nm=inch(10), brake_rpm=30),
        ),
        "hours": (),
        "belts": belts or (a_belt_of(),),
        "rails": (
            Rail(name="bronze 1/4", thickness_nm=inch(1 / 4), material="bronze"),
            Rail(name="bronze 1/8", thickness_nm=inch(1 / 8), material="bronze"),
        ),
    }
    return Shop(**{**usual, **changes})
