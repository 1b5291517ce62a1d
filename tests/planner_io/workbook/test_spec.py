"""Material, OD, wall and surface make the tube, as it is in Stock."""

from __future__ import annotations

from pathlib import Path

import pytest

from planner.errors import Severity
from planner.orders import CutLength
from planner.tube import Family, Surface
from planner.units import parse_length
from planner_io.workbook import read_workbook
from tests.planner_io.workbook.readings import reading, the_error, the_line
from tests.planner_io.workbook.sheets import Cell, a_table, an_order, some_orders


@pytest.mark.parametrize(
    ("cells", "family", "grade", "od", "wall"),
    [
        (
            {"Material": "4130", "OD": "1-1/4", "Wall": 0.095},
            "alloy",
            "4130",
            31_750_000,
            2_413_000,
        ),
        (
            {"Material": "A53", "OD": "1-1/4 sch 40", "Wall": None},
            "carbon",
            "A53",
            42_164_000,
            3_556_000,
        ),
        (
            {"Material": "aluminum", "Grade": "6061-T6"},
            "aluminium",
            "6061-T6",
            38_100_000,
            1_651_000,
        ),
        ({"Material": "A500 Gr B"}, "carbon", "A500", 38_100_000, 1_651_000),
        ({"Material": 304, "OD": 1.5, "Wall": "16 ga"}, "stainless", "304", 38_100_000, 1_651_000),
        (
            {"Material": "304", "OD": "1-1/2 x .065", "Wall": None},
            "stainless",
            "304",
            38_100_000,
            1_651_000,
        ),
    ],
)
def test_material_and_size_make_the_tube(
    cells: dict[str, Cell], family: str, grade: str, od: int, wall: int, tmp_path: Path
) -> None:
    spec = the_line(tmp_path, **cells).spec
    assert (spec.family, spec.od_nm, spec.wall_nm) == (Family(family), od, wall)
    assert spec.grade.startswith(grade)


def test_units_in_headers_hold_for_their_columns(tmp_path: Path) -> None:
    row = an_order()
    row["Length (mm)"], row["OD, mm"] = 900, 38.1
    del row["Length"], row["OD"]
    (line,) = reading(tmp_path, row).orders
    assert line.shape == CutLength(length_nm=900_000_000)
    assert line.spec.od_nm == 38_100_000


@pytest.mark.parametrize(
    ("od", "wall"), [("Ø38.1", "1.7"), ("38.1 x 1.7", None), ("38.1 OD", "1.7 wall")]
)
def test_units_in_headers_hold_for_sizes_with_words_about_them(
    od: Cell, wall: Cell, tmp_path: Path
) -> None:
    row = {k: v for k, v in an_order().items() if k not in {"OD", "Wall"}}
    row |= {"OD (mm)": od, "Wall (mm)": wall, "Length": "36 in"}
    (line,) = reading(tmp_path, row).orders
    assert (line.spec.od_nm, line.spec.wall_nm) == (38_100_000, 1_700_000)


def test_a_fraction_below_a_metric_header_is_of_an_inch_and_told(tmp_path: Path) -> None:
    row = {k: v for k, v in an_order().items() if k not in {"OD", "Length"}}
    found = reading(tmp_path, {**row, "OD (mm)": "1-1/2", "Length (mm)": "46-13/16"})
    (line,) = found.orders
    assert line.spec.od_nm == 38_100_000
    assert line.shape == CutLength(length_nm=parse_length("46-13/16").nm)
    assert sum("a fraction, so read in inches" in text for text in found.readings) == 2


def test_oiled_tube_has_the_surface_of_the_stock_below_the_oil(tmp_path: Path) -> None:
    stock: list[list[Cell]] = [
        ["Material", "OD", "Wall", "Length", "Surface"],
        ["A513", "1-1/2", 0.065, "20'", "bright"],
    ]
    row = an_order(Material="A513", Surface="oiled", Finish="Primer-ready")
    line = reading(tmp_path, row, Stock=stock).orders[0]
    assert (line.oiled, line.spec.surface) == (True, Surface.BRIGHT)


def test_grade_and_surface_come_from_stock_where_the_row_leaves_them_open(tmp_path: Path) -> None:
    found = reading(tmp_path, an_order(Material="stainless", OD="2", Finish="none"))
    (line,) = found.orders
    assert (line.spec.grade, line.spec.surface) == ("304", Surface.BRIGHT)
    assert any("grade read as 304, as in Stock" in text for text in found.readings)


@pytest.mark.parametrize(
    ("material", "od", "wall", "grade"),
    [
        ("6061", "2", ".125", "6061-T6"),
        ("4130", "1", ".065", "4130"),
        ("A513", "2", ".120", "A513"),
    ],
)
def test_a_short_grade_is_the_one_in_stock_that_says_more(
    material: str, od: str, wall: str, grade: str, tmp_path: Path
) -> None:
    line = the_line(tmp_path, Material=material, OD=od, Wall=wall, Finish="none")
    assert line.spec.grade == grade


@pytest.mark.parametrize(
    ("od", "wall", "read"),
    [
        ("31.8 mm", "1.65 mm", (31_750_000, 1_651_000)),
        ("31.75 mm", "2.1 mm", (31_750_000, 2_108_200)),
        ("1-1/4", ".065", (31_750_000, 1_651_000)),
        ("31.9 mm", "1.65 mm", (31_900_000, 1_650_000)),
        ("31.8 mm", "2.0 mm", (31_800_000, 2_000_000)),
    ],
)
def test_a_rounded_size_is_the_one_in_stock(
    od: str, wall: str, read: tuple[int, int], tmp_path: Path
) -> None:
    stock = a_table(
        [
            {"Stock": thick, "Material": "304", "OD": "1-1/4", "Wall": thick, "Length": "20 ft"}
            for thick in (".065", ".083", ".080")
        ]
    )
    book = some_orders(tmp_path / "w.xlsx", an_order(OD=od, Wall=wall), Stock=stock)
    found = read_workbook(book)
    (line,) = found.orders
    assert (line.spec.od_nm, line.spec.wall_nm) == read
    told = [text for text in found.readings if text.endswith("as in Stock")]
    assert bool(told) == (od != "1-1/4" and read[0] == 31_750_000)


def test_a_size_between_two_in_stock_is_neither(tmp_path: Path) -> None:
    stock = a_table(
        [
            {"Stock": od, "Material": "304", "OD": od, "Wall": ".065", "Length": "20 ft"}
            for od in ("38.06 mm", "38.14 mm")
        ]
    )
    (line,) = read_workbook(some_orders(tmp_path / "w.xlsx", an_order(), Stock=stock)).orders
    assert line.spec.od_nm == 38_100_000


def test_several_grades_in_stock_are_asked_for(tmp_path: Path) -> None:
    cell, message = the_error(tmp_path, Material="stainless")
    assert cell == "E2"
    assert "304, 316" in message


def test_a_grade_column_will_do_without_a_material_column(tmp_path: Path) -> None:
    row = an_order(Grade="304")
    del row["Material"]
    assert reading(tmp_path, row).orders[0].spec.family == Family.STAINLESS


def test_a_missing_column_of_walls_is_told_once(tmp_path: Path) -> None:
    rows = [an_order(Line=str(number)) for number in (1, 2, 3)]
    for row in rows:
        row["Shell"] = row.pop("Wall")
    found = reading(tmp_path, *rows)
    (error,) = [f for f in found.findings if f.severity == Severity.ERROR]
    assert error.message.startswith("there is no column Wall, and no OD names a wall; add one")
    assert error.message.endswith("or rename the one of “Shell” that says it")


def test_tube_drawn_over_a_mandrel_by_its_type_comes_in_bright(tmp_path: Path) -> None:
    line = the_line(tmp_path, Material="A513 T5")
    assert (line.spec.grade, line.spec.surface) == ("A513-5", Surface.BRIGHT)


@pytest.mark.parametrize(
    ("ordered", "in_stock"),
    [
        *(("1.4301", "304"), ("304", "1.4301"), ("304 (1.4301)", "304"), ("1.0308", "E235")),
        *(("X2CrNiMo17-12-2", "316L"), ("1.4307/1.4301", "304/304L"), ("1.4301", "304/304L")),
    ],
)
def test_a_steel_by_its_european_number_is_the_one_in_stock(
    tmp_path: Path, ordered: str, in_stock: str
) -> None:
    stock = [["Material", "OD", "Wall", "Length"], [in_stock, "1-1/2", ".065", "20 ft"]]
    found = reading(tmp_path, an_order(Material=ordered), Stock=stock)
    assert {line.spec.grade for line in found.orders} == {in_stock}
    assert any(f"{in_stock}, as in Stock" in each for each in found.readings)


@pytest.mark.parametrize(
    ("ordered", "in_stock"), [("1.4435", "316L"), ("1.4301", "304L"), ("1.0308", "A513")]
)
def test_a_steel_that_is_only_like_the_one_in_stock_is_another(
    tmp_path: Path, ordered: str, in_stock: str
) -> None:
    stock = [["Material", "OD", "Wall", "Length"], [in_stock, "1-1/2", ".065", "20 ft"]]
    found = reading(tmp_path, an_order(Material=ordered), Stock=stock)
    assert {line.spec.grade for line in found.orders} == {ordered}


@pytest.mark.parametrize(
    ("material", "alloy", "family", "grade"),
    [
        ("Steel", "4130", Family.ALLOY, "4130"),
        ("Steel", "304", Family.STAINLESS, "304"),
        ("Steel", "A513", Family.CARBON, "A513"),
        ("Steel", "X60", Family.CARBON, "X60"),
        ("Aluminum", "6061-T6", Family.ALUMINIUM, "6061-T6"),
    ],
)
@pytest.mark.parametrize("header", ["Alloy", "Grade"])
def test_a_second_column_of_materials_is_the_grade(
    tmp_path: Path, header: str, material: str, alloy: str, family: Family, grade: str
) -> None:
    found = reading(tmp_path, {**an_order(Material=material), header: alloy})
    assert [(line.spec.family, line.spec.grade) for line in found.orders] == [(family, grade)]
    assert found.findings == ()
