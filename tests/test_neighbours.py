"""Groupings close to a given one, and which of them come first."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import replace
from datetime import datetime

import pytest

from planner.drafts import UNDONE_CENTS, Desk, Draft, draft
from planner.engines import Engines
from planner.known_order import listed, places_of
from planner.lots import Grouping, make_lots
from planner.neighbours import (
    HOPE,
    NEAR,
    LotFigures,
    Neighbour,
    lot_figures,
    neighbours,
    waste_cents,
    work_until_sawn,
)
from planner.orders import Step
from planner.records import Alternative, Operation, Stick
from planner.schedule import Turns, turns_of
from planner.standing import Standing
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
    figures = lot_figures(desk, *ordered(desk, groups))
    return neighbours(desk, figures, groups)


@pytest.mark.parametrize(
    ("days", "splits"),
    [((1, 1, 3), {2}), ((1, 3, 3), {1}), ((1, 2, 3), {1, 2}), ((1, 1, 1), set[int]())],
)
def test_a_lot_is_split_between_due_days_only(days: tuple[int, ...], splits: set[int]) -> None:
    lines = ("1/1", "2/1", "3/1")
    made = found(a_kind(*days), lines)
    assert {one.instead for one in made} == {(lines[:n], lines[n:]) for n in splits}


@pytest.mark.parametrize(
    ("days", "late", "splits"),
    [
        ((1,), (9,), []),
        ((1, 1, 1), (0, 0, 0), []),
        ((1, 1, 1), (0, 9, 0), ["2|13"]),
        ((1, 2, 2), (9, 9, 9), ["1|23", "2|13", "3|12"]),
        ((1, 1, 2), (9, 9, 9), ["1|23", "12|3", "2|13"]),
        ((1, 2, 3), (9, 0, 9), ["1|23", "12|3"]),
    ],
)
def test_each_late_line_goes_ahead_of_the_others_where_its_day_does_not_split_it_off(
    days: tuple[int, ...], late: tuple[int, ...], splits: list[str]
) -> None:
    """A last line of a later day is split off behind the others alone, not ahead of them."""
    desk = a_kind(*days)
    group = tuple(desk.orders)
    figures = figures_of(desk, (group,), dict(zip(group, late, strict=True)))
    made = neighbours(desk, figures, (group,))
    told = ["|".join("".join(key[0] for key in lot) for lot in one.instead) for one in made]
    assert sorted(told) == sorted(splits)


def test_a_lot_is_not_split_between_hours_of_a_day() -> None:
    desk = a_kind(1, 1)
    desk = replace(desk, due_min={"1/1": 1440 + 600, "2/1": 2 * 1440 - 1})
    figures = figures_of(desk, (("1/1", "2/1"),), dict.fromkeys(desk.orders, 0))
    assert neighbours(desk, figures, (("1/1", "2/1"),)) == []


def test_what_two_lots_waste_may_be_saved_by_one_of_them() -> None:
    desk = a_kind(1, 2)
    groups = (("1/1",), ("2/1",))
    figures = figures_of(desk, groups, dict.fromkeys(desk.orders, 0))
    first, second = (lot.key for lot in figures.lots)
    figures = replace(
        figures, waste_cents={first: 300.0, second: 40.0}, changes_min={first: 7, second: 12}
    )
    (joined,) = neighbours(desk, figures, groups)
    assert joined.waste_cents == 340.0
    assert joined.promise_cents == HOPE * 7 * desk.shop.house.minute_cents


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


def test_a_lot_is_joined_with_the_next_few_of_its_kind() -> None:
    desk = a_kind(*range(1, 7))
    groups = tuple((key,) for key in desk.orders)
    figures = figures_of(desk, groups, dict.fromkeys(desk.orders, 0))
    joined = {one.away for one in neighbours(desk, figures, groups) if len(one.instead) == 1}
    assert joined == {
        (first, other)
        for number, first in enumerate(groups)
        for other in groups[number + 1 : number + 1 + NEAR]
    }
    assert len(joined) == 12


def test_of_a_group_that_could_not_be_cut_any_line_may_be_the_one_too_many() -> None:
    desk = a_kind(1, 1, 1, 2)
    one, two, three, four = desk.orders
    figures = figures_of(desk, ((four,),), dict.fromkeys(desk.orders, 0))
    made = neighbours(desk, figures, ((one, two), (three,), (four,)))
    assert [(each.away, each.instead, each.promise_cents) for each in made] == [
        (((one, two),), ((one,), (two,)), UNDONE_CENTS),
        (((one, two),), ((two,), (one,)), UNDONE_CENTS),
    ]


def test_lots_that_stay_are_not_changed() -> None:
    desk = a_kind(1, 2)
    made, turns = ordered(desk, (("1/1",), ("2/1",)))
    first, second = made.lots
    stays = replace(desk, standing=Standing(lots=(first,)))
    assert lot_figures(stays, made, turns).lots == (second,)
    assert lot_figures(desk, made, turns).lots == (first, second)


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


def figures_of(desk: Desk, groups: Grouping, late_min: Mapping[str, int]) -> LotFigures:
    """Lots that take 90 minutes each, of lines as late as told."""
    lots = make_lots(groups, desk.orders, desk.blanks, desk.due_min)
    return LotFigures(
        lots=lots,
        late_min=late_min,
        work_min={lot.key: 90 for lot in lots},
        changes_min={lot.key: 0 for lot in lots},
        waste_cents={lot.key: 0.0 for lot in lots},
    )


def worth(desk: Desk, figures: LotFigures, one: Neighbour) -> float:
    """The promise of a split, or of a line handed on, term by term: half of what other lots gain
    counts where the lines that wait are due later than the lot was."""
    (group, *_), (first, _) = one.away, one.instead
    giver = group if set(first) <= set(group) else one.away[1]
    waits = tuple(line for line in giver if line not in first)
    nm = {line: desk.blanks[line].length_nm * desk.blanks[line].quantity for line in giver}
    relief = 90 * sum(nm[line] for line in waits) / sum(nm.values())

    def gain(lines: Iterable[str]) -> float:
        return sum(desk.orders[line].weight * min(figures.late_min[line], relief) for line in lines)

    later = max(desk.due_min[line] for line in waits) > desk.due_min[giver[0]]
    others = gain(line for line in desk.orders if line not in giver) if later else 0.0
    return (gain(first) + HOPE * others) * desk.shop.house.late_cents_h / 60


def test_what_waiting_lines_relieve_is_summed_over_all_that_are_late() -> None:
    desk = a_kind(1, 1, 2, 2, 3, 4)
    keys = list(desk.orders)
    desk = replace(
        desk,
        blanks={
            key: desk.blanks[key].model_copy(update={"quantity": 2 + 3 * n, "length_nm": 10**9 - n})
            for n, key in enumerate(keys)
        },
    )
    groups = (tuple(keys[:3]), tuple(keys[3:]))
    figures = figures_of(desk, groups, dict(zip(keys, (0, 500, 20, 35, 0, 60), strict=True)))
    made = [one for one in neighbours(desk, figures, groups) if len(one.instead) == 2]
    assert len(made) > 6
    for one in made:
        assert one.promise_cents == pytest.approx(worth(desk, figures, one))
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
        neighbours(desk, figures_of(desk, groups, late), groups)
        asked.append(late.asked)
    assert asked[1] < 2.5 * asked[0]


def test_work_until_a_lot_is_sawn_is_that_of_its_passes_and_of_the_saw() -> None:
    """Of the first way of each, by lot."""

    def work(lot: str, step: Step, *minutes: int) -> Operation:
        ways = tuple(Alternative(station=f"S{n}", minutes=m) for n, m in enumerate(minutes))
        key = f"{lot}.{step}.{minutes[0]}"
        return Operation(key=key, step=step, lot=lot, alternatives=ways, count=1)

    operations = (
        work("L01", Step.FINISH, 7, 30),
        work("L01", Step.FINISH, 5),
        work("L01", Step.SAW, 4),
        work("L01", Step.NOTCH, 100),
        work("L01", Step.BEND, 200),
        work("L02", Step.SAW, 9),
    )
    assert work_until_sawn(operations) == {"L01": 16, "L02": 9}


def test_what_does_not_end_in_pieces_is_waste() -> None:
    """Two sticks of 1,000 nm for 500 cents, with 600 and 900 nm of pieces: a quarter of it."""
    made, _ = ordered(a_kind(1), (("1/1",),))
    cut = made.cut.cut_lists[0]
    piece, stick = cut.sticks[0].pieces[0], cut.sticks[0]

    def cut_from(*lengths: int) -> Stick:
        pieces = tuple(piece.model_copy(update={"length_nm": length}) for length in lengths)
        return stick.model_copy(update={"length_nm": 1_000, "pieces": pieces})

    sticks = (cut_from(300, 300), cut_from(900))
    assert waste_cents(cut.model_copy(update={"sticks": sticks, "cost_cents": 500})) == 125
