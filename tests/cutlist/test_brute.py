"""A sample of the brute-force comparison; `python -m tests.cutlist.brute` runs all of it."""

from __future__ import annotations

from tests.cutlist.brute import check


def test_no_floor_is_wrong_and_no_proof_false_on_tiny_problems() -> None:
    complaints, closed = check(150, seed=20)
    assert complaints == []
    assert closed >= 140
