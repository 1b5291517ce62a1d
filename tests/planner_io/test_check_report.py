"""The lines of a check are in the shop's own unit, and say each word once."""

from __future__ import annotations

from pathlib import Path

import pytest

from planner_io.check_report import check_lines
from planner_io.workbook import checked, read_workbook
from tests.planner_io.workbook.sheets import Cell, an_order, some_orders


def row_of(path: Path, order: dict[str, Cell]) -> str:
    reading = read_workbook(some_orders(path / "w.xlsx", order))
    return list(check_lines(checked(reading), reading.shop.house.unit))[1]


def test_lengths_are_in_the_shops_unit_first(tmp_path: Path) -> None:
    inches = row_of(tmp_path, an_order())
    assert '1.500" × 0.065" stainless 304' in inches
    assert inches.index('36"') < inches.index("914.4 mm")
    rest = {key: value for key, value in an_order().items() if key not in {"OD", "Wall"}}
    metric = row_of(tmp_path, {**rest, "OD (mm)": "1-1/2", "Wall (mm)": 1.651, "Length": 900})
    assert "38.1 mm × 1.65 mm stainless 304" in metric
    assert metric.index("900 mm") < metric.index('35-7/16"')


def test_a_family_without_grade_is_said_once(tmp_path: Path) -> None:
    row = row_of(tmp_path, an_order(Material="mild steel", OD="1-1/3"))
    assert "carbon " in row
    assert "carbon carbon" not in row


@pytest.mark.parametrize(
    ("changes", "said"),
    [
        ({}, "304 bright  Satin P180  –"),
        ({"Finish": "none", "Both ends": "cope 1-1/2"}, '–       both saddle 1-1/2" @ 90°'),
        ({"End 1": "30", "Surface": "polished"}, "304 polished  Satin P180  mitre 30° / square"),
    ],
)
def test_a_line_says_its_surface_finish_and_ends(
    changes: dict[str, Cell], said: str, tmp_path: Path
) -> None:
    assert said in row_of(tmp_path, {**an_order(), **changes})
