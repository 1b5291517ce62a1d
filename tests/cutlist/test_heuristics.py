from __future__ import annotations

import numpy as np
from hypothesis import given, settings
from hypothesis import strategies as st

from planner.cutlist import StockKind
from planner.cutlist.effort import Effort
from planner.cutlist.heuristics import (
    Filler,
    best_fit,
    correct_values,
    decreasing,
    first_fit,
    trim_surplus,
)
from planner.cutlist.model import Column, is_complete, scale, sticks_by_kind
from planner.cutlist.search import table_for
from tests.cutlist.builders import a_problem

PIECES = st.lists(st.tuples(st.integers(5, 60), st.integers(1, 6)), min_size=1, max_size=8)


def sticks_piece_by_piece(pieces: list[tuple[int, int]], stick: int, *, best: bool) -> int:
    """First or best fit in the textbook way, one piece after the other."""
    rooms: list[int] = []
    for size, count in sorted(pieces, reverse=True):
        for _ in range(count):
            fitting = [i for i, room in enumerate(rooms) if room >= size]
            if not fitting:
                rooms.append(stick - size)
            else:
                at = min(fitting, key=lambda i: (rooms[i], i)) if best else fitting[0]
                rooms[at] -= size
    return len(rooms)


@settings(max_examples=50)
@given(pieces=PIECES)
def test_placing_equal_pieces_together_gives_the_textbook_result(
    pieces: list[tuple[int, int]],
) -> None:
    merged: dict[int, int] = {}
    for size, count in pieces:
        merged[size] = merged.get(size, 0) + count
    model = scale(a_problem(*merged.items(), stick=60)).model
    for order, best in ((first_fit, False), (best_fit, True)):
        packing = decreasing(model, order, [0])
        assert packing is not None
        assert is_complete(model, packing)
        assert sticks_by_kind(model, packing) == [
            sticks_piece_by_piece(list(merged.items()), 60, best=best)
        ]


def test_first_fit_gives_up_when_the_sticks_end() -> None:
    model = scale(a_problem((50, 3), stock=(StockKind("a", 100, 1, 1),))).model
    assert decreasing(model, first_fit, [0]) is None


def test_filling_by_size_packs_sticks_that_fit_exactly() -> None:
    model = scale(a_problem((7, 3), (5, 3), (4, 3), stick=16)).model
    filler = Filler(model, table_for(model), Effort())
    packing = filler.fill(np.array(model.sizes, dtype=float))
    assert packing is not None
    assert sum(packing.values()) == 3


def test_value_correction_returns_complete_packings_only() -> None:
    model = scale(a_problem((7, 9), (5, 4), (4, 7), (3, 3), stick=20)).model
    filler = Filler(model, table_for(model), Effort())
    values = np.array(model.sizes, dtype=float)
    for seed in range(4):
        before = values.copy()
        packing = correct_values(filler, values, seed)
        assert packing is not None
        assert is_complete(model, packing)
        assert (values != before).any()


def test_surplus_pieces_and_empty_sticks_are_left_out() -> None:
    model = scale(a_problem((50, 3), stick=100)).model
    packing = trim_surplus(model, {Column(0, ((0, 2),)): 3})
    assert packing == {Column(0, ((0, 2),)): 1, Column(0, ((0, 1),)): 1}
