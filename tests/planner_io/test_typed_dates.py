"""--start and --now take dates as people write them, and refuse what could be two."""

from __future__ import annotations

from datetime import date, datetime

import pytest
import typer

from planner_io.typed_dates import first_day, time_of_day


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


@pytest.mark.parametrize(
    "words", ["2026-12-02 10:30", "2026-12-02T10:30", "2 Dec 2026 10:30", "Wed 2 Dec 2026 10:30 am"]
)
def test_a_time_is_read_with_its_date(words: str) -> None:
    assert time_of_day(words) == datetime(2026, 12, 2, 10, 30)


@pytest.mark.parametrize("words", ["yesterday", "", "10:30", "2026-12-02", "4/12/2026 10:30"])
def test_a_time_without_its_date_or_a_date_alone_is_refused(words: str) -> None:
    with pytest.raises(typer.BadParameter) as refused:
        time_of_day(words)
    assert f'read "{words}"' in refused.value.message
