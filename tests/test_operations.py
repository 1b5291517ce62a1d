"""Operations: what is done to a lot, in which order, and what must be mounted."""

import itertools

import pytest

from planner.cutlist import Problem, Result, solve
from planner.cutting import cut_lots
from planner.errors import InputError
from planner.lots import make_lots, windowed
from planner.operations import Given, make_operations
from planner.orders import EndCut, OrderLine, Step
from planner.records import Operation
from planner.shop import Shop, What
from planner.wiping import oiled_items
from tests.trade import a_line, a_saddle, bent, cut, inch
from tests.week import a_desk, a_week_shop


def quickly(problems: list[Problem]) -> list[Result]:
    return [solve(problem, seed=1, work=0.2) for problem in problems]


def operations_of(*lines: OrderLine, shop: Shop | None = None) -> dict[str, Operation]:
    """Operations by key; `shop` is the shop once the blanks are made, if it changed by then."""
    desk = a_desk(lines)
    groups = windowed(desk.free, desk.blanks, desk.due_min, None)
    lots = make_lots(groups, desk.orders, desk.blanks, desk.due_min)
    cut_lists = cut_lots(
        desk.shop, lots, desk.blanks, desk.rack, lambda problems: quickly(list(problems))
    ).cut_lists
    oiled = oiled_items(desk.rack.items)
    given = Given(shop or desk.shop, desk.orders, desk.blanks, desk.rack.release_min, oiled)
    return {operation.key: operation for operation in make_operations(given, lots, cut_lists)}


BENT = bent((12, 90, 4.5), 20)
SADDLED = (a_saddle("2"), EndCut())


def test_the_usual_way_is_finish_saw_notch_bend() -> None:
    found = operations_of(a_line(shape=BENT, ends=SADDLED))
    keys = ["L01.P1", "L01.P2", "L01.SAW", "L01.1187/1.N1", "L01.1187/1.B"]
    assert list(found) == keys
    for before, after in itertools.pairwise(keys):
        assert found[after].after == (before,)


def test_bend_before_notch_where_the_line_says_so() -> None:
    route = (Step.FINISH, Step.SAW, Step.BEND, Step.NOTCH)
    found = operations_of(a_line(shape=BENT, ends=SADDLED, route=route))
    assert found["L01.1187/1.N1"].after == ("L01.1187/1.B",)


def test_sawn_first_the_blanks_are_finished() -> None:
    found = operations_of(a_line(route=(Step.SAW, Step.FINISH), quantity=7))
    assert found["L01.P1"].after == ("L01.SAW",)
    assert found["L01.P1"].count == 7


def test_two_saddles_on_different_tubes_are_two_notch_operations() -> None:
    found = operations_of(a_line(shape=cut("40"), ends=(a_saddle("2"), a_saddle("1.9"))))
    cutters = {
        key: operation.alternatives[0].state[What.CUTTER]
        for key, operation in found.items()
        if operation.step is Step.NOTCH
    }
    assert cutters == {
        "L01.1187/1.N1": str(inch("1.9")),
        "L01.1187/1.N2": str(inch("2")),
    }


def test_tube_without_a_recipe_is_only_sawn() -> None:
    assert list(operations_of(a_line(recipe=None))) == ["L01.SAW"]


def test_touch_up_comes_after_bending() -> None:
    found = operations_of(a_line(shape=BENT, touch_up_s=90))
    assert found["L01.1187/1.T"].after == ("L01.1187/1.B",)
    assert found["L01.1187/1.T"].alternatives[0].minutes == 6


def test_a_pass_needs_od_belt_rail_and_family_mounted() -> None:
    state = operations_of(a_line())["L01.P1"].alternatives[0].state
    assert state == {
        What.OD: str(inch("1-1/2")),
        What.BELT: "P120 belt",
        What.RAIL: "quarter bronze",
        What.FAMILY: "stainless",
    }


def test_a_belt_that_the_shop_lacks_is_named() -> None:
    shop = a_week_shop(belts=a_week_shop().belts[:1])
    with pytest.raises(InputError, match="P180 belt for stainless"):
        operations_of(a_line(), shop=shop)
