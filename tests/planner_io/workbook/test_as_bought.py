"""What a material says of surface and coating counts, or is warned of."""

from __future__ import annotations

from collections.abc import Mapping
from pathlib import Path

import pytest

from planner.errors import Severity
from planner.tube import Family, Surface
from planner_io.workbook import Reading, read_workbook
from planner_io.workbook.as_bought import surface_in
from planner_io.workbook.materials import read_material
from tests.planner_io.workbook.sheets import Cell, a_table, an_order, some_orders

STICK: dict[str, Cell] = {
    "Stock": "S1",
    "Material": "304",
    "OD": "1-1/2",
    "Wall": ".065",
    "Length": "20 ft",
}


def reading(path: Path, stock: Mapping[str, Cell] | None = None, **changes: Cell) -> Reading:
    sheets = {"Stock": a_table([stock])} if stock else {}
    return read_workbook(some_orders(path / "w.xlsx", an_order(**changes), **sheets))


@pytest.mark.parametrize(
    ("material", "surface"),
    [
        ("304 polished", Surface.POLISHED),
        ("polished 304", Surface.POLISHED),
        ("A513 bright", Surface.BRIGHT),
        ("1020 cold drawn", Surface.BRIGHT),
        ("304L hot rolled", Surface.SCALED),
        ("A513 hot rolled pickled", Surface.BRIGHT),
        ("304", Surface.BRIGHT),
        ("A513 descaled", Surface.SCALED),
    ],
)
def test_a_surface_beside_the_grade_counts(tmp_path: Path, material: str, surface: Surface) -> None:
    found = reading(tmp_path, Material=material)
    assert found.orders[0].spec.surface is surface
    told = any(f"surface read as {surface}" in each for each in found.readings)
    assert told == (material not in ("304", "A513 descaled"))


def test_oil_beside_the_grade_counts(tmp_path: Path) -> None:
    line = reading(tmp_path, Material="A513 HRPO").orders[0]
    assert (line.spec.surface, line.oiled) == (Surface.BRIGHT, True)


def test_the_column_surface_counts_before_the_material_and_is_doubted(tmp_path: Path) -> None:
    found = reading(tmp_path, Material="304 polished", Surface="bright")
    assert found.orders[0].spec.surface is Surface.BRIGHT
    (warning,) = found.findings
    assert "Surface is bright, and 304 polished stands beside it" in warning.message
    assert not reading(tmp_path, Material="304 polished", Surface="polished").findings


def test_bright_stock_is_not_taken_for_polished(tmp_path: Path) -> None:
    assert reading(tmp_path, STICK, Material="304 polished").orders[0].spec.surface == "polished"
    polished: dict[str, Cell] = {**STICK, "Material": "304 polished"}
    assert reading(tmp_path, polished).orders[0].spec.surface == "polished"


def test_two_surfaces_at_once_are_none() -> None:
    assert surface_in("304 bright polished") == (None, False)


@pytest.mark.parametrize(
    ("text", "grade"),
    [
        *(("A53 galv", "A53 galvanised"), ("galvanized A53", "A53 galvanised")),
        *(("A500, hot-dip galv.", "A500 galvanised"), ("A53 HDG", "A53 galvanised")),
        *(("carbon zinc plated", "carbon galvanised"), ("A787 aluminized", "A787 aluminised")),
        *(("1020 painted", "1020 painted"), ("304 chrome plated", "304 plated")),
        *(("chrome moly", "4130"), ("4130 chromo", "4130")),
    ],
)
def test_a_coating_is_kept_in_the_grade(text: str, grade: str) -> None:
    assert read_material(text).grade == grade


def test_a_coating_alone_names_no_family() -> None:
    with pytest.raises(ValueError, match="carbon, alloy, stainless or aluminium"):
        read_material("galv")
    assert read_material("galv", family="steel").family is Family.CARBON


def test_galvanised_tube_is_warned_of_in_orders_and_in_stock(tmp_path: Path) -> None:
    zinc: dict[str, Cell] = {**STICK, "Material": "A53 galv"}
    found = reading(tmp_path, zinc, Material="A53 galvanized")
    warnings = [each for each in found.findings if "must be stripped" in each.message]
    assert [(each.sheet, each.cell) for each in warnings] == [("Stock", "B2"), ("Orders", "E2")]
    assert all(each.severity is Severity.WARNING for each in warnings)
    assert found.orders[0].spec == found.stock[0].spec


@pytest.mark.parametrize("material", ["A53", "carbon"])
def test_bare_tube_ordered_is_not_cut_from_galvanised(tmp_path: Path, material: str) -> None:
    zinc: dict[str, Cell] = {**STICK, "Material": "A53 galv"}
    assert reading(tmp_path, zinc, Material=material).orders[0].spec.grade == material
