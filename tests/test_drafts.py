"""What a draft of the week costs, all in money."""

from __future__ import annotations

from planner import schedule
from planner.cutting import Cut
from planner.drafts import UNDONE_CENTS, Draft, cost_cents
from planner.records import CutList, Lot
from planner.schedule import Term
from planner.shop import House
from planner.stop import Status
from tests.trade import a_line, a_spec
from tests.week import a_desk, a_week_shop

DESK = a_desk(
    [a_line(line=str(number)) for number in (1, 2, 3)],
    shop=a_week_shop(house=House(minute_cents=150, late_cents_h=1_200)),
)


def a_cut_list(lot: str, cents: int) -> CutList:
    return CutList(
        lot=lot,
        sticks=(),
        kerf_nm=0,
        stick_trim_nm=0,
        end_trim_nm=0,
        cost_cents=cents,
        floor_cents=0,
        status=Status.PROVEN,
    )


def cost(lines: int = 3, **minutes: int) -> float:
    """Cost of a lot of so many of the three lines with sticks for 7,000 and 500 cents."""
    keys = tuple(DESK.orders)[:lines]
    lot = Lot(key="L01", spec=a_spec(), recipe=None, saw_first=False, lines=keys, due_min=0)
    cut = Cut((a_cut_list("L01", 7_000), a_cut_list("L02", 500)), ())
    terms = dict.fromkeys(Term, 0) | {Term[name]: value for name, value in minutes.items()}
    problem = schedule.Problem((), (), horizon_min=1)
    return cost_cents(DESK, Draft((lot,), cut, (), problem), schedule.Figures(terms, ()))


def test_sticks_minutes_and_lateness_add_up_in_cents() -> None:
    assert cost() == 7_500
    # 150 cents a minute, whether of changeover, overtime or moves of what was issued.
    assert cost(CHANGEOVER=10, OVERTIME=4, DISTURBANCE=2) == 7_500 + 16 * 150
    # 1,200 cents an hour late are 20 a minute.
    assert cost(LATENESS=90) == 7_500 + 90 * 20


def test_a_line_that_is_not_cut_and_a_hold_that_is_missed_outweigh_all_money() -> None:
    assert cost(lines=1) == 7_500 + 2 * UNDONE_CENTS
    assert cost(VIOLATION=3) == 7_500 + 3 * UNDONE_CENTS
    assert cost(VIOLATION=1) > cost(CHANGEOVER=10_000, LATENESS=1_000_000)
