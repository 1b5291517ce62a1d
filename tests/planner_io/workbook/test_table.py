"""Rows of a table by column: merged cells, ditto marks."""

from __future__ import annotations

from pathlib import Path

import openpyxl
import pytest

from planner.errors import Severity
from planner_io.workbook import read_workbook
from tests.planner_io.workbook.sheets import an_order, some_orders


def test_cells_merged_downwards_count_for_each_of_their_rows(tmp_path: Path) -> None:
    rows = [an_order(), an_order(Line="2", Order=None, Due=None), an_order(Line="3")]
    path = some_orders(tmp_path / "w.xlsx", *rows)
    book = openpyxl.load_workbook(path)
    book["Orders"].merge_cells("A2:A3")
    book["Orders"].merge_cells("J2:J3")
    book.save(path)
    found = read_workbook(path)
    assert [line.key for line in found.orders] == ["1187/1", "1187/2", "1187/3"]
    assert any("merged cells" in text for text in found.readings)


@pytest.mark.parametrize("mark", ['"', "ditto", "do.", "”"])
def test_a_ditto_mark_is_the_cell_above(tmp_path: Path, mark: str) -> None:
    like = an_order(Line="2", Material=mark, OD=mark, Wall=mark, Due=mark, Order=mark)
    path = some_orders(tmp_path / "w.xlsx", an_order(), like, {**like, "Line": "3"})
    found = read_workbook(path)
    assert [(line.order, line.line) for line in found.orders] == [
        ("1187", "1"),
        ("1187", "2"),
        ("1187", "3"),
    ]
    assert len({(line.spec, line.due) for line in found.orders}) == 1
    assert any("ditto marks read as the cell above" in each for each in found.readings)


def test_a_ditto_mark_below_a_blank_cell_is_blank(tmp_path: Path) -> None:
    whole = an_order(OD="1-1/2 x .065", Wall=None)
    path = some_orders(tmp_path / "w.xlsx", whole, {**whole, "Line": "2", "OD": '"', "Wall": '"'})
    found = read_workbook(path)
    assert not [each for each in found.findings if each.severity is Severity.ERROR]
    first, second = found.orders
    assert first.spec == second.spec
