"""Cells of a row that may mean two things, and how they were read."""

from __future__ import annotations

from pathlib import Path

import pytest

from planner_io.workbook import read_workbook
from tests.planner_io.workbook.sheets import Cell, an_order, some_orders


@pytest.mark.parametrize(
    ("quantity", "od", "length", "cells"),
    [
        ("1.000", "38,1", "640,5", {"D2"}),
        ("12", "38,1", "1.250", {"I2"}),
        ("12", "38,1", "1.250,5", set[str]()),
        ("12.000", "38.1", "640.5", set[str]()),
    ],
)
def test_a_point_before_three_figures_is_doubted_where_commas_stand_before_decimals(
    quantity: str, od: str, length: str, cells: set[str], tmp_path: Path
) -> None:
    row = an_order(Quantity=quantity, OD=f"{od} mm", Wall="1.65 mm", Length=f"{length} mm")
    reading = read_workbook(some_orders(tmp_path / "w.xlsx", row))
    assert {finding.cell for finding in reading.findings if "may mean" in finding.message} == cells


def test_lengths_are_doubted_by_the_commas_of_their_own_column(tmp_path: Path) -> None:
    rows = (an_order(Length="640,5 mm"), an_order(Line="2", Length="1.250 mm"))
    (finding,) = read_workbook(some_orders(tmp_path / "w.xlsx", *rows)).findings
    assert (finding.cell, finding.read) == ("I3", "1.250 mm")
    assert "1.250 may mean 1,250 or 1250, as “640,5 mm” has a comma" in finding.message


def test_how_a_length_was_read_is_told_with_what_it_says(tmp_path: Path) -> None:
    reading = read_workbook(some_orders(tmp_path / "w.xlsx", an_order(Length="1.250,5 mm")))
    assert "Orders!I2: “1.250,5 mm”: read as 1250.5" in reading.readings


def test_a_quantity_with_decimals_is_told(tmp_path: Path) -> None:
    reading = read_workbook(some_orders(tmp_path / "w.xlsx", an_order(Quantity="12.000 pcs")))
    assert reading.orders[0].quantity == 12
    assert "Orders!D2: “12.000 pcs” read as 12" in reading.readings


@pytest.mark.parametrize(
    ("written", "pieces"),
    [("1 dz", 12), ("2 doz.", 24), ("1 dozen", 12), ("3 pr", 6), ("1 pair", 2)],
)
def test_dozens_and_pairs_are_counted_and_told(written: str, pieces: int, tmp_path: Path) -> None:
    reading = read_workbook(some_orders(tmp_path / "w.xlsx", an_order(Quantity=written)))
    assert reading.orders[0].quantity == pieces
    assert f"Orders!D2: “{written}” read as {pieces}" in reading.readings


@pytest.mark.parametrize(
    ("lengths", "doubted"),
    [
        (("1.150", "850"), ["1.150"]),
        (("1.150 mm", "2.400 mm"), ["1.150 mm", "2.400 mm"]),
        (("1.150", "912.5"), []),
        (("1.150", "1150.000"), []),
        (("609.600", "850"), []),
        (("1.15", "1.150"), []),
    ],
)
def test_a_piece_of_millimetres_to_a_thousandth_is_not_taken_for_so_short_a_one(
    lengths: tuple[str, str], doubted: list[str], tmp_path: Path
) -> None:
    tube: dict[str, Cell] = {"OD": "38.1 mm", "Wall": "1.5 mm"}
    rows = [
        {("Length (mm)" if name == "Length" else name): cell for name, cell in order.items()}
        for n, length in enumerate(lengths, 1)
        for order in [an_order(Line=str(n), Length=length, **tube)]
    ]
    found = read_workbook(some_orders(tmp_path / "w.xlsx", *rows)).findings
    assert [one.read for one in found if "may mean" in one.message] == doubted
