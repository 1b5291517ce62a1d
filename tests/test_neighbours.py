"""Groupings close to a given one, and which of them come first."""

from __future__ import annotations

from datetime import datetime

from planner.drafts import Desk, Draft, draft
from planner.engines import Engines
from planner.known_order import listed, places_of
from planner.lots import Grouping
from planner.neighbours import Neighbour, look_at, neighbours
from planner.schedule import Turns, turns_of
from tests.trade import a_line, a_spec, cut
from tests.week import a_desk, some_orders


def a_kind(*days: int, quantity: int = 2) -> Desk:
    """Lines 1/1, 2/1, … of one tube, due on these days of December."""
    lines = [
        a_line(order=str(n), quantity=quantity, shape=cut("50"), due=datetime(2026, 12, day, 15))
        for n, day in enumerate(days, start=1)
    ]
    return a_desk(lines, seconds=0.2)


def ordered(desk: Desk, groups: Grouping) -> tuple[Draft, Turns]:
    engines = Engines()
    cutter, order = engines.cutter(desk.options), engines.orderer(desk.options)
    made = draft(desk, groups, cutter.quick)
    return made, turns_of(order.whole(made.problem, 0.1).placed)


def found(desk: Desk, *groups: tuple[str, ...]) -> list[Neighbour]:
    look = look_at(desk, *ordered(desk, groups))
    return neighbours(desk, look, groups)


def test_a_lot_is_split_between_due_days_only() -> None:
    splits = found(a_kind(1, 1, 3), ("1/1", "2/1", "3/1"))
    assert [one.instead for one in splits] == [(("1/1", "2/1"), ("3/1",))]


def test_a_late_line_is_taken_out_of_its_lot_first() -> None:
    desk = a_kind(1, 1, quantity=300)
    splits = found(desk, ("1/1", "2/1"))
    assert {one.instead for one in splits} == {
        (("1/1",), ("2/1",)),
        (("2/1",), ("1/1",)),
    }
    assert all(one.promise_cents > 0 for one in splits)


def test_lots_of_one_kind_are_joined_and_hand_lines_to_each_other() -> None:
    made = found(a_kind(1, 1, 3), ("1/1", "2/1"), ("3/1",))
    assert {one.instead for one in made} == {
        (("1/1", "2/1", "3/1"),),
        (("2/1",), ("3/1", "1/1")),
        (("1/1",), ("3/1", "2/1")),
    }


def test_lots_of_other_tube_are_left_apart() -> None:
    lines = [a_line(order="1"), a_line(order="2", spec=a_spec("2"))]
    assert found(a_desk(lines), ("1/1",), ("2/1",)) == []


def test_the_most_promising_comes_first() -> None:
    desk = a_desk(some_orders(16), seconds=0.2)
    groups = tuple((key,) for key in desk.orders)
    hopes = [one.promise_cents + 0.5 * one.waste_cents for one in found(desk, *groups)]
    assert hopes == sorted(hopes, reverse=True)


def test_new_lots_stand_where_the_work_of_their_lines_stood() -> None:
    desk = a_kind(1, 2, 3)
    apart, turns = ordered(desk, (("1/1",), ("2/1",), ("3/1",)))
    places = places_of(apart, turns)
    joined, _ = ordered(desk, (("1/1", "3/1"), ("2/1",)))
    first = {lot.lines[0]: lot.key for lot in joined.lots}
    keys = [turn.operation for turn in listed(joined, places)]
    together = places_of(joined, listed(joined, places))
    assert sorted(keys) == sorted(operation.key for operation in joined.operations)
    for name in (".P1", ".P2", ".SAW"):
        assert together["1/1", name] == together["3/1", name]
        before = places["1/1", name] < places["2/1", name]
        assert (keys.index(first["1/1"] + name) < keys.index(first["2/1"] + name)) or not before
