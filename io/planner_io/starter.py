"""The built-in starter shop: invented, complete, and meant to be replaced sheet by sheet.

Minutes, passes and sizes are round figures of the kind that such shops work with (common
practice, not measured); a shop enters its own in the sheets of its workbook.
"""

from __future__ import annotations

from functools import cache

from planner.abrasives import Grade, parse_grade
from planner.shop import (
    Belt,
    BenderSettings,
    ChangeoverRow,
    FinisherSettings,
    HoursKind,
    HoursRow,
    Mounted,
    NotcherSettings,
    Person,
    Rail,
    Recipe,
    RecipeStep,
    SawSettings,
    Shop,
    Station,
    StationKind,
    Tool,
    ToolKind,
    What,
    Wheels,
)
from planner.tube import Family, Surface
from planner.units import NM_PER_INCH, parse_length

FINISHER, SAW, NOTCHER, BENDER, BENCH = (
    "Finisher",
    "Cold saw",
    "Notcher",
    "Bender",
    "Bench",
)
BASE = "Grinder base"
STEEL = (Family.CARBON, Family.ALLOY)
_SCALED, _BRIGHT, _POLISHED = Surface.SCALED, Surface.BRIGHT, Surface.POLISHED


def _in(text: str) -> int:
    return parse_length(text).nm


def _grade(text: str) -> Grade:
    return parse_grade(text).grade


@cache
def starter_shop() -> Shop:
    """A shop of five stations and five people, with everything that the models ask for."""
    return Shop(
        stations=_stations(),
        wheels=(
            Wheels(
                station=FINISHER,
                contact_nm=10 * NM_PER_INCH,
                brake_nm=6 * NM_PER_INCH,
                brake_rpm=60,
            ),
        ),
        hours=_hours(),
        people=_people(),
        changeovers=_changeovers(),
        belts=_belts(),
        recipes=_recipes(),
        rails=_rails(),
        tools=_tools(),
        mounted=_mounted(),
    )


def _stations() -> tuple[Station, ...]:
    return (
        Station(
            name=FINISHER,
            kind=StationKind.FINISHER,
            base=BASE,
            od_min_nm=_in("1/2"),
            od_max_nm=_in("3"),
            speed="low",
            finisher=FinisherSettings(),
        ),
        Station(
            name=SAW,
            kind=StationKind.SAW,
            od_min_nm=_in("3/8"),
            od_max_nm=_in("4"),
            saw=SawSettings(
                kerf_nm=2_400_000,
                stick_trim_nm=_in("1/4"),
                end_trim_nm=0,
                clamp_nm=_in("2"),
            ),
        ),
        Station(
            name=NOTCHER,
            kind=StationKind.NOTCHER,
            base=BASE,
            od_min_nm=_in("3/4"),
            od_max_nm=_in("3"),
            speed="high",
            notcher=NotcherSettings(),
        ),
        Station(
            name=BENDER,
            kind=StationKind.BENDER,
            od_min_nm=_in("3/4"),
            od_max_nm=_in("2-1/2"),
            longest_nm=_in("12 ft"),
            bender=BenderSettings(),
        ),
        Station(name=BENCH, kind=StationKind.BENCH),
    )


def _hours() -> tuple[HoursRow, ...]:
    spans = (
        (HoursKind.WORK, 7 * 60, 15 * 60 + 30),
        (HoursKind.BREAK, 9 * 60 + 30, 9 * 60 + 45),
        (HoursKind.BREAK, 12 * 60, 12 * 60 + 30),
    )
    return tuple(
        HoursRow(weekday=weekday, kind=kind, start_min=start, end_min=end)
        for kind, start, end in spans
        for weekday in range(5)
    )


def _people() -> tuple[Person, ...]:
    return (
        Person(name="Robin", stations=(FINISHER, NOTCHER)),
        Person(name="Sasha", stations=(FINISHER, NOTCHER, SAW)),
        Person(name="Kim", stations=(SAW, BENCH)),
        Person(name="Lou", stations=(BENDER, BENCH)),
        Person(name="Noor", stations=(FINISHER, SAW, NOTCHER, BENDER, BENCH)),
    )


def _changeovers() -> tuple[ChangeoverRow, ...]:
    def row(
        station: str, what: What, minutes: int, before: str | None = None, after: str | None = None
    ) -> ChangeoverRow:
        return ChangeoverRow(
            station=station, what=what, before=before, after=after, minutes=minutes
        )

    carbon, alloy, stainless, aluminium = (family.value for family in Family)
    return (
        row(FINISHER, What.OD, 6),
        row(FINISHER, What.BELT, 4),
        row(FINISHER, What.RAIL, 5),
        row(FINISHER, What.FAMILY, 10),
        row(FINISHER, What.FAMILY, 0, carbon, alloy),
        row(FINISHER, What.FAMILY, 0, alloy, carbon),
        row(FINISHER, What.FAMILY, 25, carbon, stainless),
        row(FINISHER, What.FAMILY, 25, alloy, stainless),
        row(FINISHER, What.FAMILY, 20, aluminium, stainless),
        row(FINISHER, What.FAMILY, 20, None, aluminium),
        row(BASE, What.ATTACHMENT, 12),
        row(NOTCHER, What.OD, 2),
        row(NOTCHER, What.ROLLER, 5),
        row(SAW, What.OD, 2),
        row(BENDER, What.DIE, 12),
    )


def _belts() -> tuple[Belt, ...]:
    sets = (
        ("steel", STEEL, ("P80", "P120", "P180", "P240", "P320")),
        ("stainless", (Family.STAINLESS,), ("P80", "P120", "P180", "P240", "P320")),
        ("aluminium", (Family.ALUMINIUM,), ("P80", "P120", "P180", "P240", "P320")),
    )
    coated = tuple(
        Belt(
            name=f"{grade} {word}",
            grade=_grade(grade),
            families=families,
            width_nm=_in("4"),
            thickness_nm=_THICKNESS_NM[grade],
            life_min=240 if grade in {"P80", "P120"} else 180,
            count=3,
            price_cents=2_400,
        )
        for word, families, grades in sets
        for grade in grades
    )
    return coated + tuple(
        Belt(
            name=f"non-woven fine {word}",
            grade=_grade("non-woven fine"),
            families=families,
            width_nm=_in("4"),
            thickness_nm=_in("1/4"),
            non_woven=True,
            life_min=600,
            count=1,
            price_cents=9_800,
        )
        for word, families, _ in sets
    )


_THICKNESS_NM = {
    "P80": 1_300_000,
    "P120": 1_100_000,
    "P180": 900_000,
    "P240": 850_000,
    "P320": 800_000,
}


def _step(grade: str, scaled: int, bright: int, polished: int) -> RecipeStep:
    passes = {_SCALED: scaled, _BRIGHT: bright, _POLISHED: polished}
    return RecipeStep(grade=_grade(grade), passes=passes)


def _recipes() -> tuple[Recipe, ...]:
    return (
        Recipe(
            name="Mill-scale removal",
            steps=(_step("P80", 2, 1, 0), _step("P120", 1, 1, 1)),
            families=STEEL,
            remark="bare metal for welding",
        ),
        Recipe(
            name="Primer-ready",
            steps=(_step("P80", 2, 1, 1),),
            families=STEEL,
            ra_low_uin=60,
            ra_high_uin=110,
            remark="a tooth for primer or powder",
        ),
        Recipe(
            name="Satin P180",
            steps=(_step("P80", 2, 0, 0), _step("P120", 1, 1, 0), _step("P180", 1, 1, 1)),
            ra_low_uin=25,
            ra_high_uin=40,
        ),
        Recipe(
            name="Satin P240",
            steps=(
                _step("P120", 2, 1, 0),
                _step("P180", 1, 1, 0),
                _step("P240", 1, 1, 1),
            ),
            families=(Family.STAINLESS, Family.ALUMINIUM),
            ra_low_uin=15,
            ra_high_uin=25,
        ),
        Recipe(
            name="Non-woven satin",
            steps=(
                _step("P120", 2, 1, 0),
                _step("P180", 1, 1, 1),
                _step("non-woven fine", 1, 1, 1),
            ),
            families=(Family.STAINLESS, Family.ALUMINIUM),
            remark="soft, even lay around the tube",
        ),
        Recipe(
            name="Fine P320",
            steps=(
                _step("P180", 1, 1, 0),
                _step("P240", 1, 1, 0),
                _step("P320", 1, 1, 1),
            ),
            families=(Family.STAINLESS,),
            ra_low_uin=8,
            ra_high_uin=14,
        ),
    )


def _rails() -> tuple[Rail, ...]:
    """Bronze for steel, so that like does not rub on like (common practice), and a bronze of its
    own for stainless, as carbon steel leaves iron on a rail."""
    sizes = ("1/16", "1/8", "1/4")
    return tuple(
        Rail(name=f"{name} {size}", thickness_nm=_in(size), material=word, families=families)
        for name, word, families in (
            ("bronze", "bronze", STEEL),
            ("clean bronze", "bronze", (Family.STAINLESS,)),
            ("steel", "steel", (Family.ALUMINIUM,)),
        )
        for size in sizes
    )


_DIES = (
    ("3/4", "2-1/4", False),
    ("1", "3", True),
    ("1-1/4", "3-3/4", False),
    ("1-1/4", "3-3/4", True),
    ("1-1/2", "4-1/2", False),
    ("1-1/2", "4-1/2", True),
    ("1-5/8", "5", True),
    ("1.660", "5", False),
    ("1.900", "5.7", True),
    ("2", "6", True),
)
_ROLLERS = ("1", "1-1/4", "1-1/2", "1-5/8", "1.660", "1.900", "2")


def _tools() -> tuple[Tool, ...]:
    dies = tuple(
        Tool(
            name=f"die {od} x {clr}{' soft' if soft else ''}",
            kind=ToolKind.DIE,
            station=BENDER,
            od_nm=_in(od),
            clr_nm=_in(clr),
            soft=soft,
        )
        for od, clr, soft in _DIES
    )
    rollers = tuple(
        Tool(name=f"roller {od}", kind=ToolKind.ROLLER, station=NOTCHER, od_nm=_in(od))
        for od in _ROLLERS
    )
    return dies + rollers


def _mounted() -> tuple[Mounted, ...]:
    od = str(_in("1-1/2"))
    return (
        Mounted(station=BASE, what=What.ATTACHMENT, value=FINISHER),
        Mounted(station=FINISHER, what=What.OD, value=od),
        Mounted(station=FINISHER, what=What.BELT, value="P120 steel"),
        Mounted(station=FINISHER, what=What.RAIL, value="bronze 1/4"),
        Mounted(station=FINISHER, what=What.FAMILY, value=Family.CARBON.value),
        Mounted(station=SAW, what=What.OD, value=od),
        Mounted(station=BENDER, what=What.DIE, value="die 1-1/2 x 4-1/2 soft"),
    )
