"""Order lists of one sheet a day."""

from __future__ import annotations

from datetime import date
from pathlib import Path

from planner.errors import Severity
from planner_io.workbook import read_workbook
from tests.planner_io.workbook.sheets import Cell, a_table, a_workbook, an_order


def without_due(**changes: Cell) -> dict[str, Cell]:
    return {name: value for name, value in an_order(**changes).items() if name != "Due"}


def test_sheets_called_by_days_are_all_read_and_due_on_their_day(tmp_path: Path) -> None:
    path = a_workbook(
        tmp_path / "w.xlsx",
        Monday=a_table([without_due()]),
        Dienstag=a_table([without_due(Order="1190")]),
        Fri=a_table([an_order(Order="1191", Due="2026-12-03")]),
    )
    found = read_workbook(path, start=date(2026, 11, 30))
    assert not found.findings
    assert [(line.order, line.due.date().day, line.place) for line in found.orders] == [
        ("1187", 30, "Monday!A2"),
        ("1190", 1, "Dienstag!A2"),
        ("1191", 3, "Fri!A2"),
    ]
    assert "sheets read as Orders: Monday, Dienstag, Fri" in found.readings
    assert "Dienstag: no column Due: due on 1 Dec 2026, as the sheet is called" in found.readings


def test_a_day_that_is_not_known_is_asked_for_on_each_sheet(tmp_path: Path) -> None:
    sheets = {day: a_table([without_due(Order=day)]) for day in ("Mon", "Tue")}
    found = read_workbook(a_workbook(tmp_path / "w.xlsx", **sheets))
    assert [(each.sheet, "no column Due" in each.message) for each in found.findings] == [
        *(("Mon", True), ("Tue", True))
    ]
    assert all("or give --start" in each.message for each in found.findings)


def test_a_line_on_two_days_is_told_with_both_places(tmp_path: Path) -> None:
    sheets = {day: a_table([without_due(Line="1")]) for day in ("Mon", "Tue")}
    found = read_workbook(a_workbook(tmp_path / "w.xlsx", **sheets), start=date(2026, 11, 30))
    (problem,) = found.findings
    assert (problem.sheet, problem.cell, "stands in Mon!A2" in problem.message) == (
        *("Tue", "B2", True),
    )


def test_a_sheet_called_orders_counts_more_than_days(tmp_path: Path) -> None:
    sheets = {day: a_table([an_order(Order=day)]) for day in ("Mon", "Tue", "Orders")}
    found = read_workbook(a_workbook(tmp_path / "w.xlsx", **sheets))
    assert [line.order for line in found.orders] == ["Orders"]
    assert [each.sheet for each in found.findings] == ["Mon", "Tue"]


def test_a_day_that_lacks_a_column_is_told_among_the_days(tmp_path: Path) -> None:
    mon, tue = a_table([without_due()]), a_table([without_due(Line="2")])
    short = [[cell for cell in row if cell not in ("Quantity", 4)] for row in mon]
    sheets = {"Mon": mon, "Tue": tue, "Wed": short}
    found = read_workbook(a_workbook(tmp_path / "w.xlsx", **sheets), start=date(2026, 11, 30))
    messages = [(f.sheet, f.message) for f in found.findings if f.severity is Severity.ERROR]
    assert [(sheet, "no column Quantity" in text) for sheet, text in messages] == [("Wed", True)]
