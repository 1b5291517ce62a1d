"""When sticks can be used, and which must be bought by when."""

from __future__ import annotations

from datetime import date, datetime
from typing import Any

from planner.buying import buy_list, release_minutes
from planner.orders import Step
from planner.records import BuyLine, Operation, Slot
from tests.trade import a_cut_list, a_stick
from tests.week import DAY, MONDAY

WEDNESDAY, THURSDAY = date(2026, 12, 2), date(2026, 12, 3)


def released(ordered_day: int = 0, **changes: Any) -> int:
    """Minute at which a stick can be used in a plan that starts on Monday."""
    (minute,) = release_minutes([a_stick(**changes)], MONDAY, ordered_day).values()
    return minute


def test_sticks_can_be_used_from_midnight_of_the_day_on_which_they_arrive() -> None:
    assert released(arrives=WEDNESDAY, count=3) == 2 * DAY
    assert released(arrives=MONDAY, count=3) == 0


def test_sticks_that_came_before_the_plan_begins_are_there() -> None:
    assert released(arrives=date(2026, 11, 25), count=3) == 0
    assert released() == 0


def test_sticks_to_buy_are_there_so_many_days_after_they_are_ordered() -> None:
    assert released(lead_days=2) == 2 * DAY
    assert released(lead_days=2, ordered_day=1) == 3 * DAY
    assert released(ordered_day=1) == 0


def test_sticks_on_the_rack_need_no_days_to_be_delivered() -> None:
    assert released(lead_days=2, count=3) == 0


def test_sticks_to_buy_that_are_sold_from_a_day_on_take_the_later_of_the_two() -> None:
    assert released(lead_days=2, arrives=THURSDAY) == 3 * DAY
    assert released(lead_days=4, arrives=THURSDAY) == 4 * DAY


def an_operation(lot: str, name: str) -> Operation:
    return Operation(key=f"{lot}.{name}", step=Step.SAW, lot=lot, alternatives=(), count=1)


def a_slot(operation: str, start_min: int) -> Slot:
    return Slot(
        operation=operation,
        station="Saw",
        changes=(),
        setup_start_min=start_min,
        setup_min=0,
        start_min=start_min,
        end_min=start_min + 10,
        minutes=10,
        pieces=((start_min, start_min + 10),),
    )


def test_what_is_bought_is_counted_over_all_lots_and_needed_for_the_first_work_on_it() -> None:
    stock = [
        a_stick(key="rack", count=9, price_cents=100),
        a_stick(key="buy", price_cents=250),
        a_stick(key="unused"),
    ]
    cuts = [
        a_cut_list("L01", "buy", "rack", "buy"),
        a_cut_list("L02", "rack"),
        a_cut_list("L03", "buy"),
    ]
    lots = ("L01", "L02", "L03")
    operations = [an_operation(lot, name) for lot in lots for name in ("P1", "SAW")]
    starts = {"L01.P1": 900, "L01.SAW": 1000, "L02.P1": 420, "L02.SAW": 430}
    starts |= {"L03.P1": DAY + 480, "L03.SAW": 840}
    slots = [a_slot(key, start) for key, start in starts.items()]
    assert buy_list(stock, cuts, operations, slots, MONDAY) == (
        BuyLine(
            stock="buy",
            count=3,
            price_cents=750,
            needed_by=datetime(2026, 11, 30, 14, 0),
            lots=("L01", "L03"),
        ),
    )
