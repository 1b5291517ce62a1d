"""What speaks against the due dates of a sheet is told at their cells."""

from __future__ import annotations

import datetime as dt
from pathlib import Path

import openpyxl
import pytest
from openpyxl.utils.datetime import CALENDAR_MAC_1904

from planner.errors import Finding
from planner_io.workbook import read_workbook
from tests.planner_io.workbook.readings import reading, the_line
from tests.planner_io.workbook.sheets import Cell, an_order, some_orders

MONDAY = dt.date(2026, 11, 30)


def doubts(path: Path, *dues: Cell, hours: list[list[Cell]] | None = None) -> list[Finding]:
    """What is said of these due dates, a line each."""
    rows = [an_order(Line=str(number), Due=due) for number, due in enumerate(dues, 1)]
    sheets = {"Hours": hours} if hours else {}
    book = some_orders(path / "w.xlsx", *rows, **sheets)
    found = read_workbook(book, start=MONDAY).findings
    return [each for each in found if (each.cell or "").startswith("J")]


@pytest.mark.parametrize(
    ("dues", "cell"),
    [
        (("04.12.2026", "05.12.2026", "12.04.2026"), "J4"),
        (("12/3/2026", "12/4/2026", "3/12/2026", "12/5/2026"), "J4"),
        (("12/3/2026", "3/12/2026"), "J3"),
    ],
)
def test_a_date_the_other_way_round_than_its_column_is_doubted(
    tmp_path: Path, dues: tuple[Cell, ...], cell: str
) -> None:
    (doubt,) = doubts(tmp_path, *dues)
    assert doubt.cell == cell
    assert "the other way round than most dates of the column" in doubt.message


def test_dates_with_points_and_with_slashes_may_differ(tmp_path: Path) -> None:
    assert not doubts(tmp_path, "12/3/2026", "12/4/2026", "4.12.2026", "4 Dec 2026")


@pytest.mark.parametrize("due", ["Fri 4 am", "Fri 4:00", dt.datetime(2026, 12, 4, 4)])
def test_a_due_time_before_the_shop_opens_is_doubted(tmp_path: Path, due: Cell) -> None:
    (doubt,) = doubts(tmp_path, due)
    assert "due at 4:00, before the shop opens at 7:00" in doubt.message
    assert "write 4:00 pm if the afternoon is meant" in doubt.message


@pytest.mark.parametrize("due", ["Fri 7:00", "Fri 4 pm", "Fri noon", "Fri", "Sat 4 am"])
def test_a_due_time_in_the_shops_hours_or_on_a_closed_day_is_not(tmp_path: Path, due: Cell) -> None:
    assert not doubts(tmp_path, due)


def test_a_shift_over_midnight_is_not_taken_for_closed(tmp_path: Path) -> None:
    hours: list[list[Cell]] = [
        ["Who", "Day", "Kind", "From", "To"],
        ["shop", "Monday", "work", "22:00", "24:00"],
        ["shop", "Tuesday", "work", "0:00", "6:00"],
    ]
    assert not doubts(tmp_path, "1 Dec 2026 4:00", hours=hours)


MADE = (dt.datetime(2026, 4, 12), dt.datetime(2026, 7, 12))
"""Dates that a spreadsheet made of 12/4/2026 and 12/7/2026 by day and month."""


def test_dates_whose_day_and_month_a_spreadsheet_may_have_swapped_are_doubted(
    tmp_path: Path,
) -> None:
    found = doubts(tmp_path, *MADE, "12/14/2026", "12/15/2026")
    assert ["may have swapped day and month" in each.message for each in found][:1] == [True]
    assert found[0].cell == "J2"


@pytest.mark.parametrize(
    "dues",
    [
        (*MADE, dt.datetime(2026, 12, 14), "12/15/2026", "12/16/2026"),
        (*MADE, "12/14/2026", "12/4/2026"),
        (*MADE, "4 Dec 2026", "7 Dec 2026"),
    ],
)
def test_other_dates_beside_text_are_not(tmp_path: Path, dues: tuple[Cell, ...]) -> None:
    assert not any("swapped" in each.message for each in doubts(tmp_path, *dues))


def test_dates_without_a_year_are_read_by_the_day_where_there_is_no_start(tmp_path: Path) -> None:
    rows = [an_order(Line=str(number), Due=due) for number, due in enumerate(("4 Dec", "5/31"), 1)]
    book = some_orders(tmp_path / "w.xlsx", *rows)
    found = read_workbook(book, today=MONDAY)
    assert [line.due.date() for line in found.orders] == [
        dt.date(2026, 12, 4),
        dt.date(2027, 5, 31),
    ]
    assert any(
        "“4 Dec” read as 4 Dec 2026, the nearest to today" in each for each in found.readings
    )
    (doubt,) = (each for each in found.findings if (each.cell or "").startswith("J"))
    assert (doubt.cell, "months ahead" in doubt.message) == ("J3", True)
    start = [["Setting", "Value"], ["Plan starts", "1 Dec"]]
    assert read_workbook(
        some_orders(tmp_path / "s.xlsx", *rows, Settings=start), today=MONDAY
    ).start == dt.date(2026, 12, 1)


@pytest.mark.parametrize(
    ("due", "expected"),
    [
        (dt.date(2026, 12, 4), dt.datetime(2026, 12, 4, 15, 30)),
        ("4 Dec 2026", dt.datetime(2026, 12, 4, 15, 30)),
        ("2026-12-05", dt.datetime(2026, 12, 5, 23, 59)),
        (dt.datetime(2026, 12, 4, 10, 0), dt.datetime(2026, 12, 4, 10, 0)),
    ],
)
def test_a_date_alone_is_due_at_the_end_of_the_shops_day(
    due: Cell, expected: dt.datetime, tmp_path: Path
) -> None:
    assert the_line(tmp_path, Due=due).due == expected


def test_a_date_before_the_plan_starts_is_doubted(tmp_path: Path) -> None:
    settings: list[list[Cell]] = [["Setting", "Value"], ["Plan starts", "2026-11-30"]]
    found = reading(tmp_path, an_order(Due="2026-11-20"), Settings=settings)
    assert len(found.orders) == 1
    assert any("before the plan starts" in each.message for each in found.findings)


def test_day_numbers_count_from_the_workbooks_own_first_day(tmp_path: Path) -> None:
    path = some_orders(tmp_path / "w.xlsx", an_order(Due=46360 - 1462))
    book = openpyxl.load_workbook(path)
    book.epoch = CALENDAR_MAC_1904
    book.save(path)
    assert read_workbook(path).orders[0].due.date() == dt.date(2026, 12, 4)


def test_a_date_below_req_d_is_the_due_date_where_pieces_have_a_column(tmp_path: Path) -> None:
    row = {("Req'd" if key == "Due" else key): value for key, value in an_order().items()}
    (line,) = reading(tmp_path, row).orders
    assert (line.quantity, line.due.day) == (4, 4)
    counted = {("Req'd" if key == "Quantity" else key): value for key, value in an_order().items()}
    (line,) = reading(tmp_path, counted).orders
    assert (line.quantity, line.due.day) == (4, 4)


def test_a_day_without_a_year_that_comes_out_months_ahead_is_warned_of(tmp_path: Path) -> None:
    rows = [an_order(Line=str(n), Due=due) for n, due in enumerate(("12/14", "4/12", "12/4/2026"))]
    found = read_workbook(some_orders(tmp_path / "w.xlsx", *rows), start=dt.date(2026, 11, 30))
    (warning,) = found.findings
    assert (warning.cell, warning.read) == ("J3", "4/12")
    assert "due on 2027-04-12, months ahead" in warning.message
