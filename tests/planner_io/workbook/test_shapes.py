"""What shape a piece has: cut, between axes, or bent."""

from __future__ import annotations

from pathlib import Path

import pytest

from planner.errors import Severity
from planner.orders import AxisToAxis, Bent, BentBlank, CutLength
from planner.units import NM_PER_INCH, parse_length
from tests.planner_io.workbook.readings import HOOP, reading, the_error, the_line
from tests.planner_io.workbook.sheets import Cell, an_order


@pytest.mark.parametrize(
    ("cells", "shape"),
    [
        ({"Length": "36-1/2"}, CutLength(length_nm=927_100_000)),
        ({"Length": "5' 2-3/8\""}, CutLength(length_nm=1_584_325_000)),
        ({"Length": "900 mm overall"}, CutLength(length_nm=900_000_000)),
        ({"Length": "c-c 48", "End 1": "saddle 2 @ 90"}, AxisToAxis(length_nm=1_219_200_000)),
        (
            {"Length": 48, "Length is": "axis-to-axis", "End 1": "saddle 2 @ 90"},
            AxisToAxis(length_nm=1_219_200_000),
        ),
    ],
)
def test_a_length_is_cut_or_between_axes(
    cells: dict[str, Cell], shape: CutLength | AxisToAxis, tmp_path: Path
) -> None:
    assert the_line(tmp_path, **cells).shape == shape


@pytest.mark.parametrize("length", [None, "see bends", "bent"])
def test_a_bent_part_takes_its_rows_from_bends(length: Cell, tmp_path: Path) -> None:
    shape = the_line(tmp_path, Part="hoop", Length=length).shape
    assert isinstance(shape, Bent)
    assert [row.straight_nm for row in shape.rows] == [508_000_000, 254_000_000, 508_000_000]
    assert [row.angle_mdeg for row in shape.rows] == [90_000, 90_000, 0]


def test_a_length_beside_bends_is_told_and_not_used(tmp_path: Path) -> None:
    found = reading(tmp_path, an_order(Part="Hoop", Length=60), Bends=HOOP)
    assert isinstance(found.orders[0].shape, Bent)
    (finding,) = found.findings
    assert (finding.severity, finding.cell) == (Severity.WARNING, "I2")


def test_a_length_that_is_cut_wins_over_bends(tmp_path: Path) -> None:
    line = the_line(tmp_path, Part="Hoop", Length=60, **{"Length is": "cut"})
    assert line.shape == CutLength(length_nm=1_524_000_000)


def test_a_saw_hand_s_name_for_the_length_is_known(tmp_path: Path) -> None:
    row = {("Cut to" if key == "Length" else key): value for key, value in an_order().items()}
    assert reading(tmp_path, row).orders == reading(tmp_path, an_order()).orders


@pytest.mark.parametrize("written", ["L=36", '36" LG', "36 long", "3 ft lg", "36 lgth"])
def test_a_length_may_be_called_one(tmp_path: Path, written: str) -> None:
    assert the_line(tmp_path, Length=written).shape == CutLength(length_nm=914_400_000)


@pytest.mark.parametrize(
    "written",
    [
        *("36 ±1/32", "36 +/- .03", "36 +0/-.02", "36 +.010 -.020", "36 (-0/+1/8)", "36 +1/8 -0"),
        *("36 max", '36" nom', "~36"),
    ],
)
def test_a_tolerance_belongs_in_the_notes(tmp_path: Path, written: str) -> None:
    cell, message = the_error(tmp_path, Length=written)
    assert (cell, "write the tolerance under Notes" in message) == ("I2", True)


@pytest.mark.parametrize(
    ("length", "cells"),
    [
        ("Length", {"Length": "54 blank"}),
        ("Length", {"Length is": "developed length"}),
        ("Length", {"Length is": "cut"}),
        ("Cut length (in)", {}),
        ("Blank length", {}),
        ("Dev. length in", {}),
        ("Unbent length", {}),
    ],
)
def test_a_part_with_a_number_of_bends_and_the_length_of_its_blank_is_bent_from_that(
    length: str, cells: dict[str, Cell], tmp_path: Path
) -> None:
    row = {**an_order(Length=54, Bends="2 pcs", **{"Bend radius": 4.5}), **cells}
    row = {(length if name == "Length" else name): value for name, value in row.items()}
    found = reading(tmp_path, row)
    assert not found.findings
    shape = BentBlank(length_nm=54 * NM_PER_INCH, bends=2, clr_nm=114_300_000)
    assert found.orders[0].shape == shape


@pytest.mark.parametrize(
    ("cells", "words"),
    [
        ({"Bent": 2}, "write blank under Length is, if"),
        ({"Bent": "yes", "Length is": "blank"}, "write how many bends under Bent; or no"),
        ({"Bent": "yes"}, "write how many bends under Bent and blank under Length is, if"),
        ({"Bent": 2, "Length is": "overall"}, "write blank under Length is, if"),
        ({"Bent": 2, "Length is": "axis to axis", "Ends": "saddle 2"}, "write blank under"),
        ({"Bent": 2, "Length": None}, "write the length of its blank under Length, and blank"),
        ({"Length is": "bent", "Bent": 2}, "write blank under Length is, if"),
    ],
)
def test_a_bent_part_of_which_too_little_is_known_is_told_what_to_write(
    cells: dict[str, Cell], words: str, tmp_path: Path
) -> None:
    cell, message = the_error(tmp_path, **{"Bent": None, **cells})
    assert cell == "C2"
    assert words in message


def test_the_rows_of_bends_come_before_a_number_of_bends(tmp_path: Path) -> None:
    found = reading(tmp_path, an_order(Part="Hoop", Length="54 blank", Bent=5), Bends=HOOP)
    assert isinstance(found.orders[0].shape, Bent)
    assert ["not used, since part Hoop" in f.message for f in found.findings] == [True]


def test_a_radius_of_a_part_that_nothing_says_is_bent_is_doubted(tmp_path: Path) -> None:
    found = reading(tmp_path, an_order(CLR=4.5), an_order(Line=2, Length="54 blank"))
    assert [type(line.shape) for line in found.orders] == [CutLength, CutLength]
    assert ["write how many bends under Bent" in f.message for f in found.findings] == [True]


@pytest.mark.parametrize("bent", ["Y", "yes", 2, "3"])
def test_a_part_that_is_to_be_bent_must_be_in_bends(tmp_path: Path, bent: Cell) -> None:
    row = {**an_order(), "Bend?": bent}
    found = reading(tmp_path, row, {**row, "Part": "Hoop", "Line": "2", "Length": None}, Bends=HOOP)
    assert [isinstance(line.shape, Bent) for line in found.orders] == [True]
    assert [(f.cell, "or no under Bend?" in f.message) for f in found.findings] == [("C2", True)]


@pytest.mark.parametrize("bent", ["N", "no", 0, "-", None])
def test_a_part_that_is_not_bent_is_cut_alone(tmp_path: Path, bent: Cell) -> None:
    found = reading(tmp_path, {**an_order(), "Bends": bent})
    assert not found.findings
    assert isinstance(found.orders[0].shape, CutLength)


def test_a_remark_in_brackets_is_shown_whole_where_a_length_is_refused(tmp_path: Path) -> None:
    rows = [
        an_order(Line=str(n), Length=text) for n, text in ((1, "36 (field cut)"), (2, "40 (cut)"))
    ]
    found = reading(tmp_path, *rows)
    assert [finding.read for finding in found.findings] == ["36 (field cut)"]
    (line,) = found.orders
    assert line.shape == CutLength(length_nm=parse_length("40").nm)


def test_a_radius_in_ods_is_read_by_the_row_s_od(tmp_path: Path) -> None:
    row = an_order(Length_is="blank", Bent="2", CLR="2.5 D")
    found = reading(tmp_path, row)
    assert found.orders[0].shape == BentBlank(length_nm=914_400_000, bends=2, clr_nm=95_250_000)
    assert any('“2.5 D” read as 3-3/4", 2.5 times the OD' in each for each in found.readings)
