"""Belts as consumables: wear, changes, what to buy, and which one takes which work."""

from dataclasses import replace
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from planner.finisher.belts import (
    BeltLife,
    BeltPass,
    all_belts,
    belt_use,
    belts_for_area,
    choose,
    life_of,
    nearly_worn,
    wear_of,
)
from planner.tube import Family
from tests.finisher.builders import a_belt_of

LIFE = BeltLife("P120", life_min=100, shelf=1, price_cents=1800)


def a_pass(key: str = "A", minutes: float = 40, **changes: Any) -> BeltPass:
    usual = BeltPass(key, "P120", Family.CARBON, minutes, area_m2=1.0, pieces=10)
    return replace(usual, **changes)


def test_a_belt_is_changed_when_it_is_worn_and_in_the_middle_of_a_pass() -> None:
    use = belt_use(LIFE, [a_pass("A"), a_pass("B"), a_pass("C")])
    assert [(change.operation, change.after_pieces) for change in use.changes] == [("C", 5)]
    assert use.worn_after == pytest.approx(0.2)
    assert use.lives == pytest.approx(1.2)
    assert use.buy == 0


def test_belts_beyond_the_shelf_are_bought() -> None:
    use = belt_use(LIFE, [a_pass(str(n)) for n in range(8)])
    assert len(use.changes) == 3
    assert (use.buy, use.buy_cents) == (2, 3600)


def test_a_belt_nearly_gone_is_changed_before_the_pass() -> None:
    use = belt_use(replace(LIFE, used=0.99), [a_pass("A")])
    assert use.changes[0].after_pieces == 0


def test_one_piece_that_outlasts_a_belt_takes_a_new_one_each_time() -> None:
    use = belt_use(replace(LIFE, life_min=3), [a_pass("A", minutes=40)])
    assert [change.after_pieces for change in use.changes] == list(range(1, 10))


def test_a_belt_that_nobody_counts_is_never_changed() -> None:
    use = belt_use(BeltLife("P120"), [a_pass(str(n)) for n in range(50)])
    assert (use.changes, use.buy, use.counted) == ((), 0, False)


def test_life_counts_in_minutes_or_area_whichever_is_gone_first_and_by_family() -> None:
    life = replace(LIFE, life_m2=5, factors={Family.STAINLESS: 2})
    assert wear_of(life, a_pass(minutes=40, area_m2=1)) == pytest.approx(0.4)
    assert wear_of(life, a_pass(minutes=10, area_m2=1)) == pytest.approx(0.2)
    assert wear_of(life, a_pass(minutes=10, family=Family.STAINLESS)) == pytest.approx(0.4)
    assert belts_for_area(life, 11) == 3
    assert belts_for_area(LIFE, 11) is None


@given(st.lists(st.tuples(st.floats(0.5, 90), st.integers(1, 60)), max_size=20), st.floats(0, 1))
def test_no_belt_runs_past_its_life_by_more_than_one_piece(
    work: list[tuple[float, int]], used: float
) -> None:
    life = replace(LIFE, used=used)
    passes = [a_pass(str(n), minutes, pieces=p) for n, (minutes, p) in enumerate(work)]
    use = belt_use(life, passes)
    largest = max((m / p / 100 for m, p in work), default=0)
    total = used + sum(m for m, _ in work) / 100
    belts = len(use.changes) + 1
    assert use.lives == pytest.approx(total - used)
    assert total <= belts * (1 + largest) + 1e-6


def test_coarse_work_takes_the_nearly_worn_belt_and_last_passes_the_newest() -> None:
    old, new = replace(LIFE, belt="old", used=0.75), replace(LIFE, belt="new", used=0.1)
    short = a_pass(minutes=20)
    assert choose([new, old], replace(short, coarse=True)) == old
    assert choose([new, old], short) == new
    assert choose([old, new], replace(short, coarse=True, minutes=60)) == new
    assert choose([old, new], short, save_new=False) == old
    assert choose([], short) is None
    assert (nearly_worn(old), nearly_worn(new)) == (True, False)


def test_the_shops_sheet_gives_life_use_and_shelf() -> None:
    belt = a_belt_of(life_min=200, used_min=50, count=3, price_cents=2100)
    life = life_of(belt)
    assert (life.used, life.shelf, life.price_cents) == (0.25, 3, 2100)
    assert not life_of(a_belt_of()).counted
    assert [use.belt for use in all_belts([life, LIFE], [a_pass()])] == [belt.name, "P120"]
