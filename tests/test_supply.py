"""A check tells before any plan that the sticks cannot be enough, and only then."""

from __future__ import annotations

from collections.abc import Sequence

from planner.blanks import make_blanks
from planner.errors import Severity
from planner.orders import OrderLine
from planner.stock import StockItem
from planner.supply import too_little
from tests.trade import a_line, a_spec, a_stick, cut
from tests.week import a_week_shop


def told(orders: Sequence[OrderLine], stock: Sequence[StockItem]) -> list[str]:
    shop = a_week_shop()
    blanks = {blank.line: blank for blank in make_blanks(orders, stock, shop).blanks}
    found = list(too_little(orders, blanks, stock, shop))
    assert {finding.severity for finding in found} <= {Severity.WARNING}
    return [finding.message for finding in found]


FIVE = a_line(shape=cut("10'"), quantity=5)
"""Five pieces of 10 ft and their saw cuts."""


def test_pieces_that_are_longer_than_all_sticks_together_are_told_with_both_lengths() -> None:
    """Five saw cuts of 2.4 mm are 12 mm, or 15/32 in."""
    (message,) = told([FIVE], [a_stick(length="20'", count=2)])
    assert 'Line 1187/1: there is too little 1-1/2" × .065" 304 bright: the pieces' in message
    assert "take 50' 15/32\"" in message
    assert "the sticks in Stock give 40'" in message
    assert told([FIVE], [a_stick(length="20'", count=3)]) == []


def test_lines_of_one_tube_are_told_together_and_others_are_not() -> None:
    second = a_line(line="2", shape=cut("10'"), quantity=2)
    other = a_line(line="3", spec=a_spec("2"), quantity=1)
    stock = [a_stick(length="20'", count=3), a_stick(a_spec("2"), key="two", count=1)]
    messages = told([FIVE, second, other], stock)
    assert len(messages) == 2
    assert all("take 70'" in message for message in messages)


def test_sticks_that_are_bought_as_needed_are_enough_where_they_are_long_enough() -> None:
    assert told([FIVE], [a_stick(length="20'", count=1), a_stick(key="buy")]) == []
    short = a_stick(length="9'", key="buy")
    assert len(told([FIVE], [a_stick(length="20'", count=1), short])) == 1


def test_a_line_that_is_refused_already_is_not_told_again() -> None:
    assert told([FIVE], [a_stick(a_spec("2"))]) == []
