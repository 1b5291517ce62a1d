from __future__ import annotations

import random
from itertools import permutations

import pytest

from planner.cutlist import DropValue, Pattern, StockKind, solve
from planner.cutlist.result import Fate, Money
from planner.cutlist.saw import in_order, interruptions, pattern_of, sticks_for, stop_moves
from tests.cutlist.builders import a_problem


def a_pattern(*lengths: int) -> Pattern:
    return Pattern(0, 1, lengths, 0, 0, 0, Fate.NONE, 0, 0)


def test_no_other_order_of_the_patterns_moves_the_stop_less() -> None:
    for number in range(60):
        dice = random.Random(number)
        patterns = [
            a_pattern(
                *sorted((dice.randint(1, 4) for _ in range(dice.randint(1, 3))), reverse=True)
            )
            for _ in range(dice.randint(1, 6))
        ]
        fewest = min(stop_moves(order) for order in permutations(patterns))
        assert stop_moves(in_order(patterns)) == fewest


def test_the_stop_moves_once_for_each_length_of_a_pattern() -> None:
    assert stop_moves([a_pattern(5, 5, 3), a_pattern(3, 2), a_pattern(2)]) == 3


def test_pieces_of_one_line_follow_each_other() -> None:
    problem = a_problem((50, 6), (50, 6))
    sticks = sticks_for(problem, solve(problem).patterns)
    assert [piece.key for stick in sticks for piece in stick.pieces] == ["line 0"] * 6 + [
        "line 1"
    ] * 6
    assert interruptions(sticks) == 0


def test_a_line_that_is_left_and_taken_up_again_counts_as_interrupted() -> None:
    problem = a_problem((50, 2), (30, 3))
    patterns = [a_pattern(50), a_pattern(30), a_pattern(50), a_pattern(30), a_pattern(30)]
    assert interruptions(sticks_for(problem, patterns)) == 2


@pytest.mark.parametrize(
    ("finished_stick", "finished_lot", "fate"),
    [
        (False, False, Fate.REMNANT),
        (True, False, Fate.FINISHED_REMNANT),
        (False, True, Fate.FINISHED_REMNANT),
    ],
)
def test_a_drop_is_finished_if_its_stick_was_or_the_lot_is(
    finished_stick: bool, finished_lot: bool, fate: Fate
) -> None:
    problem = a_problem(
        (60, 1),
        stock=(StockKind("stick", 100, 10, is_finished=finished_stick),),
        shortest_remnant_nm=40,
        leaves_finished=finished_lot,
    )
    assert pattern_of(problem, 0, 1, (60,)).fate is fate
    assert pattern_of(problem, 0, 1, (61,)).fate is Fate.SCRAP
    assert pattern_of(problem, 0, 1, (60, 40)).fate is Fate.NONE


def test_a_kerf_that_falls_off_the_end_of_the_stick_is_not_cut() -> None:
    pattern = pattern_of(a_problem((30, 3), stick=96, kerf_nm=3), 0, 1, (30, 30, 30))
    assert (pattern.kerf_nm, pattern.drop_nm, pattern.fate) == (6, 0, Fate.NONE)


def test_the_longest_piece_is_cut_first_unless_the_shop_wants_it_last() -> None:
    for longest_first, lengths in ((True, (60, 30)), (False, (30, 60))):
        problem = a_problem((30, 1), (60, 1), longest_first=longest_first)
        assert [pattern.lengths_nm for pattern in solve(problem).patterns] == [lengths]


def test_money_is_shared_out_by_length_once_the_kept_drop_is_paid_back() -> None:
    # 60 of 100 in the piece, 2 in the kerf and 38 scrapped: 600 and 400 of 1,000 cents.
    plain = solve(a_problem((60, 1), price=1_000, kerf_nm=2))
    assert plain.money == Money(1_000, 600, 0, 400)
    # The drop is kept for 100: of the other 900 cents 2/62 go into the kerf, 29 whole ones.
    steps = (DropValue(38, 100),)
    kept = solve(
        a_problem((60, 1), price=1_000, kerf_nm=2, shortest_remnant_nm=38, drop_values=steps)
    )
    assert kept.money == Money(1_000, 871, 100, 29)


def test_a_kept_drop_is_no_scrap() -> None:
    result = solve(a_problem((60, 1), kerf_nm=2, trim_stick_nm=3, shortest_remnant_nm=20))
    assert (result.kerf_loss_nm, result.scrap_nm) == (2, 3)
    assert result.yield_percent == pytest.approx(100 * 60 / 65)


def test_scrap_kerf_and_yield_are_told_apart() -> None:
    result = solve(a_problem((60, 1), (20, 1), stick=100, kerf_nm=2, trim_end_nm=3))
    assert result.kerf_loss_nm == 4
    assert result.scrap_nm == 3 + 13
    assert result.yield_percent == 80.0
