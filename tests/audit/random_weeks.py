"""Random small shops and weeks: bases, people, hours, remnants, routes, everything at once."""

from __future__ import annotations

from datetime import date, datetime, timedelta
from typing import Any

from hypothesis import strategies as st

from planner.options import LotPolicy, Options
from planner.orders import EndCut, OrderLine, Step
from planner.shop import (
    ChangeoverRow,
    GoodSetting,
    HoursKind,
    HoursRow,
    House,
    Mounted,
    Person,
    Rail,
    SawSettings,
    Shop,
    Station,
    StationKind,
    ToolKind,
    What,
    Wheels,
)
from planner.stock import StockItem
from planner.tube import Family, Surface, TubeSpec
from tests import trade
from tests.trade import a_belt, a_die, a_line, a_recipe, a_saddle, a_spec, a_stick, inch

MONDAY = date(2027, 3, 1)
ODS = ("1", "1-1/2", "2")
FAMILIES = (Family.STAINLESS, Family.CARBON)
ROUTES = (
    (Step.FINISH, Step.SAW, Step.NOTCH, Step.BEND),
    (Step.FINISH, Step.SAW, Step.BEND, Step.NOTCH),
    (Step.SAW, Step.FINISH, Step.NOTCH, Step.BEND),
)

GOOD = GoodSetting(
    od_nm=inch("1"), wall_nm=inch(".065"), spring="2 turns", tilt_mdeg=7_000, day=MONDAY
)

Week = tuple[tuple[OrderLine, ...], tuple[StockItem, ...], Shop, Options]


@st.composite
def weeks(draw: st.DrawFn) -> Week:
    specs = draw(st.lists(specs_(), min_size=1, max_size=3, unique=True))
    count = draw(st.integers(1, 6))
    lines = tuple(draw(lines_(str(number), specs)) for number in range(1, count + 1))
    stock = tuple(item for number, spec in enumerate(specs) for item in draw(sticks(spec, number)))
    options = Options(
        start=MONDAY,
        start_min=draw(st.sampled_from([0, 470, 700, 1_900])),
        seconds=0.05,
        seed=draw(st.integers(0, 5)),
        lots=draw(st.sampled_from(LotPolicy)),
    )
    return lines, stock, draw(shops()), options


@st.composite
def specs_(draw: st.DrawFn) -> TubeSpec:
    return a_spec(
        od=draw(st.sampled_from(ODS)),
        family=draw(st.sampled_from(FAMILIES)),
        surface=draw(st.sampled_from((Surface.SCALED, Surface.BRIGHT))),
    )


@st.composite
def lines_(draw: st.DrawFn, number: str, specs: list[TubeSpec]) -> OrderLine:
    spec = draw(st.sampled_from(specs))
    shape, ends = draw(shapes(spec))
    return a_line(
        line=number,
        quantity=draw(st.integers(1, 9)),
        spec=spec,
        recipe=draw(st.sampled_from(["satin", "plain", None])),
        shape=shape,
        ends=ends,
        due=datetime(2027, 3, 1, 12) + timedelta(hours=draw(st.integers(-30, 200))),
        weight=draw(st.integers(1, 5)),
        route=draw(st.sampled_from(ROUTES)),
        touch_up_s=draw(st.sampled_from([0, 45])),
    )


@st.composite
def shapes(draw: st.DrawFn, spec: TubeSpec) -> tuple[Any, tuple[EndCut, EndCut]]:
    square, length = EndCut(), str(draw(st.integers(14, 90)))
    saddles = [square, a_saddle("2"), a_saddle("2", 60)]
    ends = (draw(st.sampled_from(saddles)), draw(st.sampled_from(saddles)))
    if draw(st.booleans()) and spec.od_nm == inch("1-1/2"):
        return trade.bent((10, 90, 4.5), (12, draw(st.sampled_from([45, 90])), 4.5), 10), ends
    return (trade.axes(length) if draw(st.booleans()) else trade.cut(length)), ends


@st.composite
def sticks(draw: st.DrawFn, spec: TubeSpec, number: int) -> list[StockItem]:
    def item(key: str, **fields: Any) -> StockItem:
        return a_stick(spec, key=f"{key}{number}", **fields)

    found = [item("buy", lead_days=draw(st.integers(0, 2)))]
    if draw(st.booleans()):
        found.append(item("rack", length="16'", count=draw(st.integers(0, 4)), price_cents=7_000))
    if draw(st.booleans()):
        found.append(item("late", count=3, arrives=MONDAY + timedelta(days=1), price_cents=6_000))
    if draw(st.booleans()):
        finished = draw(st.sampled_from([None, "satin"]))
        remnant: dict[str, Any] = {"count": 1, "remnant": True, "finished": finished}
        found.append(item("R", length="55", price_cents=draw(st.integers(0, 900)), **remnant))
    return found


@st.composite
def shops(draw: st.DrawFn) -> Shop:
    stations = draw(stations_())
    people = draw(crews(stations))
    lives = {
        "life_min": draw(st.sampled_from([None, 20, 400])),
        "life_cm2": draw(st.sampled_from([None, 40_000, 900_000])),
        "wear": draw(st.sampled_from([{}, {Family.STAINLESS: 1.5, Family.CARBON: 0.8}])),
    }
    longest = draw(st.sampled_from([(), ("finisher",), ("Grinder",), ("Bender",)]))
    return Shop(
        house=House(remnant_nm=draw(st.sampled_from([inch("12"), inch("30")]))),
        stations=stations,
        wheels=tuple(
            Wheels(station=s.name, contact_nm=inch("14"), brake_nm=inch("6"), brake_rpm=60.0)
            for s in stations
            if s.kind == StationKind.FINISHER
        ),
        hours=draw(hours(people)),
        people=people,
        changeovers=draw(changeovers()),
        longest_of=longest,
        belts=tuple(
            a_belt(grade, family).model_copy(update={"name": f"{grade} {family.value}", **lives})
            for grade in ("P80", "P120", "P180")
            for family in FAMILIES
        ),
        recipes=(a_recipe("satin", "P120", "P180"), a_recipe("plain", "P80")),
        rails=(Rail(name="thin", thickness_nm=inch("1/8")),),
        tools=(a_die(), a_die(name="2 cutter", kind=ToolKind.CUTTER, station="Notcher", od="2")),
        mounted=draw(mounted()),
        good=draw(st.sampled_from([(), (GOOD,)])),
    )


@st.composite
def stations_(draw: st.DrawFn) -> tuple[Station, ...]:
    base = draw(st.sampled_from([(), ("Finisher", "Notcher"), ("Finisher", "Notcher", "Bender")]))
    saws = {name: draw(saw_settings()) for name in ("Saw", "Saw 2")}
    names = {kind.value.capitalize(): kind for kind in StationKind}
    if not draw(st.booleans()):
        del names["Bench"]
    if draw(st.booleans()):
        names["Saw 2"] = StationKind.SAW
    return tuple(
        Station.model_validate(
            {
                "name": name,
                "kind": kind,
                "base": "Grinder" if name in base else None,
                "saw": saws.get(name, SawSettings()),
            }
        )
        for name, kind in names.items()
    )


@st.composite
def saw_settings(draw: st.DrawFn) -> SawSettings:
    return SawSettings(
        kerf_nm=draw(st.sampled_from([inch("1/16"), inch("1/8")])),
        stick_trim_nm=draw(st.sampled_from([0, inch("1/4")])),
        end_trim_nm=draw(st.sampled_from([0, inch("1/2")])),
        clamp_nm=draw(st.sampled_from([0, inch("2")])),
        unattended=draw(st.booleans()),
    )


def crews(stations: tuple[Station, ...]) -> st.SearchStrategy[tuple[Person, ...]]:
    everything = tuple(station.name for station in stations)
    pair = [Person(name=name, stations=everything) for name in ("Ann", "Ben")]
    cleo = Person(name="Cleo", stations=everything[:2])
    found: tuple[tuple[Person, ...], ...] = ((), tuple(pair), (*pair, cleo))
    return st.sampled_from(found)


@st.composite
def hours(draw: st.DrawFn, people: tuple[Person, ...]) -> tuple[HoursRow, ...]:
    end = draw(st.sampled_from([900, 960]))
    rows = [HoursRow(weekday=day, start_min=420, end_min=end) for day in range(5)]
    rows += [
        HoursRow(weekday=day, kind=HoursKind.BREAK, start_min=start, end_min=start + length)
        for day in range(5)
        for start, length in ((555, 15), (720, 30))
    ]
    if draw(st.booleans()):
        closed = HoursKind.CLOSED
        rows.append(HoursRow(day=MONDAY + timedelta(days=draw(st.integers(0, 4))), kind=closed))
    if draw(st.booleans()):
        overtime = HoursKind.OVERTIME
        rows.append(HoursRow(day=MONDAY, kind=overtime, start_min=end, end_min=end + 120))
    if draw(st.booleans()) and people:
        rows += [HoursRow(who="Ann", weekday=d, start_min=480, end_min=840) for d in range(5)]
    if draw(st.booleans()):
        rows += [HoursRow(who="Saw", weekday=d, start_min=360, end_min=1080) for d in range(5)]
    return tuple(rows)


@st.composite
def changeovers(draw: st.DrawFn) -> tuple[ChangeoverRow, ...]:
    minutes = st.integers(0, 30)
    rows = [
        ChangeoverRow(station=kind, what=what, minutes=draw(minutes))
        for kind in StationKind
        for what in (What.OD, What.BELT, What.RAIL, What.FAMILY, What.DIE, What.CUTTER)
    ]
    rows.append(ChangeoverRow(station="Grinder", what=What.ATTACHMENT, minutes=draw(minutes)))
    for what, before, after in (
        (What.FAMILY, "carbon", "stainless"),
        (What.BELT, "P80 carbon", "P120 carbon"),
    ):
        special = draw(minutes)
        rows.append(
            ChangeoverRow(
                station="Finisher", what=what, before=before, after=after, minutes=special
            )
        )
    return tuple(rows)


@st.composite
def mounted(draw: st.DrawFn) -> tuple[Mounted, ...]:
    rows = (
        Mounted(station="Grinder", what=What.ATTACHMENT, value="Notcher"),
        Mounted(station="Finisher", what=What.BELT, value="P120 carbon"),
        Mounted(station="Finisher", what=What.FAMILY, value="carbon"),
        Mounted(station="Saw", what=What.OD, value=str(inch("2"))),
        Mounted(station="Bender", what=What.DIE, value="an old one"),
    )
    return tuple(row for row in rows if draw(st.integers(0, 1)))
