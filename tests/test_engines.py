"""The engines as a plan uses them: what they refuse is said in the words of the shop."""

from __future__ import annotations

import pytest

from planner.engines import Engines
from planner.errors import NoPlanError
from planner.schedule import Alternative, Fixed, Interval, Operation, Problem, Station
from tests.week import options


def refusal(*operations: Operation) -> list[str]:
    saw = Station("Saw", hours=(Interval(420, 720), Interval(750, 930)))
    problem = Problem(stations=(saw,), operations=operations, horizon_min=1440)
    with pytest.raises(NoPlanError) as refused:
        Engines().orderer(options()).whole(problem, 0.01)
    return [finding.message for finding in refused.value.findings]


def test_a_latest_end_that_cannot_be_kept_is_said_as_day_and_time() -> None:
    late = Operation("a", (Alternative("Saw", 100),), latest_end_min=500, name="saw of lot L01")
    assert refusal(late) == [
        "Saw of lot L01 ends at Mon 30 Nov 8:40, after its limit, Mon 30 Nov 8:20; "
        "give more hours, a later limit or less work."
    ]


def test_work_at_a_time_that_cannot_be_kept_is_not_told_as_a_full_week() -> None:
    way = (Alternative("Saw", 60),)
    first = Operation("a", way, fixed=Fixed(430, 490, "Saw"), name="saw of lot L01")
    second = Operation("b", way, fixed=Fixed(450, 510, "Saw"), name="saw of lot L02")
    (words,) = refusal(first, second)
    assert words.startswith("Saw of lot L0")
    assert "is fixed at Mon 30 Nov 7:" in words
    assert "are free only at Mon 30 Nov 8:10; move it" in words or "8:30; move it" in words


def test_a_full_week_is_told_by_its_days() -> None:
    (words,) = refusal(Operation("a", (Alternative("Saw", 500),), name="saw of lot L01"))
    assert words.startswith("The week does not fit into its")
