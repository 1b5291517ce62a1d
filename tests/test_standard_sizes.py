"""The size tables answer by name, number and OD."""

from __future__ import annotations

from fractions import Fraction

import pytest

from planner.standard_sizes import (
    BWG_NM,
    PIPES,
    pipe,
    pipe_of_dn,
    pipe_of_od,
    pipe_of_size,
    schedule_name,
)


def test_a_pipe_is_found_by_name_size_dn_and_od() -> None:
    found = pipe("1-1/4")
    assert pipe_of_size(Fraction(5, 4)) is found
    assert pipe_of_dn(32) is found
    assert pipe_of_od(found.od_nm) is found


def test_what_the_table_does_not_hold_is_not_found() -> None:
    assert pipe_of_size(Fraction(9)) is pipe_of_dn(33) is pipe_of_od(1) is None
    with pytest.raises(KeyError):
        pipe("9")


def test_schedules_have_one_name() -> None:
    assert [schedule_name(s) for s in ("10", "10s", "40S", "std", "xs", "160")] == [
        *("10S", "10S", "40", "40", "80", "160")
    ]


def test_sizes_and_walls_only_grow() -> None:
    ods = [row.od_nm for row in PIPES]
    assert ods == sorted(set(ods))
    for row in PIPES:
        walls = list(row.walls_nm.values())
        assert walls == sorted(set(walls))
        assert 2 * walls[-1] < row.od_nm


def test_a_higher_gauge_is_thinner() -> None:
    walls = [BWG_NM[number] for number in sorted(BWG_NM)]
    assert walls == sorted(set(walls), reverse=True)
