from __future__ import annotations

import pytest

from planner.cutlist import DropValue, StockKind
from planner.errors import InputError
from tests.cutlist.builders import a_problem


def test_a_last_piece_that_ends_with_the_stick_needs_no_cut() -> None:
    problem = a_problem((30, 1), stick=96, kerf_nm=3)
    assert problem.room_nm(problem.stock[0]) == 3 * (30 + 3)
    assert problem.drop_nm(problem.stock[0], 3 * (30 + 3)) == 0


def test_trims_are_lost_at_both_ends_and_the_last_kerf_may_fall_into_the_far_one() -> None:
    problem = a_problem((30, 1), stick=100, kerf_nm=3, trim_end_nm=5, trim_stick_nm=2)
    kind = problem.stock[0]
    assert problem.room_nm(kind) == 100 - 2 - 5 - 5 + 3
    assert problem.drop_nm(kind, problem.room_nm(kind)) == 5 - 3


def test_the_clamp_keeps_its_length_behind_the_last_cut() -> None:
    problem = a_problem((30, 1), stick=100, kerf_nm=3, trim_end_nm=5, clamp_nm=20)
    kind = problem.stock[0]
    assert problem.drop_nm(kind, problem.room_nm(kind)) == 20


def test_a_drop_is_worth_its_step_once_it_is_long_enough_to_keep() -> None:
    steps = (DropValue(10, 3), DropValue(40, 8))
    problem = a_problem((30, 1), shortest_remnant_nm=20, drop_values=steps)
    assert problem.credits_cents((15, 20, 39, 40)) == [0, 3, 3, 8]


def test_finishing_is_paid_for_the_stick_and_kept_with_the_drop() -> None:
    problem = a_problem(
        (30, 1), stick=2_000_000_000, finish_cents_per_m=50, shortest_remnant_nm=1_000_000_000
    )
    raw = problem.stock[0]
    assert problem.stick_cents(raw) == 10 + 100
    assert problem.costs_cents(raw, [500_000_000, 1_500_000_000]) == [110 - 75, 110]
    finished = StockKind("finished", raw.length_nm, 10, is_finished=True)
    assert problem.stick_cents(finished) == 10


def test_half_a_cent_of_finishing_is_paid_whole_and_not_kept() -> None:
    # 0.99 m at 50 cents a metre are 49.5 cents.
    problem = a_problem(
        (30, 1), stick=990_000_000, finish_cents_per_m=50, shortest_remnant_nm=990_000_000
    )
    assert problem.stick_cents(problem.stock[0]) == 10 + 50
    assert problem.credits_cents([990_000_000]) == [49]


def test_a_stick_never_costs_less_than_nothing() -> None:
    problem = a_problem((30, 1), shortest_remnant_nm=1, drop_values=(DropValue(1, 99),))
    assert problem.costs_cents(problem.stock[0], [30]) == [0]


def test_everything_wrong_with_a_problem_is_named_at_once() -> None:
    with pytest.raises(InputError) as caught:
        a_problem(
            (0, 1),
            stock=(StockKind("rack", -5, 1),),
            kerf_nm=-1,
            drop_values=(DropValue(1, 9), DropValue(2, 3)),
            max_lengths_per_stick=0,
        )
    text = str(caught.value)
    assert len(caught.value.findings) == 5
    assert "line 0" in text
    assert "rack" in text
    assert "cannot be worth less" in text
