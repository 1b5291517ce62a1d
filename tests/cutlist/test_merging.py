from __future__ import annotations

import pytest

from planner.cutlist import StockKind, merge_saving
from planner.errors import InputError
from tests.cutlist.builders import a_problem


def test_two_lots_that_fill_one_stick_together_save_the_other_stick() -> None:
    saving = merge_saving(a_problem((60, 1)), a_problem((40, 1)))
    assert saving.is_possible
    assert (saving.saving_cents, saving.most_cents, saving.sticks_sooner) == (10, 10, 0)


def test_the_late_lot_finds_the_kept_drop_of_the_early_one() -> None:
    early = a_problem((60, 1), shortest_remnant_nm=30)
    late = a_problem((40, 1), shortest_remnant_nm=30)
    assert merge_saving(early, late).saving_cents == 0


def test_the_late_lot_cannot_use_sticks_that_the_early_one_took() -> None:
    stock = (StockKind("cheap", 100, 1, 1), StockKind("dear", 100, 9))
    saving = merge_saving(a_problem((90, 1), stock=stock), a_problem((90, 1), stock=stock))
    assert (saving.early.cost_cents, saving.late.cost_cents) == (1, 9)


def test_only_lots_that_share_stock_and_saw_are_compared() -> None:
    with pytest.raises(InputError):
        merge_saving(a_problem((60, 1)), a_problem((40, 1), kerf_nm=1))
