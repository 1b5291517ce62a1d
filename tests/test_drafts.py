"""What a draft of the week has in it, and what it costs, all in money."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

import pytest

from planner import cutlist, schedule
from planner.cutting import Cut
from planner.drafts import UNDONE_CENTS, Desk, Draft, cost_cents, draft
from planner.errors import NoPlanError
from planner.records import CutList, Lot
from planner.schedule import Term
from planner.shop import House
from planner.standing import Standing
from planner.stop import Status
from tests.trade import a_line, a_spec, a_stick
from tests.week import DAY, a_desk, a_week_shop

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


def cost(lines: int = 3, desk: Desk = DESK, **minutes: int) -> float:
    """Cost of a lot of so many of the three lines with sticks for 7,000 and 500 cents."""
    keys = tuple(DESK.orders)[:lines]
    lot = Lot(key="L01", spec=a_spec(), recipe=None, saw_first=False, lines=keys, due_min=0)
    cut = Cut((a_cut_list("L01", 7_000), a_cut_list("L02", 500)), ())
    terms = dict.fromkeys(Term, 0) | {Term[name]: value for name, value in minutes.items()}
    problem = schedule.Problem((), (), horizon_min=1)
    return cost_cents(desk, Draft((lot,), cut, (), problem), schedule.Figures(terms, ()))


def test_sticks_minutes_and_lateness_add_up_in_cents() -> None:
    assert cost() == 7_500
    # 150 cents a minute, whether of changeover, overtime or moves of what was issued.
    assert cost(CHANGEOVER=10, OVERTIME=4, DISTURBANCE=2) == 7_500 + 16 * 150
    # 1,200 cents an hour late are 20 a minute.
    assert cost(LATENESS=90) == 7_500 + 90 * 20


def test_time_to_spare_counts_as_the_shop_weighs_it_against_changeovers() -> None:
    # 20 minutes of changeover for a line that ends just when it is due: 30 for one and a half.
    spared = DESK.shop.house.model_copy(update={"spare_worth_min": 20})
    desk = replace(DESK, shop=DESK.shop.model_copy(update={"house": spared}))
    assert cost(TIGHTNESS=150) == 7_500
    assert cost(desk=desk, TIGHTNESS=150) == 7_500 + 30 * 150


def test_a_line_that_is_not_cut_and_a_hold_that_is_missed_outweigh_all_money() -> None:
    assert cost(lines=1) == 7_500 + 2 * UNDONE_CENTS
    assert cost(VIOLATION=3) == 7_500 + 3 * UNDONE_CENTS
    assert cost(VIOLATION=1) > cost(CHANGEOVER=10_000, LATENESS=1_000_000)


def quickly(problems: Sequence[cutlist.Problem]) -> list[cutlist.Result]:
    return [cutlist.solve(problem, seed=1, work=0.2) for problem in problems]


def short_of_thin_tube() -> Desk:
    """Two lines of one spec with a stick of 20 ft for them both, and one of another with plenty:
    a stick gives four pieces of 48 in with their kerfs, too few for the six of line 1."""
    lines = [a_line(line="1", quantity=6), a_line(line="2"), a_line(line="3", spec=a_spec("2"))]
    stock = [a_stick(key="thin", count=1), a_stick(a_spec("2"), key="thick")]
    return a_desk(lines, stock)


def test_a_lot_that_cannot_be_cut_is_left_out_with_its_work() -> None:
    made = draft(short_of_thin_tube(), (("1187/1",), ("1187/2",), ("1187/3",)), quickly)
    assert [uncut.lot.lines for uncut in made.cut.uncut] == [("1187/1",)]
    assert [lot.lines for lot in made.lots] == [("1187/2",), ("1187/3",)]
    assert {operation.lot for operation in made.operations} == {lot.key for lot in made.lots}
    assert {one.key for one in made.problem.jobs} == {"1187/2", "1187/3"}


def test_where_nothing_can_be_cut_there_is_no_draft_and_the_line_is_named() -> None:
    with pytest.raises(NoPlanError) as refused:
        draft(short_of_thin_tube(), (("1187/1",),), quickly)
    (finding,) = refused.value.findings
    assert finding.subject == "1187/1"


def test_what_stays_of_an_issued_plan_goes_before_what_is_new_and_is_not_cut_again() -> None:
    desk = short_of_thin_tube()
    issued = draft(desk, (("1187/2",),), quickly)
    stays = Standing(
        lots=issued.lots,
        cut_lists=issued.cut.cut_lists,
        operations=issued.operations,
        first_lot=7,
    )
    third_day = desk.options.model_copy(update={"start_min": 2 * DAY + 600})
    again = replace(desk, standing=stays, options=third_day)
    assert [line.key for line in again.free] == ["1187/1", "1187/3"]
    made = draft(again, (("1187/3",),), quickly)
    assert [(lot.key, lot.ordered_day) for lot in made.lots] == [("L01", 0), ("L07", 2)]
    assert [one.lot for one in made.cut.cut_lists] == ["L01", "L07"]
    assert made.operations[: len(issued.operations)] == issued.operations
    only_stays = draft(again, (), quickly)
    assert only_stays.lots == issued.lots
    nothing_new_is_cut = draft(again, (("1187/1",),), quickly)
    assert nothing_new_is_cut.lots == issued.lots


def test_the_shelf_has_what_the_new_cut_lists_leave() -> None:
    desk = short_of_thin_tube()
    issued = draft(desk, (("1187/2",),), quickly)
    assert desk.shelf(issued.cut).left.left == {"thin": 0}
    stays = Standing(lots=issued.lots, cut_lists=issued.cut.cut_lists)
    off_the_rack = desk.rack.without(issued.cut.cut_lists[0].sticks)
    again = replace(desk, standing=stays, rack=off_the_rack)
    assert again.shelf(issued.cut).left.left == {"thin": 0}
