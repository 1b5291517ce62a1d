"""A header may stand in two rows: units below the titles, or parts of a title above them."""

from __future__ import annotations

import datetime as dt
from pathlib import Path

import openpyxl

from planner.orders import CutLength
from planner_io.workbook import Reading, read_workbook
from tests.planner_io.workbook.sheets import Cell, a_workbook

DUE = dt.date(2026, 12, 4)


def reading(path: Path, *rows: list[Cell]) -> Reading:
    return read_workbook(a_workbook(path / "w.xlsx", Orders=rows))


def test_units_below_the_titles_are_those_of_the_columns(tmp_path: Path) -> None:
    found = reading(
        tmp_path,
        ["Order", "Part", "Qty", "Material", "OD", "Wall", "Finish", "Length", "Due"],
        [None, None, "pcs", None, "mm", "mm", None, "mm", None],
        ["1187", "Post", 4, "304", 38.1, 1.65, "Satin P180", 900, DUE],
    )
    (line,) = found.orders
    assert (line.quantity, line.spec.od_nm, line.spec.wall_nm) == (4, 38_100_000, 1_651_000)
    assert isinstance(line.shape, CutLength)
    assert line.shape.length_nm == 900_000_000
    assert "Orders: rows 1 and 2 read as one header" in found.readings


def test_a_title_over_several_columns_is_the_first_half_of_theirs(tmp_path: Path) -> None:
    found = reading(
        tmp_path,
        ["Order", "Part", "Qty", "Material", "Tube", None, "Length", None, "Finish", "Due"],
        [None, None, None, None, "OD", "Wall", "ft", "in", None, "date"],
        ["1187", "Post", 4, "304", "1-1/2", ".065", 3, "2 1/2", "Satin P180", DUE],
    )
    (line,) = found.orders
    assert (line.spec.od_nm, line.spec.wall_nm) == (38_100_000, 1_651_000)
    assert isinstance(line.shape, CutLength)
    assert line.shape.length_nm == 38_500_000 * 254 // 10


def test_titles_merged_over_both_rows_stand_once(tmp_path: Path) -> None:
    path = a_workbook(
        tmp_path / "w.xlsx",
        Orders=[
            ["Order", "Part", "Qty", "Material", "Tube", None, "Finish", "Length", "Due"],
            [None, None, None, None, "OD", "Wall", None, None, None],
            ["1187", "Post", 4, "304", "1-1/2", ".065", "Satin P180", "36", DUE],
        ],
    )
    book = openpyxl.load_workbook(path)
    for cells in ("A1:A2", "B1:B2", "E1:F1", "I1:I2"):
        book["Orders"].merge_cells(cells)
    book.save(path)
    found = read_workbook(path)
    assert [(line.order, line.part) for line in found.orders] == [("1187", "Post")]
    assert not found.findings


def test_a_first_row_of_words_is_not_taken_for_a_half_of_the_header(tmp_path: Path) -> None:
    found = reading(
        tmp_path,
        ["Order", "Part", "Qty", "Material", "OD", "Wall", "Finish", "Length", "Due"],
        ["Rail", "Wall", "some", "stainless", "see", "Wall", "none", "Length", "soon"],
    )
    assert not found.orders
    assert not any("one header" in each for each in found.readings)
    assert {finding.cell for finding in found.findings} >= {"C2", "E2", "I2"}


def test_a_title_right_above_the_header_is_no_half_of_it(tmp_path: Path) -> None:
    found = reading(
        tmp_path,
        ["Week 49", "Gates", "Rails"],
        ["Order", "Part", "Pcs", "Material", "OD", "Wall", "Finish", "Length", "Req'd"],
        ["1187", "Post", 4, "304", "1-1/2", ".065", "Satin P180", "36", DUE],
    )
    assert [(line.quantity, line.due.date()) for line in found.orders] == [(4, DUE)]
    assert not any("one header" in each for each in found.readings)


def test_a_header_in_two_rows_that_do_not_fit_together_is_to_be_written_in_one(
    tmp_path: Path,
) -> None:
    top = ["Order", "Qty", "Stock", "", "", "Length", "Due"]
    below = ["", "per list 7", "Mat'l", "Dia", "Gage", "mm", ""]
    row: list[Cell] = ["W-1", 4, "304", "1.5", "16ga", 600, "2026-12-04"]
    findings = read_workbook(a_workbook(tmp_path / "w.xlsx", Orders=[top, below, row])).findings
    absent = [finding.message for finding in findings if "no column" in finding.message]
    assert len(absent) >= 2
    told = [said for said in absent if "row 2 looks like a part of the header" in said]
    assert len(told) >= 2


def test_words_below_a_title_that_name_no_column_are_remarks_on_it(tmp_path: Path) -> None:
    top = ["Order", "Qty", "Tube", "", "", "Length", "Due", "Notch", ""]
    below = ["", "as listed", "Mat'l", "OD", "Wall", "rough", "", "A", "B"]
    row: list[Cell] = ["W-1", 4, "304", "1.5", ".065", 36, "2026-12-04", "1-1/2 @ 90", "square"]
    reading = read_workbook(a_workbook(tmp_path / "w.xlsx", Orders=[top, below, row]))
    (line,) = reading.orders
    assert line.quantity == 4
    assert [str(end.kind) for end in line.ends] == ["saddle", "square"]
    assert any("Qty as listed" in each for each in reading.readings)
    top[1], below[1] = "Qty", "/car"
    error = read_workbook(a_workbook(tmp_path / "v.xlsx", Orders=[top, below, row]))
    assert error.orders == ()
    assert any("has not the pieces in all" in each.message for each in error.findings)
