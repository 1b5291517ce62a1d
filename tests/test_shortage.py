"""An order line that is left out for want of sticks says who has them, and how many."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import datetime

from planner import cutlist
from planner.cutting import cut_lots, rack_of
from planner.lots import make_lots
from planner.orders import OrderLine
from planner.stock import StockItem
from tests.trade import a_line, a_stick, cut
from tests.week import a_desk


def quickly(problems: Sequence[cutlist.Problem]) -> list[cutlist.Result]:
    return [cutlist.solve(problem, seed=1, work=0.2) for problem in problems]


def told(orders: Sequence[OrderLine], stock: Sequence[StockItem]) -> list[tuple[str | None, str]]:
    """Place and message of each finding where every order line is a lot of its own."""
    desk = a_desk(orders, stock)
    groups = tuple((line.key,) for line in orders)
    lots = make_lots(groups, desk.orders, desk.blanks, desk.due_min, 1)
    made = cut_lots(desk.shop, lots, desk.blanks, rack_of(stock, desk.rack.release_min), quickly)
    return [(finding.cell, finding.message) for finding in desk.shelf(made).findings()]


def line(number: int, length: str, day: int, **changes: object) -> OrderLine:
    """Four pieces of the usual tube, due on a day of March."""
    due, place = datetime(2027, 3, day, 16, 0), f"Orders!A{number + 4}"
    return a_line(line=str(number), shape=cut(length), due=due, place=place, **changes)


def test_a_line_without_a_stick_says_which_lines_use_them_and_how_many_more_it_needs() -> None:
    """Four pieces of 9 ft want two sticks of 20 ft; the line due first has both that there are."""
    orders = [line(1, "9'", day=5), line(2, "9'", day=3)]
    ((cell, message),) = told(orders, [a_stick(length="20'", count=2)])
    assert cell == "A5"
    assert message == (
        'Line 1187/1: missing 2 × 20\' 0" of 1-1/2" × .065" 304 bright; Stock has 2 × 20\' 0", '
        "of which all go to 1187/2: enter more in Stock, or clear Count there for sticks that are "
        "bought as needed."
    )


def test_what_is_left_on_the_rack_counts_and_what_lines_lack_adds_up() -> None:
    """Each of two lines wants two sticks, and one is left: three are missing for the two."""
    orders = [line(1, "9'", day=3), line(2, "9'", day=4), line(3, "9'", day=5)]
    found = told(orders, [a_stick(length="20'", count=3)])
    assert [cell for cell, _ in found] == ["A6", "A7"]
    for _, message in found:
        assert "missing 3 × 20' 0\" of" in message
        assert "for 1187/2, 1187/3 together" in message
        assert "Stock has 3 × 20' 0\", of which 2 × 20' 0\" go to 1187/1:" in message


def test_a_line_that_is_too_much_for_the_whole_rack_blames_no_other() -> None:
    ((_, message),) = told([line(1, "9'", day=3)], [a_stick(length="20'", count=1)])
    assert "missing 1 × 20' 0\" of" in message
    assert "; Stock has 1 × 20' 0\": enter more" in message


def test_remnants_are_not_told_to_be_bought() -> None:
    rest = a_stick(length="10'", count=1, remnant=True)
    ((_, message),) = told([line(1, "9'", day=3)], [a_stick(length="20'", count=1), rest])
    assert "missing 1 × 20' 0\" of" in message
    assert "Stock has 1 × 10' 0\", 1 × 20' 0\":" in message


def test_sticks_more_do_not_help_where_only_a_remnant_was_long_enough() -> None:
    """Then what the cut list says is told: the piece is too long."""
    orders = [line(1, "19'", day=3, quantity=1), line(2, "19'", day=5, quantity=1)]
    long = a_stick(length="20'", count=1, remnant=True)
    ((_, message),) = told(orders, [a_stick(length="10'", count=9), long])
    assert "too long for every stick on offer" in message
