"""Sticks that issued lots take, among the stock as it is listed now."""

from __future__ import annotations

from collections.abc import Sequence

import pytest

from planner.replan.rack import TakenStock
from planner.stock import StockItem
from tests.trade import a_cut_list, a_spec, a_stick


def taken(rack: TakenStock, *stock: str) -> list[str] | None:
    """What a lot that has not begun takes in place of sticks of these items."""
    cut_list = rack.keep(a_cut_list("L01", *stock))
    return None if cut_list is None else [stick.stock for stick in cut_list.sticks]


TWO = a_stick(key="rack", count=2)


def test_lots_take_what_is_there_one_after_the_other() -> None:
    rack = TakenStock([TWO], [TWO])
    assert taken(rack, "rack") == ["rack"]
    assert taken(rack, "rack", "rack") is None
    assert taken(rack, "rack") == ["rack"]
    assert taken(rack, "rack") is None


def test_a_lot_may_take_all_that_is_there() -> None:
    assert taken(TakenStock([TWO], [TWO]), "rack", "rack") == ["rack", "rack"]


def test_sticks_to_buy_never_run_out() -> None:
    endless = a_stick(key="buy")
    assert taken(TakenStock([endless], [endless]), *["buy"] * 9) == ["buy"] * 9


@pytest.mark.parametrize(
    "changes",
    [
        {"spec": a_spec("2")},
        {"length_nm": TWO.length_nm + 1},
        {"finished": "satin"},
        {"remnant": True},
        {"count": None},
    ],
)
def test_another_stick_of_the_same_name_is_not_the_same(changes: dict[str, object]) -> None:
    other = TWO.model_copy(update=changes)
    assert taken(TakenStock([TWO], [other]), "rack") is None
    moved = TWO.model_copy(update={"key": "rack B"})
    assert taken(TakenStock([TWO], [other, moved]), "rack") == ["rack B"]


def test_a_stick_keeps_its_name_where_two_rows_are_alike() -> None:
    first = TWO.model_copy(update={"key": "rack A"})
    assert taken(TakenStock([TWO], [first, TWO]), "rack") == ["rack"]


def test_all_sticks_of_a_lot_must_be_there() -> None:
    gone = a_stick(key="gone", length="24'", count=2)
    assert taken(TakenStock([TWO, gone], [TWO]), "rack", "gone") is None


def insisted(before: Sequence[StockItem], now: Sequence[StockItem], *stock: str) -> TakenStock:
    rack = TakenStock(before, now)
    rack.insist(a_cut_list("L01", *stock))
    return rack


def test_what_a_lot_that_has_begun_took_is_not_there_for_others() -> None:
    rack = insisted([TWO], [TWO], "rack")
    assert rack.findings == []
    assert taken(rack, "rack", "rack") is None
    assert taken(rack, "rack") == ["rack"]


def test_sticks_that_are_not_listed_any_more_come_back_under_a_name_that_is_free() -> None:
    other = TWO.model_copy(update={"spec": a_spec("2")})
    rack = insisted([TWO], [other], "rack")
    assert rack.stock["rack"] == other
    assert rack.stock["rack (issued)"] == TWO.model_copy(
        update={"key": "rack (issued)", "count": 1}
    )
    assert "Stock rack (issued) lists 0, but lots that have begun take 1" in told(rack)
    many = [other.model_copy(update={"key": f"rack{' (issued)' * n}"}) for n in range(4)]
    assert f"rack{' (issued)' * 4}" in insisted([TWO], many, "rack").stock


def told(rack: TakenStock) -> str:
    return " ".join(finding.message for finding in rack.findings)


def test_a_lot_that_has_begun_took_its_sticks_whatever_the_list_says() -> None:
    rack = insisted([TWO], [TWO], "rack", "rack")
    assert rack.findings == []
    rack = insisted([TWO], [TWO], "rack", "rack", "rack")
    assert rack.stock["rack"].count == 3
    assert "Stock rack lists 2, but lots that have begun take 3: counted as 3" in told(rack)
    assert rack.findings[0].sheet == "Stock"


def test_sticks_to_buy_that_are_not_listed_any_more_can_be_bought_again() -> None:
    endless = a_stick(key="buy")
    rack = insisted([endless], [], "buy", "buy")
    assert rack.stock["buy"] == endless
    assert rack.findings == []
