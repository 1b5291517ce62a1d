"""A small shop for the papers' tests: one station of each kind, four belts, two recipes."""

from __future__ import annotations

from planner.abrasives import parse_grade
from planner.shop import (
    Belt,
    HoursKind,
    HoursRow,
    House,
    Rail,
    Recipe,
    RecipeStep,
    Shop,
    Station,
    StationKind,
    Tool,
    ToolKind,
    Wheels,
)
from planner.tube import Family, Surface, TubeSpec
from planner.units import NM_PER_INCH, Unit


def inch(value: float) -> int:
    return round(value * NM_PER_INCH)


def a_spec(od: float = 1.5, wall: float = 0.065, family: Family = Family.CARBON) -> TubeSpec:
    grade = {Family.CARBON: "A513", Family.STAINLESS: "304"}.get(family, "6061-T6")
    return TubeSpec(
        family=family,
        grade=grade,
        od_nm=inch(od),
        wall_nm=inch(wall),
        surface=Surface.SCALED if family == Family.CARBON else Surface.BRIGHT,
    )


def a_belt(name: str, families: tuple[Family, ...]) -> Belt:
    grade = parse_grade(name.rpartition(" ")[0]).grade
    soft = "non-woven" in name
    return Belt(
        name=name,
        grade=grade,
        families=families,
        width_nm=inch(4),
        thickness_nm=inch(0.3 if soft else 0.05),
        non_woven=soft,
    )


def a_shop(name: str = "Alder Street Tube", unit: Unit = "inch", paper: str = "letter") -> Shop:
    steel, clean = (Family.CARBON,), (Family.STAINLESS,)
    hours = tuple(
        row
        for day in range(5)
        for row in (
            HoursRow(weekday=day, start_min=420, end_min=930),
            HoursRow(weekday=day, kind=HoursKind.BREAK, start_min=720, end_min=750),
        )
    )
    passes = {Surface.SCALED: 1, Surface.BRIGHT: 1}
    return Shop(
        house=House(name=name, unit=unit, paper=paper),
        stations=(
            Station(name="Finisher", kind=StationKind.FINISHER, base="Base 1", speed="low"),
            Station(name="Saw", kind=StationKind.SAW),
            Station(name="Notcher", kind=StationKind.NOTCHER),
            Station(name="Bender", kind=StationKind.BENDER),
        ),
        wheels=(Wheels(station="Finisher", contact_nm=inch(14), brake_nm=inch(10), brake_rpm=40),),
        hours=hours,
        belts=(
            a_belt("P80 steel", steel),
            a_belt("P120 steel", steel),
            a_belt("P180 clean", clean),
            a_belt("non-woven fine clean", clean),
        ),
        recipes=(
            Recipe(
                name="Satin",
                steps=tuple(
                    RecipeStep(grade=parse_grade(g).grade, passes=passes) for g in ("P80", "P120")
                ),
            ),
            Recipe(
                name="Brushed",
                steps=tuple(
                    RecipeStep(grade=parse_grade(g).grade, passes=passes)
                    for g in ("P180", "non-woven fine")
                ),
            ),
        ),
        rails=(Rail(name="bronze 1/4", thickness_nm=inch(0.25), material="bronze"),),
        tools=(
            Tool(
                name="1-1/2 × 4-1/2 soft",
                kind=ToolKind.DIE,
                station="Bender",
                od_nm=inch(1.5),
                clr_nm=inch(4.5),
                soft=True,
            ),
        ),
    )
