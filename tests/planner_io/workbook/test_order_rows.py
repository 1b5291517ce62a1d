"""Which rows of Orders are order lines."""

from __future__ import annotations

from pathlib import Path

import pytest

from planner.errors import Severity
from tests.planner_io.workbook.readings import reading
from tests.planner_io.workbook.sheets import Cell, an_order


def test_totals_and_blank_rows_are_left_out(tmp_path: Path) -> None:
    rows: list[dict[str, Cell]] = [an_order(), {}, {"Order": "Grand total", "Quantity": 4}]
    found = reading(tmp_path, *rows, {"Quantity": 4})
    assert len(found.orders) == 1
    assert not found.findings
    assert any("Orders!A4" in text and "totals" in text for text in found.readings)


def test_a_total_says_so_in_any_column(tmp_path: Path) -> None:
    rows: list[dict[str, Cell]] = [{"Due": "TOTAL", "Quantity": 4}, {"Length": "Sum"}]
    found = reading(tmp_path, an_order(), *rows)
    assert len(found.orders) == 1
    assert not found.findings


def test_a_line_with_a_tube_is_no_total_whatever_it_is_called(tmp_path: Path) -> None:
    (line,) = reading(tmp_path, an_order(Part="Total station post")).orders
    assert line.part == "Total station post"


def test_a_header_that_is_repeated_on_each_page_is_left_out(tmp_path: Path) -> None:
    header: dict[str, Cell] = {name: name for name in an_order()}
    rows = [an_order(), header, an_order(Line="2")]
    found = reading(tmp_path, *rows)
    assert len(found.orders) == 2
    assert not found.findings
    assert "Orders: the header again in row 3" in found.readings


def test_a_remark_between_the_rows_is_one_warning(tmp_path: Path) -> None:
    remark: dict[str, Cell] = {"Order": "*** hold until the paint is here ***"}
    (finding,) = reading(tmp_path, an_order(), remark, an_order(Line="2")).findings
    assert (finding.cell, finding.severity) == ("A3", Severity.WARNING)
    assert "left out as a heading" in finding.message


def test_notes_below_the_table_are_left_out_with_a_warning(tmp_path: Path) -> None:
    notes: list[dict[str, Cell]] = [
        {"Order": "NOTE: wrap all stainless"},
        {"Due": "approved: J."},
        {"Order": "Foreman: call the office", "Quantity": "tel ext 12"},
    ]
    found = reading(tmp_path, an_order(), *notes)
    assert len(found.orders) == 1
    assert {finding.severity for finding in found.findings} == {Severity.WARNING}
    assert [finding.read for finding in found.findings] == [
        "NOTE: wrap all stainless",
        "approved: J.",
        "Foreman: call the office; tel ext 12",
    ]


@pytest.mark.parametrize(
    "row", [{"Order": "1190", "Quantity": "12"}, {"Due": "2026-12-04"}, {"Length": 12.5}]
)
def test_an_order_line_below_the_table_that_lacks_nearly_all_is_an_error(
    row: dict[str, Cell], tmp_path: Path
) -> None:
    found = reading(tmp_path, an_order(), row)
    assert any(finding.severity == Severity.ERROR for finding in found.findings)


def test_an_order_s_name_above_its_lines_is_no_note(tmp_path: Path) -> None:
    name = {**dict.fromkeys(an_order()), "Order": "1190"}
    found = reading(tmp_path, name, an_order(Order=None))
    assert [line.order for line in found.orders] == ["1190"]


@pytest.mark.parametrize(
    "word",
    [
        *("Report total", "Total for week", "Sub-total Jones", "Week sum", "Zwischensumme"),
        *("Job 2241 total", "#7 GT total", "Total: 14"),
    ],
)
def test_totals_may_be_called_in_several_words(tmp_path: Path, word: str) -> None:
    found = reading(tmp_path, an_order(), {"Order": word, "Quantity": 4})
    assert not found.findings
    assert any("row of totals" in each for each in found.readings)
