"""Groupings close to a given one, and which of them come first."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from datetime import datetime

import pytest

from planner.drafts import Desk, Draft, draft
from planner.engines import Engines
from planner.known_order import listed, places_of
from planner.lots import Grouping, make_lots
from planner.neighbours import HOPE, Look, Neighbour, look_at, neighbours
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


def a_look(desk: Desk, groups: Grouping, late_min: Mapping[str, int]) -> Look:
    """Lots that take 90 minutes each, of lines as late as told."""
    lots = make_lots(groups, desk.orders, desk.blanks, desk.due_min)
    return Look(
        lots=lots,
        late_min=late_min,
        work_min={lot.key: 90 for lot in lots},
        changes_min={lot.key: 0 for lot in lots},
        waste_cents={lot.key: 0.0 for lot in lots},
    )


def worth(desk: Desk, look: Look, one: Neighbour) -> float:
    """The promise of a split, or of a line handed on, term by term: half of what other lots gain
    counts where the lines that wait are due later than the lot was."""
    (group, *_), (first, _) = one.away, one.instead
    giver = group if set(first) <= set(group) else one.away[1]
    waits = tuple(line for line in giver if line not in first)
    nm = {line: desk.blanks[line].length_nm * desk.blanks[line].quantity for line in giver}
    relief = 90 * sum(nm[line] for line in waits) / sum(nm.values())

    def gain(lines: Iterable[str]) -> float:
        return sum(desk.orders[line].weight * min(look.late_min[line], relief) for line in lines)

    later = max(desk.due_min[line] for line in waits) > desk.due_min[giver[0]]
    others = gain(line for line in desk.orders if line not in giver) if later else 0.0
    return (gain(first) + HOPE * others) * desk.shop.house.late_cents_h / 60


def test_what_waiting_lines_relieve_is_summed_over_all_that_are_late() -> None:
    desk = a_kind(1, 1, 2, 2, 3, 4)
    keys = list(desk.orders)
    groups = (tuple(keys[:3]), tuple(keys[3:]))
    look = a_look(desk, groups, dict(zip(keys, (0, 500, 20, 35, 0, 60), strict=True)))
    made = [one for one in neighbours(desk, look, groups) if len(one.instead) == 2]
    assert len(made) > 6
    for one in made:
        assert one.promise_cents == pytest.approx(worth(desk, look, one))
    assert len({round(one.promise_cents) for one in made}) > 4


class Counted(Mapping[str, int]):
    """Counts what is asked of it."""

    def __init__(self, of: Mapping[str, int]) -> None:
        self.of, self.asked = of, 0

    def __getitem__(self, key: str) -> int:
        self.asked += 1
        return self.of[key]

    def __iter__(self) -> Iterator[str]:
        return iter(self.of)

    def __len__(self) -> int:
        return len(self.of)


def test_a_late_week_twice_as_long_asks_twice_as_often_how_late_its_lines_are() -> None:
    asked: list[int] = []
    for size in (16, 32):
        desk = a_kind(*(1 + n % 2 for n in range(2 * size)))
        keys = list(desk.orders)
        groups = tuple((keys[n], keys[n + 1]) for n in range(0, 2 * size, 2))
        late = Counted(dict.fromkeys(keys, 60))
        neighbours(desk, a_look(desk, groups, late), groups)
        asked.append(late.asked)
    assert asked[1] < 2.5 * asked[0]
