"""Other tables on a sheet are told, and none of their cells is taken for one of the orders."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path

import pytest

from planner.errors import Severity
from planner_io.workbook import read_workbook
from planner_io.workbook.read import Reading
from tests.planner_io.workbook.sheets import Cell, a_table, a_workbook, an_order

Rows = list[list[Cell]]

ORDERS = a_table([an_order(), an_order(Line="2", Length="40")])
STOCK: Rows = [["Tag", "Material", "OD", "Wall", "Length", "Sticks"]]
STOCK.append(["S1", "304", "1-1/2", ".065", "20 ft", 3])
ELSEWHERE = a_table([{key: an_order()[key] for key in reversed(an_order())}])
"""Order lines with their columns from right to left."""


def reading(path: Path, rows: Sequence[Sequence[Cell]]) -> Reading:
    return read_workbook(a_workbook(path / "w.xlsx", Orders=rows))


def errors(found: Reading) -> list[tuple[str | None, str]]:
    return [(f.cell, f.message) for f in found.findings if f.severity is Severity.ERROR]


@pytest.mark.parametrize("title", [[], [["On the rack"]]], ids=["bare", "titled"])
def test_a_table_of_sticks_below_is_told_once(tmp_path: Path, title: Rows) -> None:
    found = reading(tmp_path, [*ORDERS, [], *title, *STOCK])
    assert len(found.orders) == 2
    ((cell, message),) = errors(found)
    assert cell == "A5"
    assert message.startswith(f"rows 5 to {6 + len(title)} are another table, and not read")
    assert message.endswith("called Stock")


def test_order_lines_with_columns_in_other_places_are_not_read_by_the_first_header(
    tmp_path: Path,
) -> None:
    found = reading(tmp_path, [*ORDERS, [], *ELSEWHERE])
    assert [line.quantity for line in found.orders] == [4, 4]
    ((cell, message),) = errors(found)
    assert (cell, "columns in other places or units" in message) == ("A5", True)


def test_a_table_above_the_one_with_more_columns_is_told(tmp_path: Path) -> None:
    above = [row[1:] for row in ORDERS]
    found = reading(tmp_path, [["Late"], *above, [], ["This week"], *ORDERS])
    assert len(found.orders) == 2
    ((cell, message),) = errors(found)
    assert (cell, message.startswith("rows 1 to 4 are another table")) == ("A1", True)


def test_a_header_that_says_the_same_in_other_words_begins_no_other_table(tmp_path: Path) -> None:
    words = {"Quantity": "Pcs", "Length": "Cut length", "Due": "Wanted"}
    again = [words.get(str(title), title) for title in ORDERS[0]]
    found = reading(tmp_path, [*ORDERS, [], again, list(an_order(Line="3").values())])
    assert errors(found) == []
    assert [line.line for line in found.orders] == ["1", "2", "3"]
    assert "Orders: the header again in row 5" in found.readings


def test_a_table_beside_is_told_and_not_mixed_with_the_orders(tmp_path: Path) -> None:
    sticks: Rows = [*STOCK, [None] * len(STOCK[0])]
    right = [[*one, None, *two] for one, two in zip(ORDERS, sticks, strict=True)]
    left = [[*two, None, *one] for one, two in zip(ORDERS, sticks, strict=True)]
    found, mirrored = reading(tmp_path, right), reading(tmp_path, left)
    assert errors(found) == [
        ("L1", "columns L to Q are another table, and not read: put it on a sheet of its own")
    ]
    assert [cell for cell, _ in errors(mirrored)] == ["A1"]
    assert len(found.orders) == 2
    assert mirrored.orders == tuple(
        line.model_copy(update={"place": line.place.replace("A", "H")}) for line in found.orders
    )


def test_a_blank_column_within_the_orders_parts_no_table(tmp_path: Path) -> None:
    found = reading(tmp_path, [[*row[:4], None, *row[4:]] for row in ORDERS])
    assert (len(found.orders), errors(found)) == (2, [])


def test_lines_of_dashes_and_repeated_titles_are_left_out_and_told(tmp_path: Path) -> None:
    dashes: Rows = [["------", "==", "---", "--"]]
    rows: Rows = [
        ["Register", None, "Page 1 of 2"],
        *(ORDERS[:1] + dashes + ORDERS[1:2]),
        ["Register", None, "page 2 of 2"],
        *(ORDERS[:1] + dashes + ORDERS[2:]),
    ]
    found = reading(tmp_path, rows)
    assert (len(found.orders), errors(found)) == (2, [])
    assert "Orders: lines and titles that stand above, left out: row 3, 5, 7" in found.readings
    assert "Orders: the header again in row 6" in found.readings


def test_a_heading_that_is_only_like_a_title_above_is_no_title(tmp_path: Path) -> None:
    found = reading(tmp_path, [["Job 1187"], *ORDERS[:2], ["Job 1188"], *ORDERS[2:]])
    assert [each.cell for each in found.findings] == ["A4"]


def test_order_lines_in_another_unit_are_not_read_by_the_first_header(tmp_path: Path) -> None:
    in_mm = [[{"Length": "Length (mm)"}.get(str(cell), cell) for cell in row] for row in ORDERS]
    found = reading(tmp_path, [*ORDERS, [], *in_mm])
    assert len(found.orders) == 2
    ((cell, message),) = errors(found)
    assert (cell, "columns in other places or units" in message) == ("A5", True)
