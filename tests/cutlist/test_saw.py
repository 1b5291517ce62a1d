from __future__ import annotations

import random
from itertools import permutations

from planner.cutlist import Pattern, solve
from planner.cutlist.result import Fate
from planner.cutlist.saw import in_order, interruptions, sticks_for, stop_moves
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


def test_every_kept_drop_has_a_label_of_its_own() -> None:
    problem = a_problem((60, 3), shortest_remnant_nm=20, label="A")
    assert [stick.drop_label for stick in solve(problem).sticks] == ["A-R1", "A-R2", "A-R3"]


def test_scrap_kerf_and_yield_are_told_apart() -> None:
    result = solve(a_problem((60, 1), (20, 1), stick=100, kerf_nm=2, trim_end_nm=3))
    assert result.kerf_loss_nm == 4
    assert result.scrap_nm == 3 + 13
    assert result.yield_percent == 80.0
