"""What was lost before a week is planned again: its lot stays, and it is made once more."""

from __future__ import annotations

from collections.abc import Sequence
from functools import cache

import pytest

from planner.audit import audit
from planner.errors import InputError, Severity
from planner.options import LotPolicy
from planner.plan import make_plan
from planner.records import CutList, Plan
from planner.replan import replan
from planner.replan.scrap import Scrapped
from planner.scrap import Scrap
from tests.week import a_week_shop, options, some_orders, some_stock

ORDERS = [line.model_copy(update={"quantity": 30}) for line in some_orders(8)]


@cache
def issued() -> Plan:
    return make_plan(
        ORDERS, some_stock(), a_week_shop(), options(seconds=0.2, lots=LotPolicy.BY_DUE_DATE)
    )


def again(*scrap: Scrap, before: Plan | None = None, now: int = 430) -> Plan:
    """The week planned again early on its first morning, and audited."""
    rows = [Scrapped(one, "Progress", f"A{number}") for number, one in enumerate(scrap, 2)]
    plan = replan(
        before or issued(),
        ORDERS,
        some_stock(),
        a_week_shop(),
        options(seconds=0.2, start_min=now),
        scrapped=rows,
    )
    assert audit(plan) == ()
    return plan


def cut_list(plan: Plan, lot: str) -> CutList:
    return next(each for each in plan.cut_lists if each.lot == lot)


LAST = max(issued().slots, key=lambda slot: slot.start_min).operation
"""Work at the end of the week, of a lot of which nothing has begun."""
LOT = next(one for one in issued().operations if one.key == LAST).lot
STICK = cut_list(issued(), LOT).sticks[0]
LINE = STICK.pieces[0].line
ON_STICK = sum(piece.line == LINE for piece in STICK.pieces)


def a_loss(pieces: int = 2, operation: str = f"{LOT}.SAW", line: str = LINE) -> Scrap:
    return Scrap(operation=operation, line=line, pieces=pieces)


STICK_LOST = Scrap(operation=f"{LOT}.P1", line=LINE, stick=STICK.tag, pieces=ON_STICK)


def quantities(plan: Plan, line: str = LINE) -> dict[str, int]:
    return {one.key: one.quantity for one in plan.orders if one.key.startswith(line)}


@pytest.mark.parametrize(
    "lost",
    [a_loss(ON_STICK), a_loss(ON_STICK, operation=LOT), STICK_LOST],
    ids=["saw", "lot", "stick"],
)
def test_a_lot_that_lost_something_stays_though_nothing_says_that_it_has_begun(
    lost: Scrap,
) -> None:
    plan = again(lost)
    assert cut_list(plan, LOT).sticks == cut_list(issued(), LOT).sticks
    assert quantities(plan) == {LINE: 30, f"{LINE}+1": ON_STICK}
    assert plan.scrap == (lost,)


def test_a_lot_that_lost_something_stays_for_as_long_as_the_week_does() -> None:
    first = again(a_loss())
    second = again(before=first, now=440)
    assert cut_list(second, LOT) == cut_list(first, LOT)
    assert quantities(second) == quantities(first)
    assert second.scrap == first.scrap


def test_work_that_lost_something_goes_on_though_its_line_is_cancelled() -> None:
    bend = next(one for one in issued().operations if one.line and one.step == "bend")
    rows = [Scrapped(a_loss(1, bend.key, bend.line or ""))]
    others = [line for line in ORDERS if line.key != bend.line]
    now = options(seconds=0.2, start_min=1)
    plan = replan(issued(), others, some_stock(), a_week_shop(), now, scrapped=rows)
    assert audit(plan) == ()
    assert bend.key in {one.key for one in plan.operations}


def wrong(*scrap: Scrap) -> Sequence[tuple[str | None, str]]:
    with pytest.raises(InputError) as refused:
        again(*scrap)
    findings = refused.value.findings
    assert {one.severity for one in findings} == {Severity.ERROR}
    assert {one.sheet for one in findings} == {"Progress"}
    return [(one.cell, one.message) for one in findings]


def test_no_more_pieces_are_lost_than_there_were() -> None:
    assert again(a_loss(30)).scrap == (a_loss(30),)
    text = (
        f"31 pieces of line {LINE} are said to be lost in all, but it has 30 in the plan that was "
        "issued: correct Pieces."
    )
    assert wrong(a_loss(31)) == [("A2", text)]
    assert wrong(a_loss(29), a_loss(2, LAST)) == [("A3", text)]


def test_a_stick_is_lost_once() -> None:
    other = STICK_LOST.model_copy(update={"operation": f"{LOT}.SAW"})
    text = f"Stick {STICK.tag} is said to be lost at {LOT}.P1 and at {LOT}.SAW: delete one row."
    assert wrong(STICK_LOST, other) == [("A3", text)]
    assert again(other, before=again(STICK_LOST), now=440).scrap == (other,)


def test_a_line_that_the_plan_does_not_have_loses_nothing() -> None:
    ((_, text),) = wrong(a_loss(1, line="9/9"))
    assert "1 pieces of line 9/9 are said to be lost in all, but it has 0" in text


def words(plan: Plan, line: str = LINE) -> list[str]:
    """What is told of the losses of a line."""
    return [
        one.message for one in plan.findings if one.subject == line and "scrapped" in one.message
    ]


def test_each_loss_is_told_with_what_becomes_of_it() -> None:
    at = f"of line {LINE}, scrapped at {LOT}"
    made = f"made once more, as line {LINE}+1, in a lot of its own."
    assert words(again(a_loss(1))) == [f"1 piece {at}.SAW: {made}"]
    assert words(again(a_loss(2))) == [f"2 pieces {at}.SAW: {made}"]
    stick = f"with stick {STICK.tag}"
    assert words(again(STICK_LOST)) == [f"{ON_STICK} pieces {at}.P1 {stick}: {made}"]
    others = [line for line in ORDERS if line.key != LINE]
    now = options(seconds=0.2, start_min=430)
    rows = [Scrapped(a_loss(2))]
    plan = replan(issued(), others, some_stock(), a_week_shop(), now, scrapped=rows)
    assert words(plan) == [f"2 pieces {at}.SAW: not made again, as it is not ordered now."]


def test_what_is_lost_is_told_once_and_what_is_ordered_beyond_it_by_itself() -> None:
    def told(plan: Plan) -> list[str]:
        return [one.message for one in plan.findings if LINE in one.message]

    plan = again(a_loss(1))
    assert told(plan) == words(plan)
    kept = again(a_loss(1), before=plan, now=440)
    assert told(kept) == [f"1 piece of line {LINE}, scrapped at {LOT}.SAW: made once more."]
    more = [
        line.model_copy(update={"quantity": 31}) if line.key == LINE else line for line in ORDERS
    ]
    now = options(seconds=0.2, start_min=430)
    both = replan(issued(), more, some_stock(), a_week_shop(), now, scrapped=[Scrapped(a_loss(1))])
    lost, raised = told(both)
    assert lost == f"1 piece of line {LINE}, scrapped at {LOT}.SAW: made once more."
    assert f"what is still needed, 2 pieces, is line {LINE}+1" in raised


FIRST = next(one.key for one in issued().operations if one.lot == LOT)
RENAMED = Scrap(operation=LOT, line=LINE, pieces=2, told_at=FIRST)
"""It was said of a pass that has another number since."""


def test_a_row_that_was_kept_though_its_pass_has_another_number_counts_once() -> None:
    before = again(RENAMED)
    plan = again(a_loss(2, FIRST), before=before, now=440)
    assert plan.scrap == (RENAMED,)
    (message,) = (one.message for one in plan.findings if "scrapped at" in one.message)
    assert f"The row says so of {FIRST}, which was another pass when that was told" in message
    assert f"write in a row of lot {LOT}" in message
    more = again(a_loss(2, FIRST), a_loss(3, LOT), before=before, now=440)
    assert sum(one.pieces for one in more.scrap) == 5
    back = again(a_loss(0, FIRST), before=before, now=440)
    assert back.scrap == ()


def test_what_two_passes_with_other_numbers_lost_is_lost_twice() -> None:
    other = RENAMED.model_copy(update={"told_at": f"{LOT}.SAW", "pieces": 1})
    assert again(RENAMED, other).scrap == (RENAMED, other)
