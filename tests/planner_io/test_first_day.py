"""--start takes a date as people write it, and refuses what could be two."""

from __future__ import annotations

from datetime import date

import pytest
import typer

from planner_io.first_day import first_day


@pytest.mark.parametrize(
    "words",
    ["2026-11-30", "30 Nov 2026", "Mon 30 Nov 2026", "November 30, 2026", "30.11.2026", "11/30/26"],
)
def test_a_date_that_can_be_read_one_way_is_read(words: str) -> None:
    assert first_day(words) == date(2026, 11, 30)


@pytest.mark.parametrize(
    "words", ["tomorrow", "", "4/12/2026", "30 Nov", "2026-13-01", "2026-11-30 07:00", "1e9"]
)
def test_anything_else_is_refused_with_what_would_do(words: str) -> None:
    with pytest.raises(typer.BadParameter) as refused:
        first_day(words)
    assert f'read "{words}"' in refused.value.message
    assert "2026-11-30" in refused.value.message
