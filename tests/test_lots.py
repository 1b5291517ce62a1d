"""Lots: which order lines travel together."""

from datetime import datetime

import pytest

from planner.drafts import Desk
from planner.lots import grouping, make_lots, split_by_due, windowed
from planner.orders import Step
from planner.records import Lot
from tests.trade import a_line, a_spec
from tests.week import DAY, a_desk


def lots_of(desk: Desk, window: int | None) -> tuple[Lot, ...]:
    groups = windowed(desk.free, desk.blanks, desk.due_min, window)
    return make_lots(groups, desk.orders, desk.blanks, desk.due_min)


def test_every_line_is_in_exactly_one_lot() -> None:
    desk = a_desk()
    lines = [line for lot in lots_of(desk, 2) for line in lot.lines]
    assert sorted(lines) == sorted(desk.orders)


def test_lines_of_another_spec_or_recipe_never_share_a_lot() -> None:
    lines = [
        a_line(order="1"),
        a_line(order="2", recipe=None),
        a_line(order="3", spec=a_spec(grade="316")),
    ]
    assert len(lots_of(a_desk(lines), None)) == 3


def test_lines_sawn_first_do_not_share_a_lot_with_lines_finished_first() -> None:
    saw_first = (Step.SAW, Step.FINISH)
    lines = [a_line(order="1"), a_line(order="2", route=saw_first)]
    lots = lots_of(a_desk(lines), None)
    assert [lot.saw_first for lot in lots] == [False, True]


def test_lots_are_named_in_due_order() -> None:
    lots = lots_of(a_desk(), 1)
    assert [lot.key for lot in lots] == [f"L{n:02d}" for n in range(1, len(lots) + 1)]
    assert [lot.due_min for lot in lots] == sorted(lot.due_min for lot in lots)


@pytest.mark.parametrize(("window", "sizes"), [(1, [1, 1, 1]), (2, [2, 1]), (None, [3])])
def test_the_window_counts_days_from_the_first_line_due(
    window: int | None, sizes: list[int]
) -> None:
    lines = [a_line(order=str(day), due=datetime(2026, 12, day, 15)) for day in (1, 2, 3)]
    due = {line.key: (day + 1) * DAY for day, line in enumerate(lines)}
    assert [len(part) for part in split_by_due(lines, due, window)] == sizes


def test_groups_and_their_lines_are_in_due_order() -> None:
    due = {"a": 3, "b": 1, "c": 2, "d": 1}
    assert grouping([["a"], ["c", "d", "b"]], due) == (("b", "d", "c"), ("a",))


def test_new_lots_are_numbered_after_those_that_stand() -> None:
    desk = a_desk([a_line(order="1"), a_line(order="2", recipe=None)])
    lots = make_lots((("1/1",), ("2/1",)), desk.orders, desk.blanks, desk.due_min, 99)
    assert [lot.key for lot in lots] == ["L099", "L100"]
