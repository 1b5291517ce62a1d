"""Which sticks a lot may be cut from, and what the lots before it leave."""

from __future__ import annotations

from collections.abc import Sequence

from planner.cutlist import Problem, Result, solve
from planner.cutting import cut_list_problem, cut_lots, rack_of, usable
from planner.orders import Step
from planner.records import Blank, Lot
from planner.stock import StockItem
from tests.trade import a_spec, a_stick, inch
from tests.week import DAY, a_week_shop

SHOP = a_week_shop()


def a_lot(key: str = "L01", due_min: int = 2 * DAY, saw_first: bool = False) -> Lot:
    return Lot(
        key=key,
        spec=a_spec(),
        recipe="satin",
        saw_first=saw_first,
        lines=(f"{key}/1",),
        due_min=due_min,
    )


def blanks_of(*lots: Lot) -> dict[str, Blank]:
    """One blank of 48 in for each lot."""
    steps = (Step.FINISH, Step.SAW)
    return {
        line: Blank(line=line, length_nm=inch("48"), quantity=1, steps=steps)
        for lot in lots
        for line in lot.lines
    }


def offered(stock: Sequence[StockItem], **there_min: int) -> list[str]:
    """What a lot due at midnight of the second day may use; sticks are there from the start."""
    release = {item.key: there_min.get(item.key, 0) for item in stock}
    return [item.key for item in usable(SHOP, a_lot(), rack_of(stock, release))]


def quickly(problems: Sequence[Problem]) -> list[Result]:
    return [solve(problem, seed=1, work=0.2) for problem in problems]


def test_sticks_that_come_when_the_lot_is_due_are_left_out_while_others_are_there() -> None:
    stock = [a_stick(key="early"), a_stick(key="late")]
    assert offered(stock, late=2 * DAY - 1) == ["early", "late"]
    assert offered(stock, late=2 * DAY) == ["early"]


def test_a_lot_waits_for_sticks_that_come_late_where_there_are_no_others() -> None:
    stock = [a_stick(key="late"), a_stick(key="later"), a_stick(a_spec("2"), key="thick")]
    assert offered(stock, late=2 * DAY, later=3 * DAY) == ["late", "later"]


def test_the_lot_that_is_due_first_takes_the_last_stick_on_the_rack() -> None:
    cheap = a_stick(key="rest", length="5'", price_cents=1, count=1, remnant=True)
    stock = [a_stick(key="buy"), cheap]
    lots = [a_lot("L01", 3 * DAY), a_lot("L02", 2 * DAY)]
    rack = rack_of(stock, dict.fromkeys(("buy", "rest"), 0))
    cut = cut_lots(SHOP, lots, blanks_of(*lots), rack, quickly)
    used = {cut_list.lot: [stick.stock for stick in cut_list.sticks] for cut_list in cut.cut_lists}
    assert used == {"L01": ["buy"], "L02": ["rest"]}


def test_where_the_rack_is_empty_the_lots_that_are_due_later_are_not_cut() -> None:
    lots = [a_lot("L01", 3 * DAY), a_lot("L02", 2 * DAY)]
    rack = rack_of([a_stick(key="rest", length="5'", count=1)], {"rest": 0})
    cut = cut_lots(SHOP, lots, blanks_of(*lots), rack, quickly)
    assert [cut_list.lot for cut_list in cut.cut_lists] == ["L02"]
    assert [uncut.lot.key for uncut in cut.uncut] == ["L01"]
    assert cut.uncut[0].reasons


def test_drops_of_sticks_that_are_finished_whole_go_back_finished() -> None:
    rack = rack_of([a_stick(key="buy")], {"buy": 0})
    for saw_first in (False, True):
        lot = a_lot(saw_first=saw_first)
        problem = cut_list_problem(SHOP, lot, blanks_of(lot), rack)
        assert problem.leaves_finished is not saw_first
    unfinished = a_lot().model_copy(update={"recipe": None})
    assert not cut_list_problem(SHOP, unfinished, blanks_of(unfinished), rack).leaves_finished


def test_sticks_put_back_are_on_the_rack_again() -> None:
    lot = a_lot()
    rack = rack_of([a_stick(key="rest", count=2), a_stick(key="buy")], {"rest": 0, "buy": 0})
    (cut_list,) = cut_lots(SHOP, [lot], blanks_of(lot), rack, quickly).cut_lists
    taken = rack.without(cut_list.sticks)
    assert taken.left["rest"] < rack.left["rest"]
    assert taken.with_back(cut_list.sticks).left == rack.left


def test_every_lot_is_cut_where_one_tube_has_more_lots_than_another() -> None:
    lots = [a_lot(f"L0{number}") for number in (1, 2, 3)]
    thick = a_lot("L04").model_copy(update={"spec": a_spec("2")})
    rack = rack_of([a_stick(key="buy"), a_stick(a_spec("2"), key="thick")], {"buy": 0, "thick": 0})
    everything = [lots[0], thick, *lots[1:]]
    cut = cut_lots(SHOP, everything, blanks_of(*everything), rack, quickly)
    assert [cut_list.lot for cut_list in cut.cut_lists] == ["L01", "L04", "L02", "L03"]
    assert cut.uncut == ()
    assert cut_lots(SHOP, [], {}, rack, quickly).cut_lists == ()


def test_sticks_that_are_all_taken_are_offered_no_more() -> None:
    rack = rack_of([a_stick(key="rest", count=1), a_stick(key="buy")], {"rest": 0, "buy": 0})
    lot = a_lot()
    (cut_list,) = cut_lots(SHOP, [lot], blanks_of(lot), rack, quickly).cut_lists
    taken = rack.without([cut_list.sticks[0].model_copy(update={"stock": "rest"})])
    assert [item.key for item in usable(SHOP, lot, rack)] == ["rest", "buy"]
    assert [item.key for item in usable(SHOP, lot, taken)] == ["buy"]


def test_only_a_remnant_that_is_finished_has_its_passes_behind_it() -> None:
    stock = [a_stick(key="buy"), a_stick(key="done", finished="satin", remnant=True)]
    rack = rack_of(stock, {"buy": 0, "done": 0})
    lot = a_lot()
    problem = cut_list_problem(SHOP, lot, blanks_of(lot), rack)
    assert [(kind.label, kind.is_finished) for kind in problem.stock] == [
        ("buy", False),
        ("done", True),
    ]


def test_sticks_and_pieces_are_numbered_from_one_within_their_lot() -> None:
    # A stick of 20 ft gives four pieces of 48 in with their kerfs, so six of them take two.
    lot = a_lot("L07")
    blank = blanks_of(lot)["L07/1"].model_copy(update={"quantity": 6})
    rack = rack_of([a_stick(key="buy")], {"buy": 0})
    (cut_list,) = cut_lots(SHOP, [lot], {"L07/1": blank}, rack, quickly).cut_lists
    assert [stick.tag for stick in cut_list.sticks] == ["L07-01", "L07-02"]
    tags = [piece.tag for stick in cut_list.sticks for piece in stick.pieces]
    assert tags[0] == "L07-01.1"
    assert len(tags) == len(set(tags)) == 6
    assert all(tag.split(".")[1].isdigit() and int(tag.split(".")[1]) >= 1 for tag in tags)
