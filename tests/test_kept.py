"""What became of order lines and lots of a week that was issued."""

from __future__ import annotations

from collections.abc import Collection
from datetime import datetime, timedelta

import pytest

from planner.errors import InputError
from planner.hours import due_minute
from planner.orders import Bent, CutLength, OrderLine
from planner.records import Stick
from planner.replan.kept import Kept, keep_lots
from planner.replan.lines import Lines, begun_of, making, sort_lines
from planner.replan.rack import TakenStock
from planner.shop import Shop, StationKind
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


def test_a_cut_list_that_costs_nothing_now_is_proven() -> None:
    free = a_shop().house.model_copy(update={"minute_cents": 0})
    stock = [item.model_copy(update={"price_cents": 0}) for item in some_stock()]
    lines = sort_lines(issued(), some_orders(10), begun_of(issued(), (), (), FAR))
    shop = a_shop().model_copy(update={"house": free})
    for one in keep_lots(issued(), lines, (), stock, shop).cut_lists:
        assert (one.cost_cents, one.floor_cents, one.status) == (0, 0, Status.PROVEN)


def after_taking(count: int | None) -> TakenStock:
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
    rack = TakenStock(issued().stock, rows)
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


def kept_of(shop: Shop, orders: list[OrderLine], stays: Collection[str] = ()) -> Kept:
    """The lots that stay in another shop, or with other lines."""
    lines = sort_lines(issued(), orders, begun_of(issued(), stays, (), FAR))
    return keep_lots(issued(), lines, stays, list(issued().stock), shop)


def with_saw(**changes: int) -> Shop:
    shop = a_shop()
    stations = tuple(
        one.model_copy(update={"saw": one.saw.model_copy(update=changes)})
        if one.kind is StationKind.SAW
        else one
        for one in shop.stations
    )
    return shop.model_copy(update={"stations": stations})


@pytest.mark.parametrize("what", ["kerf_nm", "stick_trim_nm", "end_trim_nm"])
def test_a_saw_that_cuts_otherwise_forms_lots_anew(what: str) -> None:
    (saw,) = a_shop().of_kind(StationKind.SAW)
    shop = with_saw(**{what: getattr(saw.saw, what) + 1})
    found = kept_of(shop, some_orders(10))
    assert found.lots == ()
    assert {one.subject for one in found.findings} == {lot.key for lot in issued().lots}
    assert all("kerf or trims are others now" in one.message for one in found.findings)
    first = issued().lots[0].key
    with pytest.raises(InputError, match=f"Lot {first} has begun or must stay, but the saw"):
        kept_of(shop, some_orders(10), [first])


def test_a_bender_that_takes_a_longer_grip_forms_the_lots_of_bent_lines_anew() -> None:
    shop = a_shop()
    stations = tuple(
        one.model_copy(update={"bender": one.bender.model_copy(update={"grip_nm": 200_000_000})})
        for one in shop.stations
    )
    bent = {line.key for line in some_orders(10) if isinstance(line.shape, Bent)}
    lots = {lot.key for lot in issued().lots if bent & set(lot.lines)}
    found = kept_of(shop.model_copy(update={"stations": stations}), some_orders(10))
    assert lots
    assert {one.subject for one in found.findings} == lots
    assert all("is now cut to another length" in one.message for one in found.findings)
    assert {lot.key for lot in found.lots} == {lot.key for lot in issued().lots} - lots


def test_a_lot_that_would_go_another_way_through_the_shop_is_formed_anew() -> None:
    first, *rest = issued().lots
    other = first.model_copy(update={"saw_first": not first.saw_first})
    plan = issued().model_copy(update={"lots": (other, *rest)})
    lines = sort_lines(plan, some_orders(10), begun_of(plan, (), (), FAR))
    found = keep_lots(plan, lines, (), list(plan.stock), a_shop())
    assert [lot.key for lot in found.lots] == [lot.key for lot in rest]
    (one,) = found.findings
    assert "goes another way through the shop" in one.message


def test_a_lot_stays_only_where_all_of_its_lines_are_as_they_were() -> None:
    lot = next(lot for lot in issued().lots if len(lot.lines) > 1)
    orders = [
        line.model_copy(update={"quantity": line.quantity + 1})
        if line.key == lot.lines[-1]
        else line
        for line in some_orders(10)
    ]
    found = kept_of(a_shop(), orders)
    assert [one.key for one in found.lots] == [
        one.key for one in issued().lots if one.key != lot.key
    ]


def test_a_lot_is_due_with_the_first_of_its_lines() -> None:
    lot = next(lot for lot in issued().lots if len(lot.lines) > 1)
    later = [
        line.model_copy(update={"due": FAR}) if line.key == lot.lines[0] else line
        for line in some_orders(10)
    ]
    found = next(one for one in kept_of(a_shop(), later).lots if one.key == lot.key)
    due = {line.key: due_minute(line.due, issued().options.start) for line in later}
    assert found.due_min == min(due[key] for key in lot.lines) < due[lot.lines[0]]


def test_lots_that_stay_come_first_at_the_rack() -> None:
    """Two lots take sticks of one item, of which there are enough for either of them alone."""
    first, *_, last = issued().cut_lists
    cut_lists = [
        one.model_copy(update={"sticks": tuple(of_rack(stick) for stick in one.sticks)})
        for one in (first, last)
    ]
    lots = tuple(lot for lot in issued().lots if lot.key in (first.lot, last.lot))
    plan = issued().model_copy(update={"cut_lists": tuple(cut_lists), "lots": lots})
    enough = max(len(first.sticks), len(last.sticks))
    stock = [
        item.model_copy(update={"count": enough}) if item.key == "rack-0" else item
        for item in issued().stock
    ]
    lines = sort_lines(plan, some_orders(10), begun_of(plan, [last.lot], (), FAR))
    found = keep_lots(plan, lines, [last.lot], stock, a_shop())
    assert [lot.key for lot in found.lots] == [last.lot]
    (one,) = found.findings
    assert (one.subject, "not on the rack any more" in one.message) == (first.lot, True)


def of_rack(stick: Stick) -> Stick:
    return stick.model_copy(update={"stock": "rack-0"})


def test_what_the_rack_has_to_say_is_told() -> None:
    lot = next(
        one for one in issued().cut_lists if any(s.stock.startswith("rack") for s in one.sticks)
    )
    stock = [
        item.model_copy(update={"count": 0}) if item.count is not None else item
        for item in issued().stock
    ]
    lines = sort_lines(issued(), some_orders(10), begun_of(issued(), [lot.lot], (), FAR))
    found = keep_lots(issued(), lines, [lot.lot], stock, a_shop())
    assert any("lots that have begun take" in one.message for one in found.findings)
