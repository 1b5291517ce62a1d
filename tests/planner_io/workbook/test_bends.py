"""Bent parts are read row by row, and end in a straight."""

from __future__ import annotations

from pathlib import Path

import pytest

from planner.errors import Severity
from planner.orders import Bend, Bent
from planner_io.workbook import Reading, read_workbook
from tests.planner_io.workbook.sheets import Cell, an_order, some_orders

HEAD: list[Cell] = ["Part", "Row", "Straight (mm)", "Rotation", "Angle", "CLR (mm)"]


def reading(path: Path, *rows: list[Cell]) -> Reading:
    order = an_order(Part="Hoop", Length=None)
    return read_workbook(some_orders(path / "w.xlsx", order, Bends=[HEAD, *rows]))


def test_straights_turns_and_bends_are_kept_to_the_nanometre(tmp_path: Path) -> None:
    found = reading(
        tmp_path,
        ["Hoop", None, 300, None, 90, 100],
        ["Hoop", None, 200.5, -90, "45°", 100],
        ["Hoop", None, 0, None, None, None],
    )
    assert found.orders[0].shape == Bent(
        rows=(
            Bend(straight_nm=300_000_000, angle_mdeg=90_000, clr_nm=100_000_000),
            Bend(
                straight_nm=200_500_000,
                angle_mdeg=45_000,
                clr_nm=100_000_000,
                rotation_mdeg=-90_000,
            ),
            Bend(straight_nm=0),
        )
    )


def test_row_numbers_put_rows_in_order(tmp_path: Path) -> None:
    shape = (
        reading(tmp_path, ["Hoop", 2, 20, None, None, None], ["Hoop", 1, 10, None, 90, 100])
        .orders[0]
        .shape
    )
    assert isinstance(shape, Bent)
    assert [row.straight_nm for row in shape.rows] == [10_000_000, 20_000_000]


@pytest.mark.parametrize(
    ("rows", "cell", "words"),
    [
        ([["Hoop", None, 10, None, 90, 100]], "E2", "straight after the last bend is missing"),
        ([["Hoop", None, 10], ["Hoop", None, 10]], "E2", "only the last row"),
        ([["Hoop", None, 10, None, 90, None], ["Hoop", None, 9]], "F2", "centreline radius"),
        ([["Hoop", None, None, None, 90, 100], ["Hoop", None, 9]], "C2", "nothing is written"),
        ([["Hoop", None, 10, None, 270, 100], ["Hoop", None, 9]], "E2", "0 to 180"),
        ([["Hoop", None, 10, 999, 90, 100], ["Hoop", None, 9]], "D2", "expected a turn"),
    ],
)
def test_a_mistake_is_told_at_its_cell_and_at_the_order(
    rows: list[list[Cell]], cell: str, words: str, tmp_path: Path
) -> None:
    found = reading(tmp_path, *rows)
    first, second = [f for f in found.findings if f.severity == Severity.ERROR]
    assert (first.sheet, first.cell) == ("Bends", cell)
    assert words in first.message
    assert (second.sheet, second.cell) == ("Orders", "C2")
    assert not found.orders


def test_parts_that_nobody_ordered_are_told(tmp_path: Path) -> None:
    found = reading(tmp_path, ["Hoop", None, 10], ["Old sign", None, 10])
    assert "parts in Bends that nobody ordered: Old sign" in found.readings


@pytest.mark.parametrize(
    ("titles", "rotation"),
    [
        (("Item", "L", "R", "A", "CLR"), 90_000),
        (("Item", "L", "Rot", "A", "R"), 90_000),
        (("Item", "L", "Remark", "A", "R"), 0),
    ],
)
def test_r_is_the_radius_or_the_rotation_by_what_else_is_there(
    titles: tuple[str, ...], rotation: int, tmp_path: Path
) -> None:
    """L, R and A are straight, rotation and angle of a bender's table; R alone is a radius."""
    bends: list[list[Cell]] = [[*titles], ["Bow", 10, 90, 45, 4.5], ["Bow", 10]]
    order = an_order(Part="Bow", Length=None)
    (line,) = read_workbook(some_orders(tmp_path / "w.xlsx", order, Bends=bends)).orders
    assert isinstance(line.shape, Bent)
    bend = line.shape.rows[0]
    assert (bend.rotation_mdeg, bend.clr_nm) == (rotation, 114_300_000)


@pytest.mark.parametrize(
    ("title", "header"),
    [("CLR", "Inside radius"), ("Angle", "Included angle"), ("Straight", "Straight to apex")],
)
def test_a_header_that_measures_something_else_is_not_used(
    title: str, header: str, tmp_path: Path
) -> None:
    head = [header if name == title else name for name in ("Part", "Straight", "Angle", "CLR")]
    bends: list[list[Cell]] = [[*head], ["Post", 10, 90, 4.5], [None, 10, None, None]]
    order = {**an_order(), "Length": None, "Bent": "yes"}
    found = read_workbook(some_orders(tmp_path / "w.xlsx", order, Bends=bends))
    assert not found.orders
    assert found.findings
    assert not any(f"{header}” read as" in each for each in found.readings)


@pytest.mark.parametrize("clr", ["3D", "3 d", "3xOD", "3,0 x D"])
def test_a_radius_in_ods_is_that_of_the_tube_that_is_ordered(tmp_path: Path, clr: str) -> None:
    rows: list[list[Cell]] = [
        ["Part", "Straight", "Angle", "CLR"],
        ["Hoop", 20, 90, clr],
        [None, 9, None, None],
    ]
    orders = [an_order(Part="Hoop", Length=None, Line=n, OD=od) for n, od in (("1", "1"), ("2", 2))]
    found = read_workbook(some_orders(tmp_path / "w.xlsx", *orders, Bends=rows))
    radii = [line.shape.rows[0].clr_nm for line in found.orders if isinstance(line.shape, Bent)]
    assert radii == [76_200_000, 152_400_000]
    assert any(f"Bends!D2: “{clr}”: read as 3 times the OD" in each for each in found.readings)


def test_points_in_x_y_and_z_are_no_straights(tmp_path: Path) -> None:
    rows: list[list[Cell]] = [
        ["Part", "X", "Y", "Z", "Angle", "CLR"],
        ["Post", 0, 10, 0, 90, 4.5],
        [None, 20, 10, 0, None, None],
    ]
    order = an_order(Length=None)
    found = read_workbook(some_orders(tmp_path / "w.xlsx", order, Bends=rows))
    assert found.orders == ()
    assert "columns X, Y and Z are points, and are not read" in found.findings[0].message
    rows = [[cell for n, cell in enumerate(row) if n not in (1, 3)] for row in rows]
    (line,) = read_workbook(some_orders(tmp_path / "v.xlsx", order, Bends=rows)).orders
    assert isinstance(line.shape, Bent)
