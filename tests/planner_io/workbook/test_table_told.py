"""What is told of a table as a whole."""

from __future__ import annotations

from pathlib import Path

import pytest

from planner.errors import Severity
from planner_io.workbook import read_workbook
from tests.planner_io.workbook.sheets import Cell, a_table, a_workbook, an_order, some_orders


def test_two_columns_of_one_meaning_are_told(tmp_path: Path) -> None:
    found = read_workbook(some_orders(tmp_path / "w.xlsx", an_order(Qty=4)))
    assert found.orders[0].quantity == 4
    assert not found.findings
    assert any("D, “Quantity”, is used" in text for text in found.readings)
    found = read_workbook(some_orders(tmp_path / "v.xlsx", an_order(Qty=9)))
    assert found.orders[0].quantity == 4
    assert ["D, “Quantity”, is used" in each.message for each in found.findings] == [True]


def test_a_column_without_a_header_is_told(tmp_path: Path) -> None:
    rows = a_table([an_order()])
    path = a_workbook(tmp_path / "w.xlsx", Orders=[rows[0], [*rows[1], "stray"]])
    assert "Orders: columns that are not used: K (without a header)" in read_workbook(path).readings


def test_two_columns_of_due_dates_that_differ_are_doubted(tmp_path: Path) -> None:
    row = {**an_order(), "Req date": "2026-12-02"}
    (finding,) = read_workbook(some_orders(tmp_path / "w.xlsx", row)).findings
    assert (finding.severity, "both mean Due" in finding.message) == (Severity.WARNING, True)
    same = {**an_order(), "Req date": "2026-12-04"}
    assert not read_workbook(some_orders(tmp_path / "v.xlsx", same)).findings


def test_two_columns_of_lengths_that_differ_are_doubted(tmp_path: Path) -> None:
    """One may be the stick's."""
    (finding,) = read_workbook(
        some_orders(tmp_path / "w.xlsx", {**an_order(), "Cut length": 40})
    ).findings
    assert (finding.severity, "both mean Length" in finding.message) == (Severity.WARNING, True)


@pytest.mark.parametrize(("mm", "doubts"), [(914.4, 0), (914, 0), (1016, 1)])
def test_one_length_in_two_units_is_no_doubt(tmp_path: Path, mm: float, doubts: int) -> None:
    row = {key: cell for key, cell in an_order().items() if key != "Length"}
    path = some_orders(tmp_path / "w.xlsx", {**row, "Length (in)": 36, "Length (mm)": mm})
    assert len(read_workbook(path).findings) == doubts


def test_two_headers_that_are_guessed_to_mean_one_column_are_told(tmp_path: Path) -> None:
    row = {key: cell for key, cell in an_order().items() if key != "Due"}
    dates = {"New due": "2026-12-04", "Due revised": "2026-12-02"}
    (finding,) = read_workbook(some_orders(tmp_path / "w.xlsx", {**row, **dates})).findings
    assert (finding.severity, "both mean Due" in finding.message) == (Severity.WARNING, True)


@pytest.mark.parametrize("first", ["square", None])
def test_two_columns_of_ends_that_differ_are_refused(first: Cell, tmp_path: Path) -> None:
    rows = (
        {**an_order(), "Cope": "saddle 1-1/2", "Miter": "saddle 1-1/2"},
        {**an_order(Line="2"), "Cope": first, "Miter": "mitre 45"},
    )
    found = read_workbook(some_orders(tmp_path / "w.xlsx", *rows)).findings
    (error,) = (one.message for one in found if one.severity is Severity.ERROR)
    assert "though row 3 differs; write what both say under End 1 and End 2" in error


def test_an_order_may_have_two_numbers(tmp_path: Path) -> None:
    found = read_workbook(some_orders(tmp_path / "w.xlsx", {**an_order(), "PO": "88-1"}))
    assert (found.findings, found.orders[0].order) == ((), "1187")
