"""Small builders of tube, orders, stock and a shop for tests of the trade core."""

from __future__ import annotations

from datetime import datetime
from typing import Any

from planner.abrasives import parse_grade
from planner.orders import AxisToAxis, Bend, Bent, BentBlank, CutLength, EndCut, EndKind, OrderLine
from planner.records import CutList, Stick
from planner.shop import (
    Belt,
    BenderSettings,
    HoursRow,
    House,
    Recipe,
    RecipeStep,
    Shop,
    Station,
    StationKind,
    Tool,
    ToolKind,
    Wheels,
)
from planner.stock import StockItem
from planner.stop import Status
from planner.tube import Family, Surface, TubeSpec
from planner.units import parse_angle, parse_length, parse_od, parse_wall


def inch(value: str | float) -> int:
    return parse_length(value, zero_ok=True).nm


def a_spec(
    od: str = "1-1/2",
    wall: str = ".065",
    family: Family = Family.STAINLESS,
    grade: str = "304",
    surface: Surface = Surface.BRIGHT,
) -> TubeSpec:
    od_nm, wall_nm = parse_od(od).nm, parse_wall(wall).nm
    return TubeSpec(family=family, grade=grade, od_nm=od_nm, wall_nm=wall_nm, surface=surface)


def a_saddle(on: str, angle: float = 90) -> EndCut:
    return EndCut(kind=EndKind.SADDLE, on_od_nm=parse_od(on).nm, angle_mdeg=parse_angle(angle))


def a_mitre(angle: float = 45) -> EndCut:
    return EndCut(kind=EndKind.MITRE, angle_mdeg=parse_angle(angle))


def cut(length: str) -> CutLength:
    return CutLength(length_nm=inch(length))


def axes(length: str) -> AxisToAxis:
    return AxisToAxis(length_nm=inch(length))


def bent(*rows: tuple[float, float, float] | float) -> Bent:
    """Rows of (straight, angle, CLR) in inches and degrees, and a last straight alone."""
    made = [row if isinstance(row, tuple) else (row, 0.0, 0.0) for row in rows]
    return Bent(
        rows=tuple(
            Bend(straight_nm=inch(s), angle_mdeg=parse_angle(a), clr_nm=inch(c)) for s, a, c in made
        )
    )


def from_blank(length: str, bends: int, clr: float = 4.5) -> BentBlank:
    """So many bends of a blank; lengths in inches."""
    return BentBlank(length_nm=inch(length), bends=bends, clr_nm=inch(clr))


def a_line(**changes: Any) -> OrderLine:
    fields: dict[str, Any] = {
        "order": "1187",
        "line": "1",
        "quantity": 4,
        "spec": a_spec(),
        "recipe": "satin",
        "shape": cut("48"),
        "due": datetime(2027, 3, 5, 16, 0),
        "place": "Orders!A7",
    }
    return OrderLine(**(fields | changes))


def a_stick(spec: TubeSpec | None = None, length: str = "20'", **changes: Any) -> StockItem:
    fields: dict[str, Any] = {
        "key": f"S-{length}",
        "spec": spec or a_spec(),
        "length_nm": inch(length),
        "price_cents": 9_000,
    }
    return StockItem(**(fields | changes))


def a_cut_list(lot: str, *stock: str) -> CutList:
    """A lot that takes a stick of each of these items."""
    sticks = tuple(
        Stick(tag=f"{lot}-{number}", stock=key, length_nm=1, pieces=(), drop_nm=0, kept=False)
        for number, key in enumerate(stock, start=1)
    )
    return CutList(
        lot=lot,
        sticks=sticks,
        kerf_nm=0,
        stick_trim_nm=0,
        end_trim_nm=0,
        cost_cents=0,
        floor_cents=0,
        status=Status.PROVEN,
    )


def a_recipe(name: str = "satin", *grades: str) -> Recipe:
    everything = dict.fromkeys(Surface, 1)
    steps = (
        RecipeStep(grade=parse_grade(g).grade, passes=everything)
        for g in grades or ("P120", "P180")
    )
    return Recipe(name=name, steps=tuple(steps))


def a_belt(grade: str, *families: Family) -> Belt:
    return Belt(
        name=f"{grade} belt",
        grade=parse_grade(grade).grade,
        families=families or tuple(Family),
        width_nm=inch("4"),
        thickness_nm=inch("1/16"),
    )


def a_die(od: str = "1-1/2", clr: str = "4-1/2", **changes: Any) -> Tool:
    fields: dict[str, Any] = {
        "name": f"{od} on {clr}",
        "kind": ToolKind.DIE,
        "station": "Bender",
        "od_nm": parse_od(od).nm,
        "clr_nm": inch(clr),
    }
    return Tool(**(fields | changes))


def stations(**changes: Any) -> tuple[Station, ...]:
    """One station of each kind; a keyword such as `bender={...}` changes fields of that one."""
    finisher_range = {"od_min_nm": inch("1/2"), "od_max_nm": inch("3-1/2")}
    return tuple(
        Station(
            **(
                {"name": kind.value.capitalize(), "kind": kind}
                | (finisher_range if kind is StationKind.FINISHER else {})
                | changes.get(kind.value, {})
            )
        )
        for kind in StationKind
    )


def a_shop(**changes: Any) -> Shop:
    fields: dict[str, Any] = {
        "house": House(),
        "stations": stations(),
        "hours": (HoursRow(weekday=0, start_min=420, end_min=960),),
        "recipes": (a_recipe(),),
        "belts": (a_belt("P120"), a_belt("P180")),
        "tools": (a_die(),),
        "wheels": (
            Wheels(station="Finisher", contact_nm=inch("10"), brake_nm=inch("6"), brake_rpm=60),
        ),
    }
    return Shop(**(fields | changes))


def a_bender(**settings: Any) -> dict[str, Any]:
    return {"bender": {"bender": BenderSettings(**settings)}}
