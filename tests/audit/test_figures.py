"""Invariant 6 catches costs, floors, ledgers and buy lists that are not the plan's."""

from __future__ import annotations

from datetime import datetime, timedelta

import pytest

from planner.records import BuyLine, Floor, FloorKind, Plan
from planner.shop import What
from planner.stop import Status
from planner.yardsticks import Yardstick
from tests.audit.edits import Change, breaches, edited, lot_of, with_stock
from tests.audit.weeks import a_plan

LOT = lot_of("1187/1")


def found(plan: Plan) -> str:
    return breaches(plan, 6)


def _later(line: BuyLine) -> datetime:
    return line.needed_by + timedelta(days=3)


def _twice(line: BuyLine) -> tuple[str, ...]:
    return line.lots * 2


def with_cut_list(**changes: Change) -> Plan:
    return edited(a_plan(), "cut_lists", lambda one: one.lot == LOT, **changes)


def with_first(part: str, **changes: Change) -> Plan:
    first = getattr(a_plan(), part)[0]
    return edited(a_plan(), part, lambda one: one is first, **changes)


def test_what_the_plan_comes_to_holds() -> None:
    assert found(a_plan()) == ""


def test_a_cost_that_is_not_what_its_sticks_cost() -> None:
    plan = with_cut_list(cost_cents=lambda one: one.cost_cents - 1)
    assert f"{LOT}: its cut list costs" in found(plan)


def test_a_price_that_is_not_in_the_cost() -> None:
    assert f"{LOT}: its cut list costs" in found(with_stock("buy", price_cents=1))


def test_a_floor_above_the_cost() -> None:
    plan = with_cut_list(floor_cents=lambda one: one.cost_cents + 7)
    assert f"{LOT}: its floor lies 7 cents above its cost" in found(plan)


def test_a_proof_that_is_none() -> None:
    plan = with_cut_list(status=Status.PROVEN, floor_cents=lambda one: one.cost_cents - 1)
    assert f"{LOT}: says that it is proven, and lies above its floor" in found(plan)


def test_a_plan_that_says_there_is_none() -> None:
    assert "says that it has no plan, and has one" in found(with_cut_list(status=Status.NO_PLAN))


def test_a_ledger_with_other_minutes() -> None:
    row = a_plan().ledger[0]
    said, right = (
        f"{minutes} minutes ({row.count} ×)" for minutes in (row.minutes + 1, row.minutes)
    )
    text = found(with_first("ledger", minutes=row.minutes + 1))
    assert f"the ledger for {row.what.value} on {row.day} says {said}, {right} is right" in text


def test_a_ledger_with_a_row_left_out() -> None:
    plan = a_plan().model_copy(update={"ledger": a_plan().ledger[1:]})
    assert "says nothing" in found(plan)


def test_a_ledger_with_a_row_on_another_day() -> None:
    day = a_plan().options.start + timedelta(days=20)
    assert f"on {day} says" in found(with_first("ledger", day=day))


@pytest.mark.parametrize(
    ("field", "value"),
    [
        ("name", "another plan"),
        ("changeover_min", 1),
        ("late_lines", 0),
        ("late_min", 0),
        ("weighted_late_min", 0),
    ],
)
def test_a_yardstick_with_other_figures(field: str, value: object) -> None:
    plan = with_first("yardsticks", **{field: value})
    assert f"its yardstick says {field} {value}" in found(plan)


def test_a_yardstick_that_leaves_a_kind_of_change_out() -> None:
    assert "says 0 minutes of OD" in found(with_first("yardsticks", by_what={}))


def test_a_plan_without_its_yardstick() -> None:
    assert "has no yardstick" in found(a_plan().model_copy(update={"yardsticks": ()}))


@pytest.mark.parametrize("kind", FloorKind)
def test_a_value_beside_a_floor_that_is_not_so(kind: FloorKind) -> None:
    plan = edited(a_plan(), "floors", lambda floor: floor.kind == kind, value=7777)
    assert f"{kind.value}: is said to be 7777 in this plan" in found(plan)


@pytest.mark.parametrize("kind", FloorKind)
def test_a_floor_that_the_plan_lies_below(kind: FloorKind) -> None:
    plan = edited(
        a_plan(), "floors", lambda floor: floor.kind == kind, floor=lambda floor: floor.value + 3
    )
    assert f"{kind.value}: its floor lies 3 above what the plan has" in found(plan)


def test_a_floor_that_is_there_twice_or_not_at_all() -> None:
    floors = a_plan().floors
    for wrong in (floors[1:], (*floors, floors[0])):
        assert "one of each is right" in found(a_plan().model_copy(update={"floors": wrong}))
    assert "floors: are of nothing" in found(a_plan().model_copy(update={"floors": ()}))


def test_a_floor_of_material_that_is_not_that_of_the_cut_lists() -> None:
    plan = edited(
        a_plan(),
        "floors",
        lambda floor: floor.kind is FloorKind.MATERIAL,
        floor=lambda floor: floor.floor - 1,
    )
    assert "those of the cut lists add up to" in found(plan)


@pytest.mark.parametrize(("lines", "minutes"), [(0, 9), (2, 0), (2, 1), (99, 999)])
def test_another_yardstick_whose_lateness_cannot_be(lines: int, minutes: int) -> None:
    plan = edited(
        a_plan(), "yardsticks", lambda one: one.name == "by OD", late_lines=lines, late_min=minutes
    )
    assert "by OD: " in found(plan)


def test_a_run_order_that_says_proven_above_its_floor() -> None:
    plan = a_plan().model_copy(update={"status": Status.PROVEN})
    assert "run order: says that it is proven" in found(plan)


@pytest.mark.parametrize(
    ("changes", "words"),
    [
        ({"count": 1}, "1 sticks are to be bought"),
        ({"price_cents": 5}, "the buy list says 5"),
        ({"lots": ()}, "is bought for other lots"),
        ({"lots": _twice}, "is bought for other lots"),
        ({"needed_by": _later}, "is needed by"),
    ],
)
def test_a_buy_line_that_is_not_so(changes: dict[str, Change], words: str) -> None:
    assert words in found(with_first("buy", **changes))


def test_a_buy_list_that_forgets_sticks() -> None:
    plan = a_plan().model_copy(update={"buy": ()})
    assert "buy: is in the buy list 0 times" in found(plan)


def test_a_yardstick_that_does_not_add_up() -> None:
    plan = edited(
        a_plan(), "yardsticks", lambda one: one.name == "by OD", changeover_min=lambda _: 1
    )
    assert "by OD: its changeover minutes do not add up" in found(plan)


@pytest.mark.parametrize("weight", [0, 4])
def test_another_yardstick_whose_lateness_weighs_too_little_or_too_much(weight: int) -> None:
    def weighed(one: Yardstick) -> int:
        return weight * one.late_min

    plan = edited(
        a_plan(), "yardsticks", lambda one: one.name == "by OD", weighted_late_min=weighed
    )
    assert "by OD: 50 minutes late cannot weigh" in found(plan)


def test_the_kinds_of_change_in_this_week_are_many() -> None:
    assert len(a_plan().yardsticks[0].by_what) >= 6
    assert What.ATTACHMENT in a_plan().yardsticks[0].by_what


def test_a_cut_list_that_is_proven_and_does_not_say_so() -> None:
    for status in (Status.GAP, Status.LIMIT):
        plan = with_cut_list(status=status, floor_cents=lambda one: one.cost_cents)
        assert f"{LOT}: says {status.value}, and is proven" in found(plan)


def test_a_run_order_that_is_proven_and_does_not_say_so() -> None:
    words = "run order: says gap, and is proven"
    met = edited(a_plan(), "floors", lambda _: True, floor=lambda floor: floor.value)
    assert words in found(met)
    assert words not in found(a_plan())


@pytest.mark.parametrize("kind", [FloorKind.LATENESS, FloorKind.CHANGEOVER])
def test_a_run_order_is_proven_by_both_of_its_floors(kind: FloorKind) -> None:
    def floor(one: Floor) -> int:
        return one.value - (one.kind is kind)

    plan = edited(a_plan(), "floors", lambda _: True, floor=floor)
    assert "run order" not in found(plan)
    proven = plan.model_copy(update={"status": Status.PROVEN})
    assert "run order: says that it is proven, and lies above its floor" in found(proven)


def test_another_yardstick_that_is_less_late_than_any_order_can_be() -> None:
    (least,) = {one.weighted_late_min for one in a_plan().yardsticks[1:]}
    words = f"its lateness, {least}, lies below the floor of any order"
    for floor, right in ((least, True), (least + 1, False)):
        plan = edited(a_plan(), "floors", lambda one: one.kind is FloorKind.LATENESS, floor=floor)
        assert (f"by OD: {words}" not in found(plan)) == right


def test_another_yardstick_with_less_than_nothing() -> None:
    def less(one: Yardstick) -> dict[What, int]:
        return {**one.by_what, What.ROLLER: -5, What.OD: one.by_what[What.OD] + 5}

    plan = edited(a_plan(), "yardsticks", lambda one: one.name == "by OD", by_what=less)
    assert "by OD: its changeover minutes do not add up" in found(plan)
    plan = edited(a_plan(), "yardsticks", lambda one: one.name == "by OD", late_lines=-1)
    assert "by OD: -1 lines cannot be" in found(plan)
