"""One column may say size and material together."""

from __future__ import annotations

from pathlib import Path

import pytest

from planner.errors import Severity
from planner.tube import Family
from planner_io.workbook import read_workbook
from tests.planner_io.workbook.readings import reading
from tests.planner_io.workbook.sheets import Cell, a_table, an_order, some_orders

APART = ("Material", "OD", "Wall")


def an_order_of(header: str, written: Cell, **changes: Cell) -> dict[str, Cell]:
    """An order with one column in the place of those of material and size."""
    order = {key: value for key, value in an_order(**changes).items() if key not in APART}
    return {**order, header: written}


@pytest.mark.parametrize("header", ["Tube", "Material", "Material & size", "Size"])
@pytest.mark.parametrize(
    ("written", "family", "grade", "od_nm", "wall_nm"),
    [
        ("1-1/2 x .120 A513", Family.CARBON, "A513", 38_100_000, 3_048_000),
        ('A513 1-1/2" x .120"', Family.CARBON, "A513", 38_100_000, 3_048_000),
        ("4130 1 x .065", Family.ALLOY, "4130", 25_400_000, 1_651_000),
        ('1.5" OD x 0.065" wall, 304 SS', Family.STAINLESS, "304", 38_100_000, 1_651_000),
        ("1-1/4 sch 40 A53", Family.CARBON, "A53", 42_164_000, 3_556_000),
        ('1 1/4" SCH 40 BLK PIPE', Family.CARBON, "A53", 42_164_000, 3_556_000),
        ("6061-T6 38.1 x 1.65 mm", Family.ALUMINIUM, "6061-T6", 38_100_000, 1_650_000),
    ],
)
def test_size_and_material_are_told_apart_in_either_order(
    tmp_path: Path, header: str, written: str, family: Family, grade: str, od_nm: int, wall_nm: int
) -> None:
    found = reading(tmp_path, an_order_of(header, written))
    (order,) = found.orders
    assert (order.spec.family, order.spec.grade) == (family, grade)
    assert (order.spec.od_nm, order.spec.wall_nm) == (od_nm, wall_nm)
    (note,) = (note for note in found.readings if "names OD and Material" in note)
    assert f"“{header}”" in note


@pytest.mark.parametrize("written", ['1-1/2" 304', "1 1/2 304", "304 1 1/2"])
def test_the_wall_may_stand_in_a_column_of_its_own(tmp_path: Path, written: str) -> None:
    row = {**an_order_of("Tube", written), "Wall": ".065"}
    assert reading(tmp_path, row).orders == reading(tmp_path, an_order()).orders


def test_a_cell_that_names_no_material_is_told_by_its_cell(tmp_path: Path) -> None:
    good = (an_order_of("Tube", "1-1/2 x .065 304", Line=str(n)) for n in range(2))
    found = reading(tmp_path, *good, an_order_of("Tube", "1-1/2 x .065", Line="9"))
    assert len(found.orders) == 2
    (error,) = (each for each in found.findings if each.severity == Severity.ERROR)
    assert error.cell == "H4"
    assert "1-1/2 x .065" in error.message


def test_sizes_alone_are_no_materials(tmp_path: Path) -> None:
    found = reading(tmp_path, an_order_of("Tube", "1-1/2 x .065"))
    assert any("there is no column Material" in each.message for each in found.findings)


def test_stock_may_be_written_so_too(tmp_path: Path) -> None:
    stick: dict[str, Cell] = {
        "Stock": "S1", "Material": "304 1-1/2 x .065", "Length": "20 ft", "Price": 81,
    }  # fmt: skip
    book = some_orders(tmp_path / "w.xlsx", an_order(), Stock=a_table([stick]))
    (item,) = read_workbook(book).stock
    assert (item.spec.grade, item.spec.od_nm, item.spec.wall_nm) == ("304", 38_100_000, 1_651_000)


def test_a_column_called_od_x_wall_is_the_od(tmp_path: Path) -> None:
    row = {**an_order_of("OD x wall", "1-1/2 x .065"), "Material": "304"}
    assert reading(tmp_path, row).orders == reading(tmp_path, an_order()).orders


@pytest.mark.parametrize(
    ("od", "material"),
    [
        ('1-3/4" x .095" DOM', "DOM"),
        ("1-3/4 x .095 steel", "1020 DOM"),
        ("304 1-3/4 x .095", "304"),
    ],
)
def test_a_size_that_says_the_material_of_its_row_again_is_read(
    tmp_path: Path, od: str, material: str
) -> None:
    found = reading(tmp_path, an_order(OD=od, Wall=None, Material=material))
    assert not found.findings
    spec = found.orders[0].spec
    assert (spec.od_nm, spec.wall_nm) == (44_450_000, 2_413_000)


@pytest.mark.parametrize(
    ("od", "material"), [("1-3/4 x .095 DOM", "304"), ("1-3/4 x .095 DOM", "mild steel")]
)
def test_a_size_that_says_another_material_than_its_row_is_refused(
    tmp_path: Path, od: str, material: str
) -> None:
    found = reading(tmp_path, an_order(OD=od, Wall=None, Material=material))
    assert [finding.cell for finding in found.findings] == ["F2"]
    assert not found.orders
