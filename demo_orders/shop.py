"""Third Kiln Tubeworks, an invented shop: the starter shop with its own name, tools and habits."""

from __future__ import annotations

from datetime import date

from planner.shop import HoursKind, HoursRow, House, Shop, Tool, ToolKind
from planner.units import parse_length
from planner_io.starter import BENDER, starter_shop

FIRST_DAY = date(2026, 11, 30)
"""A Monday."""

BELT_SPEED_M_MIN = 1_500.0
_EXTRA_DIES = (("3/4", "2-1/4"), ("1-5/8", "6"), ("2-3/8", "8"))


def demo_shop() -> Shop:
    """The shop as its weeks find it."""
    shop = starter_shop()
    return shop.model_copy(
        update={
            "house": House(
                name="Third Kiln Tubeworks",
                start=FIRST_DAY,
                remnant_nm=parse_length("30 in").nm,
                denominator=32,
                minute_cents=140,
                late_cents_h=1_500,
                spare_worth_min=20,
            ),
            "hours": (
                *shop.hours,
                HoursRow(
                    day=date(2026, 12, 2),
                    kind=HoursKind.OVERTIME,
                    start_min=15 * 60 + 30,
                    end_min=17 * 60,
                ),
            ),
            "tools": (*shop.tools, *_dies()),
            "wheels": tuple(
                each.model_copy(update={"belt_speed_m_min": BELT_SPEED_M_MIN})
                for each in shop.wheels
            ),
        }
    )


def _dies() -> tuple[Tool, ...]:
    return tuple(
        Tool(
            name=f"clean die {od} x {clr}",
            kind=ToolKind.DIE,
            station=BENDER,
            od_nm=parse_length(od).nm,
            clr_nm=parse_length(clr).nm,
            soft=True,
        )
        for od, clr in _EXTRA_DIES
    )
