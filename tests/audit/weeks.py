"""A small real week for the audit: shared base, people, breaks, remnants, sticks to buy, late."""

from __future__ import annotations

from datetime import date, datetime
from functools import cache

from planner.options import Options
from planner.orders import EndCut, OrderLine, Step
from planner.plan import make_plan
from planner.records import Plan
from planner.shop import (
    ChangeoverRow,
    HoursKind,
    HoursRow,
    Mounted,
    Person,
    Rail,
    Shop,
    StationKind,
    ToolKind,
    What,
    Wheels,
)
from planner.stock import StockItem
from planner.tube import Family
from tests import trade
from tests.trade import a_die, a_line, a_saddle, a_spec, a_stick, bent, cut, inch

MONDAY = date(2027, 3, 1)
CARBON = a_spec(family=Family.CARBON, grade="A513")
SMALL = a_spec(od="1")


@cache
def a_plan() -> Plan:
    """Six order lines over three tube specs, planned for real."""
    return make_plan(orders(), stock(), shop(), Options(start=MONDAY, seconds=0.4))


def orders() -> tuple[OrderLine, ...]:
    square, saddle = EndCut(), a_saddle("2")
    sawn_first = (Step.SAW, Step.FINISH, Step.NOTCH, Step.BEND)
    return (
        a_line(line="1", quantity=9),
        a_line(line="2", quantity=5, shape=cut("30"), ends=(saddle, a_saddle("1-1/2"))),
        a_line(line="3", quantity=4, shape=bent((10, 90, 4.5), (20, 90, 4.5), 10), touch_up_s=60),
        a_line(line="4", quantity=12, spec=CARBON, shape=cut("22"), weight=3),
        a_line(line="5", quantity=6, spec=SMALL, shape=cut("18"), route=sawn_first),
        a_line(line="6", spec=SMALL, recipe=None, shape=cut("40"), ends=(saddle, square)),
        a_line(line="7", spec=CARBON, recipe=None, quantity=2, due=datetime(2027, 3, 1, 7, 5)),
    )


def stock() -> tuple[StockItem, ...]:
    return (
        a_stick(count=1),
        a_stick(key="buy", count=None, lead_days=1, price_cents=9_500),
        a_stick(key="R7", length="50", count=1, remnant=True, finished="satin", price_cents=500),
        a_stick(CARBON, key="carbon", count=9, price_cents=4_000),
        a_stick(SMALL, key="small", count=9, arrives=date(2027, 3, 2)),
    )


def shop() -> Shop:
    stations = trade.stations(
        finisher={"base": "Grinder"},
        notcher={"base": "Grinder"},
        saw={"saw": {"stick_trim_nm": inch("1/4"), "end_trim_nm": inch("1")}},
    )
    return trade.a_shop(
        stations=stations,
        hours=tuple(hours()),
        people=(
            Person(name="Ann", stations=tuple(station.name for station in stations)),
            Person(name="Ben", stations=("Finisher", "Saw", "Bender")),
        ),
        wheels=(
            Wheels(station="Finisher", contact_nm=inch("14"), brake_nm=inch("6"), brake_rpm=60.0),
        ),
        rails=(Rail(name="thin", thickness_nm=inch("1/8")),),
        changeovers=tuple(changeovers()),
        belts=(
            trade.a_belt("P120", Family.STAINLESS),
            trade.a_belt("P180", Family.STAINLESS),
            trade.a_belt("P120", Family.CARBON).model_copy(update={"name": "P120 steel"}),
            trade.a_belt("P180", Family.CARBON).model_copy(update={"name": "P180 steel"}),
        ),
        tools=(a_die(), a_die(name="2 cutter", kind=ToolKind.CUTTER, station="Notcher", od="2")),
        mounted=(Mounted(station="Grinder", what=What.ATTACHMENT, value="Finisher"),),
    )


def hours() -> list[HoursRow]:
    rows: list[HoursRow] = []
    for day in range(5):
        rows.append(HoursRow(weekday=day, start_min=420, end_min=930))
        rows.append(HoursRow(weekday=day, kind=HoursKind.BREAK, start_min=540, end_min=555))
        rows.append(HoursRow(weekday=day, kind=HoursKind.BREAK, start_min=690, end_min=720))
    return rows


def changeovers() -> list[ChangeoverRow]:
    minutes = {
        (StationKind.FINISHER, What.OD): 12,
        (StationKind.FINISHER, What.BELT): 6,
        (StationKind.FINISHER, What.RAIL): 4,
        (StationKind.FINISHER, What.FAMILY): 20,
        (StationKind.SAW, What.OD): 3,
        (StationKind.NOTCHER, What.OD): 5,
        (StationKind.NOTCHER, What.CUTTER): 7,
        (StationKind.BENDER, What.DIE): 15,
        ("Grinder", What.ATTACHMENT): 10,
    }
    return [
        ChangeoverRow(station=station, what=what, minutes=taken)
        for (station, what), taken in minutes.items()
    ]
