"""What is lost is counted once, however often it is said."""

from __future__ import annotations

from planner.scrap import Scrap, in_all


def lost(pieces: int, operation: str = "L01.SAW", line: str = "1187/2") -> Scrap:
    return Scrap(operation=operation, line=line, pieces=pieces)


def test_what_is_said_once_more_counts_once() -> None:
    assert in_all([lost(2)], [lost(2)]) == (lost(2),)
    assert in_all([lost(2)], []) == (lost(2),)


def test_what_is_said_together_adds_up_and_takes_the_place_of_what_was_known() -> None:
    assert in_all([lost(2)], [lost(1), lost(3)]) == (lost(4),)


def test_other_steps_and_lines_stand_beside_it_and_nothing_takes_it_back() -> None:
    other = lost(1, "L01.P1"), lost(5, line="1187/3")
    assert in_all([lost(2)], other) == (lost(2), *other)
    assert in_all([lost(2), other[0]], [lost(0)]) == (other[0],)


def test_a_stick_is_lost_once_wherever_that_is_said_and_0_takes_it_back() -> None:
    first, later = (
        Scrap(operation=key, line="1187/2", pieces=4, stick="L01-02") for key in ("L01.P3", "L01")
    )
    assert in_all([first], [later]) == (later,)
    assert in_all([], [first, later]) == (later,)
    assert in_all([first], [later.model_copy(update={"pieces": 0})]) == ()
