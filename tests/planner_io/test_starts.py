"""On which day a plan begins where nobody says."""

from __future__ import annotations

import datetime as dt
from pathlib import Path

import pytest

from planner_io.starts import choose_start
from planner_io.workbook import read_workbook
from tests.planner_io.workbook.sheets import an_order, some_orders


@pytest.mark.parametrize(
    ("today", "first", "because"),
    [
        (dt.date(2026, 11, 30), dt.date(2026, 11, 30), "today"),
        (dt.date(2026, 12, 1), dt.date(2026, 12, 7), "next Monday"),
        (dt.date(2026, 12, 4), dt.date(2026, 12, 7), "next Monday"),
        (dt.date(2026, 12, 6), dt.date(2026, 12, 7), "next Monday"),
    ],
)
def test_a_plan_begins_on_the_monday_that_comes_or_is(
    today: dt.date, first: dt.date, because: str, tmp_path: Path
) -> None:
    order = an_order(Due=dt.date(2026, 12, 18))
    start = choose_start(None, read_workbook(some_orders(tmp_path / "w.xlsx", order)), today)
    assert (start.day, start.because) == (first, because)
