"""Rows that say everything in one cell are refused with the columns that are wanted."""

from __future__ import annotations

from pathlib import Path

import pytest

from planner_io.workbook import read_workbook
from planner_io.workbook.one_cell import seen
from tests.planner_io.workbook.sheets import Cell, a_workbook, an_order, some_orders

DUE = "2026-12-04"


def errors(tmp_path: Path, *rows: list[Cell]) -> list[tuple[str | None, str]]:
    found = read_workbook(a_workbook(tmp_path / "w.xlsx", Orders=rows))
    assert found.orders == ()
    return [(one.cell, one.message) for one in found.findings if one.severity == "error"]


def test_one_sentence_says_what_to_split_with_what_is_seen(tmp_path: Path) -> None:
    text = "38.1 x 1.5 304 tube 1200 long satin, qty 6"
    rows: list[list[Cell]] = [["Job", "Description", "Due"], ["1", text, DUE]]
    assert errors(tmp_path, *rows) == [
        (
            "B2",
            f"“{text}” says several things in one cell, and none is read from there: give each a "
            "column of its own, here OD 38.1, Wall 1.5, Length 1200, Quantity 6, and the rest "
            "under Material and Finish",
        )
    ]


def test_what_the_cells_do_not_say_is_asked_for_besides(tmp_path: Path) -> None:
    rows: list[list[Cell]] = [["Job", "Description"], ["1", "1-1/2 x .065 A513 tube, 4 off"]]
    (cell, first), (_, second) = errors(tmp_path, *rows)
    assert (cell, "OD 1-1/2, Wall .065, Quantity 4" in first) == ("B2", True)
    assert "there is no column Due" in second


@pytest.mark.parametrize(
    "text", ["Rail post", "2 x 4 bracket", "38.1 x 1.5", "5 x 2 hours", "tube 304", "12 x 6"]
)
def test_other_words_are_no_tube(text: str) -> None:
    assert seen(text) == {}


def test_a_sheet_with_its_columns_is_read_whatever_its_parts_are_called(tmp_path: Path) -> None:
    order = an_order(Part="38.1 x 1.5 304 tube 1200 long satin, qty 6")
    found = read_workbook(some_orders(tmp_path / "w.xlsx", order))
    assert [line.quantity for line in found.orders] == [4]


def test_a_row_of_sizes_is_not_taken_for_a_part_of_the_header(tmp_path: Path) -> None:
    rows: list[list[Cell]] = [["Job", "Qty", "Finish", "Due"], ["1", 6, "tube 38 satin", DUE]]
    assert not any("part of the header" in text for _, text in errors(tmp_path, *rows))
