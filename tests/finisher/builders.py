"""Tiny named builders for the finisher's tests; lengths in inches."""

from planner.finisher.geometry import BeltFace, Machine, Margins, RailPlate, SetUpProblem
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
