"""The compiled tables against a plain twin."""

from __future__ import annotations

from itertools import product

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from planner.cutlist.knapsack import Knapsack, TooManyError, enumerate_patterns

ITEMS = st.lists(
    st.tuples(st.integers(1, 40), st.integers(0, 4), st.integers(0, 30)),
    min_size=1,
    max_size=5,
    unique_by=lambda item: item[0],
)


def patterns(items: list[tuple[int, int, int]], room: int, few: int) -> list[tuple[int, ...]]:
    """Every pattern that fits, the slow way."""
    counts = product(*(range(most + 1) for _, most, _ in items))
    return [
        c
        for c in counts
        if sum(n * size for n, (size, _, _) in zip(c, items, strict=True)) <= room
        and sum(n > 0 for n in c) <= few
    ]


def value(items: list[tuple[int, int, int]], counts: tuple[int, ...]) -> int:
    return sum(n * worth for n, (_, _, worth) in zip(counts, items, strict=True))


@settings(max_examples=60)
@given(items=ITEMS, room=st.integers(1, 90), few=st.sampled_from([None, 1, 2]))
def test_tables_and_traces_agree_with_trying_everything(
    items: list[tuple[int, int, int]], room: int, few: int | None
) -> None:
    table = Knapsack([size for size, _, _ in items], room, few)
    table.bound([most for _, most, _ in items])
    best = table.fill(np.array([worth for _, _, worth in items], dtype=np.int32)).tolist()
    limit = len(items) if few is None else few
    for at in range(room + 1):
        fitting = patterns(items, at, limit)
        assert best[at] == max(value(items, counts) for counts in fitting)
        traced = tuple(table.trace(at).tolist())
        assert traced in fitting
        assert value(items, traced) == best[at]


@settings(max_examples=60)
@given(items=ITEMS, room=st.integers(1, 60), above=st.integers(-1, 30), least=st.integers(0, 60))
def test_enumeration_lists_every_full_pattern_of_enough_value(
    items: list[tuple[int, int, int]], room: int, above: int, least: int
) -> None:
    items = sorted(items, reverse=True)
    sizes, most = [size for size, _, _ in items], [n for _, n, _ in items]
    values = np.array([worth for _, _, worth in items], dtype=np.int32)
    found = enumerate_patterns(sizes, most, values, [(room, above, least)], None, 5000, 10**6)
    used = {c: sum(n * s for n, s in zip(c, sizes, strict=True)) for c in patterns(items, room, 9)}
    full = {
        counts
        for counts, taken in used.items()
        if taken > above
        and value(items, counts) >= least
        and not any(counts[i] < most[i] and taken + sizes[i] <= room for i in range(len(sizes)))
    }
    assert {tuple(row) for row in found[0].tolist()} == full


def test_enumeration_says_when_there_are_too_many() -> None:
    values = np.ones(8, dtype=np.int32)
    with pytest.raises(TooManyError):
        enumerate_patterns(list(range(8, 0, -1)), [1] * 8, values, [(18, -1, 0)], None, 3, 10**6)
