"""What time to spare before due dates is worth: plans with and without, run in simulated weeks.

`python -m tests.benchmarks.spare [--book FILE | --lines N --specs N --week S --tight T [--people]]
[--seeds N] [--seconds T]` plans a workbook, or a generated week, with every engine seed without
time to spare, with the shop's usual two hours, and with two hours that are worth 20 changeover
minutes. One row a plan: weighted minutes late, changeover minutes, and the share of 4,000
simulated weeks in which nothing is late.
"""

from __future__ import annotations

import argparse
from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path

from planner.confidence import Spreads
from planner.options import Options
from planner.orders import OrderLine
from planner.plan import make_plan
from planner.records import FloorKind, Plan
from planner.risk import with_risk
from planner.shop import Shop
from planner.stock import StockItem
from planner_io.workbook import read_workbook
from tests.benchmarks.lots import a_week
from tests.week import MONDAY, some_stock

WEEKS = 4_000
WAYS = {"none": (0, 0), "2 h": (120, 0), "2 h for 20 min": (120, 20)}
"""Time to spare in working minutes, and the changeover minutes that it is worth."""
HEAD = f"{'time to spare':<16}{'seed':>5}{'late':>7}{'chg':>6}{'all on time':>13}"


@dataclass(frozen=True)
class Week:
    """What is planned."""

    orders: Sequence[OrderLine]
    stock: Sequence[StockItem]
    shop: Shop
    options: Options


def of_book(path: Path) -> Week:
    """The week of a workbook."""
    reading = read_workbook(path, None)
    options = Options(start=reading.start or MONDAY)
    return Week(reading.orders, reading.stock, reading.shop, options)


def generated(lines: int, specs: int, seed: int, tight: float, people: bool) -> Week:
    """A generated week; its work takes the share `tight` of the finisher's hours."""
    desk = a_week(lines, specs, seed, tight, people, seconds=8.0)
    orders = list(desk.orders.values())
    stock = some_stock(tuple(dict.fromkeys(line.spec for line in orders)))
    return Week(orders, stock, desk.shop, Options(start=MONDAY))


def planned(week: Week, way: str, seed: int, seconds: float) -> Plan:
    """The week planned one way, and simulated."""
    spare_min, worth_min = WAYS[way]
    house = week.shop.house.model_copy(
        update={"spare_min": spare_min, "spare_worth_min": worth_min}
    )
    shop = week.shop.model_copy(update={"house": house})
    options = week.options.model_copy(update={"seed": seed, "seconds": seconds})
    return with_risk(make_plan(week.orders, week.stock, shop, options), Spreads(), WEEKS)


def row(plan: Plan, way: str) -> str:
    """One line of the table."""
    value = {floor.kind: floor.value for floor in plan.floors}
    late, changes = value[FloorKind.LATENESS], value[FloorKind.CHANGEOVER]
    chance = plan.risk.all_on_time if plan.risk else 0.0
    return f"{way:<16}{plan.options.seed:>5}{late:>7}{changes:>6}{chance:>13.0%}"


def main() -> None:
    """Run what the options ask for."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--book", type=Path)
    parser.add_argument("--lines", type=int, default=40)
    parser.add_argument("--specs", type=int, default=8)
    parser.add_argument("--week", type=int, default=21)
    parser.add_argument("--tight", type=float, default=0.6)
    parser.add_argument("--people", action="store_true")
    parser.add_argument("--seeds", type=int, default=2)
    parser.add_argument("--seconds", type=float, default=8.0)
    asked = parser.parse_args()
    week = (
        of_book(asked.book)
        if asked.book
        else generated(asked.lines, asked.specs, asked.week, asked.tight, asked.people)
    )
    print(HEAD)
    for seed in range(1, asked.seeds + 1):
        for way in WAYS:
            print(row(planned(week, way, seed, asked.seconds), way), flush=True)


if __name__ == "__main__":
    main()
