from __future__ import annotations

from planner.cutlist import DropValue, StockKind
from planner.cutlist.model import TABLE_ROOMS, Column, is_complete, scale
from tests.cutlist.builders import a_problem


def test_sizes_shrink_to_their_divisor_and_rooms_to_sums_that_can_be_reached() -> None:
    scaled = scale(a_problem((30, 2), (20, 1), stick=59))
    assert scaled.model.sizes == (3, 2)
    assert scaled.model.room == 5


def test_kinds_that_are_alike_become_one_with_the_joint_count() -> None:
    stock = (StockKind("a", 50, 9, 2), StockKind("b", 50, 9, 3), StockKind("c", 50, 9))
    scaled = scale(a_problem((20, 20), stock=stock))
    assert scaled.stock_of == ((0, 1), (2,))
    assert scaled.model.limits == (5, None)


def test_a_longer_drop_of_more_worth_makes_a_cheaper_slot() -> None:
    problem = a_problem((10, 9), shortest_remnant_nm=30, drop_values=(DropValue(30, 4),))
    assert [(slot.room, slot.cents) for slot in scale(problem).model.slots] == [(7, 6), (9, 10)]


def test_lengths_without_a_common_unit_are_tabulated_coarsely_but_checked_exactly() -> None:
    problem = a_problem((1_999_999_999, 3), (1_000_000_007, 1), stick=6_000_000_000)
    model = scale(problem).model
    assert model.grid > 1
    assert model.room // model.grid <= TABLE_ROOMS
    assert model.fits(Column(0, ((0, 3),)))
    assert not model.fits(Column(0, ((0, 2), (1, 3))))


def test_a_packing_that_misses_a_piece_or_a_limit_is_not_complete() -> None:
    model = scale(a_problem((50, 4), stock=(StockKind("a", 100, 1, 2),))).model
    assert is_complete(model, {Column(0, ((0, 2),)): 2})
    assert not is_complete(model, {Column(0, ((0, 2),)): 1})
    assert not is_complete(model, {Column(0, ((0, 1),)): 4})
