"""A small hand-made plan: two stations' worth of finishing, sawing, notching and bending."""

from __future__ import annotations

from datetime import date, datetime, timedelta

from planner.change import Change
from planner.errors import Finding, Severity
from planner.held import Held, HeldWhy, IssuedAt, Moved, Replan
from planner.options import Options
from planner.orders import CutLength, OrderLine, Step
from planner.records import (
    Alternative,
    Blank,
    BuyLine,
    Card,
    CutList,
    Floor,
    FloorKind,
    LateLine,
    LedgerRow,
    LineDone,
    Lot,
    Operation,
    Piece,
    Plan,
    Setting,
    Slot,
    Stick,
)
from planner.shop import (
    Person,
    What,
)
from planner.stock import StockItem
from planner.stop import Status
from planner.tube import Family, TubeSpec
from planner.units import Unit
from planner.yardsticks import Yardstick
from tests.planner_io.shops import a_shop, a_spec, inch

MONDAY = date(2026, 11, 30)
DAY = 1440


def a_line(
    key: str,
    spec: TubeSpec,
    recipe: str | None,
    quantity: int,
    length: float,
    due: datetime,
    customer: str = "Harrow Fields",
    part: str = "Rail post",
) -> OrderLine:
    order, _, line = key.partition("/")
    return OrderLine(
        order=order,
        line=line,
        customer=customer,
        part=part,
        quantity=quantity,
        spec=spec,
        recipe=recipe,
        shape=CutLength(length_nm=inch(length)),
        due=due,
        place=f"Orders!A{quantity}",
    )


def on_one_base(plan: Plan, *stations: str) -> Plan:
    """The plan of a shop whose stations of these names exclude each other."""
    update = {"base": "Base 1"}
    found = tuple(
        each.model_copy(update=update) if each.name in stations else each
        for each in plan.shop.stations
    )
    return plan.model_copy(update={"shop": plan.shop.model_copy(update={"stations": found})})


def sticks_of(lot: str, stock: str, line: str, count: int, each: int, length: int) -> list[Stick]:
    """`count` pieces of one length on sticks of 20 ft, `each` on a stick."""
    found: list[Stick] = []
    kerf = inch(1 / 8)
    for number in range(-(-count // each)):
        pieces = tuple(
            Piece(tag=f"{lot}-{number + 1}-{n + 1}", line=line, length_nm=length)
            for n in range(min(each, count - number * each))
        )
        drop = inch(240) - len(pieces) * (length + kerf)
        found.append(
            Stick(
                tag=f"{lot}-{number + 1}",
                stock=stock,
                length_nm=inch(240),
                pieces=pieces,
                drop_nm=drop,
                kept=drop >= inch(24),
            )
        )
    return found


def a_pass(lot: str, number: int, belt: str, minutes: int, count: int, od: float) -> Operation:
    return Operation(
        key=f"{lot}.P{number}",
        step=Step.FINISH,
        lot=lot,
        after=(f"{lot}.P{number - 1}",) if number > 1 else (),
        alternatives=(
            Alternative(
                station="Finisher",
                minutes=minutes,
                state={What.OD: str(inch(od)), What.BELT: belt, What.RAIL: "bronze 1/4"},
            ),
        ),
        count=count,
        pass_no=number,
        passes=2,
        belt=belt,
        grade=belt.rpartition(" ")[0],
    )


def a_step(
    key: str,
    step: Step,
    station: str,
    minutes: int,
    count: int,
    after: str,
    state: dict[What, str],
    line: str | None = None,
) -> Operation:
    return Operation(
        key=key,
        step=step,
        lot=key.partition(".")[0],
        line=line,
        after=(after,),
        alternatives=(Alternative(station=station, minutes=minutes, state=state),),
        count=count,
    )


def a_slot(
    operation: Operation, start: int, run: int, changes: tuple[Change, ...] = (), end: int = 0
) -> Slot:
    way = operation.alternatives[0]
    setup = sum(change.minutes for change in changes)
    return Slot(
        operation=operation.key,
        station=way.station,
        people=("Ana",) if way.station == "Finisher" else ("Bo",),
        changes=changes,
        setup_start_min=start - setup,
        setup_min=setup,
        start_min=start,
        end_min=end or start + way.minutes,
        minutes=way.minutes,
        pieces=((start, end or start + way.minutes),),
        run=run,
        held_by="the station was busy",
    )


def a_change(what: What, before: str | None, after: str, minutes: int) -> Change:
    return Change(what=what, before=before, after=after, minutes=minutes)


def finisher_settings() -> tuple[Setting, ...]:
    return (
        Setting(name="belt", value="P80 steel", remark="P80"),
        Setting(name="rail", length_nm=inch(0.25), value="bronze 1/4", remark="bronze"),
        Setting(name="rail front to belt face", length_nm=inch(3 / 8), remark="rule on the rail"),
        Setting(name="gap between belt and rail", length_nm=inch(1 / 8), remark="check"),
        Setting(name="rail top below the line of centres", length_nm=inch(1 + 1 / 32)),
        Setting(name="tilt of the brake wheel", angle_mdeg=4_500, remark="feeds from the right"),
        Setting(name="feed", value="6.2 ft/min", remark="1.89 m/min"),
    )


def a_plan(
    customer: str = "Harrow Fields",
    part: str = "Rail post",
    unit: Unit = "inch",
    paper: str = "letter",
    shop_name: str = "Alder Street Tube",
) -> Plan:
    steel, clean = a_spec(), a_spec(2.0, 0.049, Family.STAINLESS)
    due = datetime(2026, 12, 1, 15, 30)
    early = datetime(2026, 11, 30, 11, 0)
    lines = (
        a_line("1187/1", steel, "Satin", 40, 24.5, due, customer, part),
        a_line("1187/2", clean, "Brushed", 10, 41 + 5 / 32, early, "Mill Lane", "Hoop"),
    )
    sticks = {
        "L01": sticks_of("L01", "C15-20", "1187/1", 40, 9, inch(24.5)),
        "L02": sticks_of("L02", "S2-20", "1187/2", 10, 5, inch(41 + 5 / 32)),
    }
    operations = (
        a_pass("L01", 1, "P80 steel", 60, 5, 1.5),
        a_pass("L01", 2, "P120 steel", 55, 5, 1.5),
        a_step("L01.SAW", Step.SAW, "Saw", 40, 5, "L01.P2", {What.OD: str(inch(1.5))}),
        a_step(
            "L01.BEND",
            Step.BEND,
            "Bender",
            80,
            40,
            "L01.SAW",
            {What.DIE: "1-1/2 × 4-1/2 soft"},
            "1187/1",
        ),
        a_pass("L02", 1, "P180 clean", 45, 2, 2.0),
        a_pass("L02", 2, "non-woven fine clean", 45, 2, 2.0),
        a_step("L02.SAW", Step.SAW, "Saw", 20, 2, "L02.P2", {What.OD: str(inch(2))}),
        a_step(
            "L02.NOTCH",
            Step.NOTCH,
            "Notcher",
            30,
            10,
            "L02.SAW",
            {What.OD: str(inch(2)), What.CUTTER: str(inch(2))},
            "1187/2",
        ),
    )
    by_key = {operation.key: operation for operation in operations}
    od1, od2 = str(inch(1.5)), str(inch(2))
    slots = (
        a_slot(by_key["L01.P1"], 440, 1, (a_change(What.BELT, None, "P80 steel", 5),)),
        a_slot(by_key["L01.P2"], 505, 2, (a_change(What.BELT, "P80 steel", "P120 steel", 5),)),
        a_slot(
            by_key["L02.P1"],
            590,
            3,
            (
                a_change(What.OD, od1, od2, 12),
                a_change(What.BELT, "P120 steel", "P180 clean", 5),
                a_change(What.FAMILY, "carbon", "stainless", 13),
            ),
        ),
        a_slot(
            by_key["L02.P2"],
            640,
            4,
            (a_change(What.BELT, "P180 clean", "non-woven fine clean", 5),),
        ),
        a_slot(by_key["L01.SAW"], 560, 1),
        a_slot(by_key["L02.SAW"], 688, 2, (a_change(What.OD, od1, od2, 3),)),
        a_slot(by_key["L02.NOTCH"], 708, 1, end=768),
        a_slot(
            by_key["L01.BEND"], DAY + 440, 1, (a_change(What.DIE, None, "1-1/2 × 4-1/2 soft", 20),)
        ),
    )
    stock = (
        StockItem(
            key="C15-20",
            spec=steel,
            length_nm=inch(240),
            price_cents=4_100,
            count=12,
            location="Rack B2",
        ),
        StockItem(key="S2-20", spec=clean, length_nm=inch(240), price_cents=18_250),
    )
    return Plan(
        version="0.1.0",
        options=Options(start=MONDAY),
        shop=a_shop(shop_name, unit, paper),
        orders=lines,
        refused=(a_line("1188/1", steel, None, 3, 300, due),),
        stock=stock,
        findings=(
            Finding(
                severity=Severity.ERROR,
                sheet="Orders",
                cell="H9",
                read="300",
                expected="at most 240",
                message="The blank is longer than any stick; split it.",
            ),
            Finding(
                severity=Severity.WARNING,
                subject="1187/2",
                message="The wall is thin for the saddle; cut slowly.",
            ),
        ),
        blanks=(
            Blank(
                line="1187/1",
                length_nm=inch(24.5),
                quantity=40,
                steps=(Step.FINISH, Step.SAW, Step.BEND),
                bends=1,
                clr_nm=inch(4.5),
            ),
            Blank(
                line="1187/2",
                length_nm=inch(41 + 5 / 32),
                quantity=10,
                steps=(Step.FINISH, Step.SAW, Step.NOTCH),
                saddles_nm=(inch(2),),
            ),
        ),
        lots=(
            Lot(key="L01", spec=steel, recipe="Satin", lines=("1187/1",), due_min=DAY + 930),
            Lot(key="L02", spec=clean, recipe="Brushed", lines=("1187/2",), due_min=660),
        ),
        cut_lists=tuple(
            CutList(
                lot=lot,
                sticks=tuple(found),
                kerf_nm=inch(1 / 8),
                stick_trim_nm=0,
                end_trim_nm=0,
                cost_cents=20_500,
                floor_cents=20_500,
                status=Status.PROVEN,
            )
            for lot, found in sticks.items()
        ),
        operations=operations,
        slots=slots,
        cards=tuple(
            Card(
                station="Finisher",
                run=slot.run,
                operations=(slot.operation,),
                settings=finisher_settings(),
                remarks=("Check the first stick by eye.",),
                cautions=("Lock out before the belt is changed (29 CFR 1910.147).",),
            )
            for slot in slots[:4]
        ),
        done=(
            LineDone(line="1187/1", done_min=DAY + 520, due_min=DAY + 930),
            LineDone(line="1187/2", done_min=768, due_min=660),
        ),
        late=(
            LateLine(
                line="1187/2",
                due=early,
                done=datetime(2026, 11, 30, 12, 48),
                late_min=108,
                reason="The finisher was busy with L01 until 9:20.",
            ),
        ),
        buy=(
            BuyLine(
                stock="S2-20",
                count=2,
                price_cents=36_500,
                needed_by=datetime(2026, 11, 30, 9, 50),
                lots=("L02",),
            ),
        ),
        ledger=tuple(
            LedgerRow(
                station=slot.station,
                day=MONDAY + timedelta(days=slot.start_min // DAY),
                what=change.what,
                minutes=change.minutes,
                count=1,
            )
            for slot in slots
            for change in slot.changes
        ),
        yardsticks=tuple(
            Yardstick(
                name=name,
                changeover_min=sum(parts.values()),
                by_what=parts,
                late_lines=n,
                late_min=late,
                weighted_late_min=late,
            )
            for name, parts, n, late in (
                ("this plan", {What.OD: 15, What.BELT: 20, What.FAMILY: 13, What.DIE: 20}, 1, 108),
                ("as entered", {What.OD: 30, What.BELT: 40, What.FAMILY: 26, What.DIE: 20}, 1, 90),
                ("by due date", {What.OD: 27, What.BELT: 40, What.FAMILY: 13, What.DIE: 20}, 1, 80),
                ("by OD", {What.OD: 15, What.BELT: 35, What.FAMILY: 13, What.DIE: 20}, 2, 300),
            )
        ),
        floors=(
            Floor(kind=FloorKind.CHANGEOVER, value=68, floor=55, basis="states to visit"),
            Floor(kind=FloorKind.MATERIAL, value=41_000, floor=41_000, basis="cut lists"),
        ),
        status=Status.GAP,
    )


def with_people(plan: Plan, *names: str) -> Plan:
    """The plan of a shop of these people, who may run everything."""
    stations = tuple(station.name for station in plan.shop.stations)
    people = tuple(Person(name=name, stations=stations) for name in names)
    return plan.model_copy(update={"shop": plan.shop.model_copy(update={"people": people})})


def a_replanned_plan() -> Plan:
    """The same, planned again: a pass done, one begun, and one moved since it was issued."""
    plan = a_plan()
    first, second, third = plan.slots[:3]

    def held(slot: Slot, why: HeldWhy, pieces: int | None = None) -> Held:
        return Held(
            operation=slot.operation,
            why=why,
            setup_start_min=slot.setup_start_min,
            start_min=slot.start_min,
            end_min=slot.end_min,
            pieces=pieces,
        )

    def at(slot: Slot, start_min: int) -> IssuedAt:
        there = slot.model_dump() | {"start_min": start_min, "end_min": start_min + slot.minutes}
        return IssuedAt.model_validate({name: there[name] for name in IssuedAt.model_fields})

    before = at(third, 480)
    replan = Replan(
        now_min=520,
        held=(held(first, HeldWhy.DONE), held(second, HeldWhy.STARTED, 3)),
        issued=(before,),
        moved=(Moved(operation=third.operation, before=before, after=at(third, 590)),),
    )
    return plan.model_copy(update={"replan": replan})
