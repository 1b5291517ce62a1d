"""A whole small week for tests of the stages: a shop with wheels and hours, orders and stock."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date, datetime
from typing import Any

from planner.blanks import make_blanks
from planner.buying import release_minutes
from planner.cutting import rack_of
from planner.drafts import Desk
from planner.hours import due_minute
from planner.options import Options
from planner.orders import EndCut, OrderLine
from planner.shop import ChangeoverRow, HoursRow, Rail, Shop, What, Wheels
from planner.stock import StockItem
from planner.tube import Family, TubeSpec
from tests.trade import a_line, a_saddle, a_shop, a_spec, a_stick, bent, cut, inch

MONDAY = date(2026, 11, 30)
DAY = 1440


def weekdays(*shifts: tuple[int, int], who: str = "shop") -> tuple[HoursRow, ...]:
    """The same shifts from Monday to Friday, in minutes from midnight."""
    return tuple(
        HoursRow(who=who, weekday=day, start_min=start, end_min=end)
        for day in range(5)
        for start, end in shifts
    )


def table(**minutes: int) -> tuple[ChangeoverRow, ...]:
    """Changeover minutes, `finisher_OD=12` for a kind of station and a kind of change."""
    rows: list[ChangeoverRow] = []
    for name, value in minutes.items():
        station, what = name.split("_", 1)
        rows.append(ChangeoverRow(station=station, what=What(what), minutes=value))
    return tuple(rows)


def a_week_shop(**changes: Any) -> Shop:
    """One station of each kind, 07:00–15:30 with half an hour's break, five days."""
    fields: dict[str, Any] = {
        "hours": weekdays((420, 720), (750, 930)),
        "wheels": (
            Wheels(station="Finisher", contact_nm=inch("10"), brake_nm=inch("6"), brake_rpm=60),
        ),
        "rails": (
            Rail(name="quarter bronze", thickness_nm=inch("1/4")),
            Rail(name="eighth bronze", thickness_nm=inch("1/8")),
        ),
        "changeovers": (
            *table(finisher_OD=12, finisher_belt=5, finisher_rail=6, saw_OD=3, notcher_cutter=8),
            *table(bender_die=15),
            ChangeoverRow(
                station="finisher",
                what=What.FAMILY,
                before="carbon",
                after="stainless",
                minutes=20,
            ),
        ),
    }
    return a_shop(**(fields | changes))


SPECS = (
    a_spec(),
    a_spec("1"),
    a_spec("2"),
    a_spec("1-1/2", grade="1020", family=Family.CARBON),
)


def some_orders(count: int = 12) -> list[OrderLine]:
    """Order lines over four tube specs, due from Tuesday to Friday, some bent, some saddled."""
    bend = bent((12, 90, 4.5), 20)
    return [
        a_line(
            order=str(100 + number),
            spec=SPECS[number % 4],
            quantity=5 + number,
            due=datetime(2026, 12, 1 + number % 4, 15, 30),
            shape=bend if number % 4 in (0, 3) else cut(str(20 + 3 * number)),
            ends=(a_saddle("2"), EndCut()) if number % 3 == 0 else (EndCut(), EndCut()),
        )
        for number in range(count)
    ]


def some_stock(specs: Sequence[TubeSpec] = SPECS) -> list[StockItem]:
    """Sticks of 20 ft to buy and three of 24 ft on the rack, of each spec."""
    return [
        stick
        for number, spec in enumerate(specs)
        for stick in (
            a_stick(spec, "20'", key=f"buy-{number}"),
            a_stick(spec, "24'", key=f"rack-{number}", price_cents=10_500, count=3),
        )
    ]


def options(**changes: Any) -> Options:
    """A small budget from Monday."""
    fields: dict[str, Any] = {"start": MONDAY, "seconds": 2.0}
    return Options(**(fields | changes))


def a_desk(
    orders: Sequence[OrderLine] | None = None,
    stock: Sequence[StockItem] | None = None,
    shop: Shop | None = None,
    **changes: Any,
) -> Desk:
    """Everything that is known before lots are formed."""
    shop, orders = shop or a_week_shop(), orders or some_orders()
    stock = stock or some_stock(tuple(dict.fromkeys(line.spec for line in orders)))
    made = make_blanks(orders, stock, shop)
    blanks = {blank.line: blank for blank in made.blanks}
    return Desk(
        shop=shop,
        entered=tuple(orders),
        findings=made.findings,
        orders={line.key: line for line in orders if line.key in blanks},
        blanks=blanks,
        rack=rack_of(stock, release_minutes(stock, MONDAY)),
        due_min={line.key: due_minute(line.due, MONDAY) for line in orders},
        options=options(**changes),
    )
