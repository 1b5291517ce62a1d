"""Eight weeks of the demo shop's finisher log: how the invented shop really works.

Its finisher feeds a little slower than the shop's settings say, handling takes longer, the P120
belt for steel wore towards the end, and one row forgot to leave out the lunch break.
"""

from __future__ import annotations

import math
import random
from collections.abc import Iterator
from datetime import date, timedelta

from demo_orders.shop import demo_shop
from demo_orders.tables import Cells
from planner.finisher.observations import work_of
from planner.shop import Shop, StationKind
from planner.tube import Family
from planner.units import NM_PER_INCH
from planner_io.workbook.show import Shown

FIRST_DAY = date(2026, 9, 7)
RUNS = 64
TIMED = 6
SLIP = 0.83
HANDLING_S = {"in one hand": 15.0, "as a stick": 31.0, "by two people": 31.0}
NOISE = 0.05
WORN_FROM = 44
WORN = 1.22
FORGOTTEN = 37
BELTS = (
    ("P80 steel", Family.CARBON),
    ("P120 steel", Family.CARBON),
    ("P120 stainless", Family.STAINLESS),
    ("P180 stainless", Family.STAINLESS),
    ("P180 aluminium", Family.ALUMINIUM),
)
TUBES = (("1", 1.0, ".065"), ("1-1/4", 1.25, ".065"), ("1-1/2", 1.5, ".065"), ("2", 2.0, ".083"))
LENGTHS = (("20'", 240), ("20'", 240), ("20'", 240), ("60", 60), ("36", 36))


def log_rows() -> list[Cells]:
    """The rows of the sheet Log, in order of time; the same each time."""
    return list(_rows(demo_shop(), random.Random(7)))


def _rows(shop: Shop, dice: random.Random) -> Iterator[Cells]:
    last = ""
    for number in range(1, RUNS + 1):
        belt, family = BELTS[1] if number >= WORN_FROM and number % 3 else dice.choice(BELTS)
        od, od_in, wall = dice.choice(TUBES)
        length, length_in = dice.choice(LENGTHS)
        timed = number <= TIMED
        count = 1 if timed else dice.randint(4, 30)
        tilt = dice.choice((4, 4.5, 5, 5, 5))
        seconds = _seconds(shop, (belt, family), od_in, length_in, count, tilt, timed)
        seconds *= math.exp(dice.gauss(0, NOISE))
        seconds *= WORN if belt == BELTS[1][0] and number >= WORN_FROM else 1
        seconds += 45 * 60 if number == FORGOTTEN else 0
        row: dict[str, Shown] = {
            "day": FIRST_DAY + timedelta(days=7 * (number // 8) + number % 5),
            "belt": belt,
            "family": family.value,
            "od": od,
            "wall": wall,
            "length": length,
            "count": count,
            "tilt": tilt,
            "minutes": f"{seconds:.0f} s" if timed else f"{max(1, round(seconds / 60))} min",
            "timed": "yes" if timed else "no",
            "who": dice.choice(("Robin", "Sasha", "Noor")),
        }
        if belt != last:
            row["belt_change"] = f"{dice.choice((4, 5, 5, 6, 7))} min"
        if number % 4 == 0:
            row["spring"] = f"{dice.choice((2, 2.5, 3)):g} turns"
        last = belt
        yield row


def _seconds(
    shop: Shop,
    belt: tuple[str, Family],
    od_in: float,
    length_in: int,
    count: int,
    tilt: float,
    timed: bool,
) -> float:
    station = shop.of_kind(StationKind.FINISHER)[0]
    found = next(each for each in shop.belts if each.name == belt[0])
    od_nm, length_nm = round(od_in * NM_PER_INCH), length_in * NM_PER_INCH
    work = work_of(shop, station, found, belt[1], od_nm, length_nm, count, round(tilt * 1000))
    return work.formula_s / SLIP + (0 if timed else count * HANDLING_S[work.carry])
