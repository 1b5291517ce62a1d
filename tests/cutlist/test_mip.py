"""A sample of the comparison with an integer program; `python -m tests.cutlist.mip` runs more."""

from __future__ import annotations

from tests.cutlist.mip import check


def test_no_proof_is_false_on_small_groups_of_a_shops_own_sizes() -> None:
    complaints, proven, left_open = check(20, seed=3, work=0.5)
    assert complaints == []
    assert proven >= 15
    assert left_open <= 2
