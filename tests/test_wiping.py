"""Oil and the saw's fluid come off before the first pass, in the seconds that the shop sets."""

from __future__ import annotations

import json
from typing import Any

import pytest

from planner.audit import audit
from planner.orders import OrderLine, Step
from planner.plan import Plan, make_plan
from planner.shop import Shop, StationKind
from planner.stock import StockItem
from tests.checks.stranger import Stranger
from tests.trade import a_line, a_stick
from tests.week import a_week_shop, options


def a_shop(**settings: int) -> Shop:
    """The shop of the tests with these seconds at its finishers."""
    shop = a_week_shop()
    stations = tuple(
        one.model_copy(update={"finisher": one.finisher.model_copy(update=settings)})
        if one.kind is StationKind.FINISHER
        else one
        for one in shop.stations
    )
    return shop.model_copy(update={"stations": stations})


def a_plan(line: OrderLine, stick: StockItem, **settings: int) -> Plan:
    return make_plan([line], [stick], a_shop(**settings), options(seconds=0.5))


def minutes(plan: Plan) -> list[int]:
    """Of the passes, in order."""
    return [
        operation.alternatives[0].minutes
        for operation in plan.operations
        if operation.step is Step.FINISH
    ]


def faults(plan: Plan) -> list[str]:
    """What a reader of plan.json finds wrong who works it out from its document alone."""
    return list(Stranger(json.loads(plan.model_dump_json())).faults())


MANY = 60
"""Pieces of half a stick: enough sticks for whole minutes to show."""


@pytest.mark.parametrize(
    ("line", "stick"), [({"oiled": True}, {}), ({}, {"oiled": True})], ids=["order", "stock"]
)
def test_oil_comes_off_each_stick_before_its_first_pass(
    line: dict[str, Any], stick: dict[str, Any]
) -> None:
    order, item = a_line(quantity=MANY, **line), a_stick(**stick)
    without, wiped = a_plan(order, item), a_plan(order, item, wipe_s=60, wipe_piece_s=7)
    sticks = len(wiped.cut_lists[0].sticks)
    assert sticks > 5
    first, *rest = zip(minutes(without), minutes(wiped), strict=True)
    assert first[1] - first[0] == sticks
    assert all(before == after for before, after in rest)
    assert audit(wiped) == ()
    assert faults(wiped) == []
    (remark,) = (words for card in wiped.cards for words in card.remarks if "wipe each" in words)
    assert remark == "L01: wipe each stick free of oil before it is laid in; 60 s each are planned."
    assert not any("wipe each" in words for card in without.cards for words in card.remarks)


def test_pieces_that_are_sawn_first_are_wiped_one_by_one() -> None:
    route = (Step.SAW, Step.FINISH, Step.NOTCH, Step.BEND)
    order, item = a_line(quantity=MANY, route=route), a_stick()
    without, wiped = a_plan(order, item), a_plan(order, item, wipe_piece_s=10, wipe_s=99)
    assert minutes(wiped)[0] - minutes(without)[0] in {MANY // 6, MANY // 6 + 1}
    assert audit(wiped) == ()
    assert faults(wiped) == []
    assert any("wipe each piece dry" in words for card in wiped.cards for words in card.remarks)


def test_dry_tube_is_not_wiped() -> None:
    order, item = a_line(quantity=MANY), a_stick()
    assert minutes(a_plan(order, item)) == minutes(a_plan(order, item, wipe_s=60))


def test_a_first_pass_without_its_wiping_fails_the_audit() -> None:
    plan = a_plan(a_line(quantity=MANY, oiled=True), a_stick(), wipe_s=60)
    dry = [one.model_copy(update={"oiled": False}) for one in plan.orders]
    breaches = audit(plan.model_copy(update={"orders": tuple(dry)}))
    assert any("the model gives" in str(breach) for breach in breaches)
