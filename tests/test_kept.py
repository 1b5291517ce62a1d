"""What became of order lines and lots of a week that was issued."""

from __future__ import annotations

from datetime import datetime, timedelta

from planner.orders import CutLength, OrderLine
from planner.replan.kept import Kept, keep_lots
from planner.replan.lines import Lines, begun_of, making, sort_lines
from planner.replan.rack import Rack
from planner.stop import Status
from tests.test_happened import a_shop, issued
from tests.week import some_orders, some_stock

FAR = datetime(2026, 12, 6, 23, 59)


def sorted_lines(orders: list[OrderLine]) -> Lines:
    """The lines now, when every lot has begun."""
    stays = {lot.key for lot in issued().lots}
    return sort_lines(issued(), orders, begun_of(issued(), stays, (), FAR))


def kept(price_cents: int) -> Kept:
    """The lots that stay when sticks cost so many cents more, and no lot has begun."""
    stock = [
        item.model_copy(update={"price_cents": item.price_cents + price_cents})
        for item in some_stock()
    ]
    lines = sort_lines(issued(), some_orders(10), begun_of(issued(), (), (), FAR))
    return keep_lots(issued(), lines, (), stock, a_shop())


def test_lines_that_are_as_they_were_have_nothing_to_say() -> None:
    lines = sorted_lines(some_orders(10))
    assert lines.findings == ()
    assert lines.same == {line.key for line in issued().orders}
    assert [line.key for line in lines.orders] == [line.key for line in some_orders(10)]


def test_a_cancelled_line_of_a_lot_that_has_begun_waits_for_nobody() -> None:
    first, *rest = some_orders(10)
    first_now = next(one for one in sorted_lines(rest).orders if one.key == first.key)
    blank = next(one for one in issued().blanks if one.line == first.key)
    assert (first_now.due, first_now.weight) == (FAR, 1)
    assert first_now.shape == CutLength(length_nm=blank.length_nm)
    late = [line.model_copy(update={"due": FAR + timedelta(days=1)}) for line in issued().orders]
    plan = issued().model_copy(update={"orders": tuple(late)})
    stays = {lot.key for lot in plan.lots}
    found = sort_lines(plan, rest, begun_of(plan, stays, (), FAR)).orders
    assert next(one for one in found if one.key == first.key).due == FAR + timedelta(days=1)


def test_a_cut_list_at_other_prices_claims_no_proof() -> None:
    before = {one.lot: one for one in issued().cut_lists}
    for one in kept(0).cut_lists:
        assert one == before[one.lot]
    for one in kept(100).cut_lists:
        old = before[one.lot]
        assert one.sticks == old.sticks
        assert (one.floor_cents, one.status) == (0, Status.GAP)
        assert 0 < one.cost_cents - old.cost_cents <= 100 * len(one.sticks)


def after_taking(count: int | None) -> Rack:
    """The rack after a lot that has begun took three sticks of one item, which the list has
    `count` of now, or no row for."""
    rows = [
        item.model_copy(update={"count": count}) if item.key == "rack-0" else item
        for item in issued().stock
        if item.key != "rack-0" or count is not None
    ]
    cut_list = next(
        one for one in issued().cut_lists if any(s.stock == "rack-0" for s in one.sticks)
    )
    three = tuple(stick for stick in cut_list.sticks if stick.stock == "rack-0")
    assert len(three) == 3
    rack = Rack(issued().stock, rows)
    rack.insist(cut_list.model_copy(update={"sticks": three}))
    return rack


def test_a_stock_list_that_holds_what_was_taken_is_not_doubted() -> None:
    assert after_taking(3).findings == []
    assert after_taking(4).findings == []


def test_sticks_that_lots_took_were_there_whatever_the_list_says() -> None:
    for count in (2, 0, None):
        rack = after_taking(count)
        (found,) = rack.findings
        assert f"lists {count or 0}, but lots that have begun take 3" in found.message
        assert rack.stock["rack-0"].count == 3


def test_a_line_whose_mitres_are_turned_otherwise_is_another_part() -> None:
    line = issued().orders[0]
    turned = line.model_copy(update={"twist_mdeg": 180_000})
    assert making(turned) != making(line) == making(line.model_copy(update={"notes": "soon"}))
