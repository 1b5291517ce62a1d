"""How ends are written; those that may mean work that is not planned are warned of."""

from __future__ import annotations

from pathlib import Path

import pytest

from planner.errors import Severity
from planner.orders import EndCut, EndKind
from planner_io.workbook import read_workbook
from tests.planner_io.workbook.readings import reading, the_error, the_line
from tests.planner_io.workbook.sheets import Cell, an_order, some_orders

MITRES: dict[str, Cell] = {"End 1": "mitre 45", "End 2": "mitre 30"}


@pytest.mark.parametrize(
    ("column", "end"),
    [("End 1", "flat"), ("End 2", "Flattened"), ("Ends", "flattened end"), ("Ends", "flat both")],
)
def test_a_flat_end_is_planned_square_and_warned_of(tmp_path: Path, column: str, end: str) -> None:
    row = {**an_order(), column: end}
    found = read_workbook(some_orders(tmp_path / "w.xlsx", row))
    assert found.orders[0].ends == (EndCut(), EndCut())
    (warning,) = found.findings
    assert (warning.severity, warning.cell) == (Severity.WARNING, "K2")
    assert "flattening it is not planned" in warning.message


def test_one_flattened_end_of_two_is_warned_of(tmp_path: Path) -> None:
    row = an_order(Ends="flattened / square")
    found = read_workbook(some_orders(tmp_path / "w.xlsx", row))
    assert [each.cell for each in found.findings] == ["K2"]


@pytest.mark.parametrize("written", [45, "45°"])
def test_a_number_under_a_cope_angle_is_a_saddle_at_it(tmp_path: Path, written: Cell) -> None:
    row = {**an_order(), "Cope angle": written}
    (line,) = read_workbook(some_orders(tmp_path / "w.xlsx", row)).orders
    saddle = EndCut(kind=EndKind.SADDLE, angle_mdeg=45_000, on_od_nm=38_100_000)
    assert line.ends == (saddle, saddle)


def test_90_under_a_cope_is_asked_about(tmp_path: Path) -> None:
    found = read_workbook(some_orders(tmp_path / "w.xlsx", an_order(Cope_1=90)))
    assert not found.orders
    assert ["or square? Write which" in each.message for each in found.findings] == [True]


@pytest.mark.parametrize(
    ("one", "two"), [("Mitre 1", "Mitre 2"), ("L end", "R end"), ("Miter A", "Miter B")]
)
def test_mitres_have_a_column_each(tmp_path: Path, one: str, two: str) -> None:
    row = {**an_order(), one: 45, two: "30"}
    (line,) = read_workbook(some_orders(tmp_path / "w.xlsx", row)).orders
    assert [(end.kind, end.angle_mdeg) for end in line.ends] == [
        (EndKind.MITRE, 45_000),
        (EndKind.MITRE, 30_000),
    ]


@pytest.mark.parametrize(
    ("one", "two"),
    [("Extremo 1", "Extremo 2"), ("Bout A", "Bout B"), ("Extrémité 1", "Extrémité 2")],
)
def test_each_end_has_a_column_in_other_languages(tmp_path: Path, one: str, two: str) -> None:
    row = an_order(**{one: "recto", two: "inglete 15"})
    (line,) = read_workbook(some_orders(tmp_path / "w.xlsx", row)).orders
    assert [str(end.kind) for end in line.ends] == ["square", "mitre"]


@pytest.mark.parametrize(
    "said", ["one end saddle 1-1/2", "1 end: saddle 1-1/2", "saddle 1-1/2 one end"]
)
def test_one_end_may_be_said_first(tmp_path: Path, said: str) -> None:
    row = an_order(**{"Cut ends": said})
    (line,) = read_workbook(some_orders(tmp_path / "w.xlsx", row)).orders
    assert [str(end.kind) for end in line.ends] == ["saddle", "square"]


@pytest.mark.parametrize("header", ["Bend angle", "Notch template", "Mitre date", "Angle A"])
def test_a_column_about_shape_that_is_not_read_is_warned_of(tmp_path: Path, header: str) -> None:
    found = read_workbook(some_orders(tmp_path / "w.xlsx", {**an_order(), header: "90"}))
    (line,) = found.orders
    assert line.ends == (EndCut(), EndCut())
    (warning,) = found.findings
    assert (warning.severity, f"“{header}” is not read" in warning.message) == (
        Severity.WARNING,
        True,
    )


def test_one_cell_for_both_ends_counts_where_the_others_are_blank(tmp_path: Path) -> None:
    line = the_line(tmp_path, Ends="mitre 45", **{"End 2": "square"})
    assert [end.kind for end in line.ends] == [EndKind.MITRE, EndKind.SQUARE]


@pytest.mark.parametrize(
    ("twist", "mdeg"),
    [
        ("same side", 0),
        ("Opposite sides", 180_000),
        ("parallel", 180_000),
        (180, 180_000),
        ("90°", 90_000),
        (270, -90_000),
    ],
)
def test_two_mitres_are_turned_as_the_row_says(twist: Cell, mdeg: int, tmp_path: Path) -> None:
    assert the_line(tmp_path, **MITRES, Twist=twist).twist_mdeg == mdeg


def test_two_mitres_without_a_twist_are_told(tmp_path: Path) -> None:
    words = "two mitres without a Twist read as: both long points on one side"
    found = reading(tmp_path, an_order(**MITRES))
    assert found.orders[0].twist_mdeg == 0
    assert any(words in text for text in found.readings)
    said = reading(tmp_path, an_order(**MITRES, Twist="same side"))
    assert not any(words in text for text in said.readings)


def test_a_twist_without_two_mitres_is_not_used_and_told(tmp_path: Path) -> None:
    found = reading(tmp_path, an_order(Twist=180))
    assert found.orders[0].twist_mdeg == 0
    assert any("Twist is not used" in text for text in found.readings)


def test_a_twist_that_could_be_two_things_is_an_error(tmp_path: Path) -> None:
    _, message = the_error(tmp_path, **MITRES, Twist="opposed")
    assert "same side, opposite sides, or degrees such as 90" in message


@pytest.mark.parametrize(
    ("header", "value"),
    [("Ends (A/B)", "mitre 45 / square"), ("Ends 1/2", "mitre 45 / square")],
)
def test_one_column_holds_both_ends(header: str, value: str, tmp_path: Path) -> None:
    line = the_line(tmp_path, **{header: value})
    assert [end.kind for end in line.ends] == [EndKind.MITRE, EndKind.SQUARE]


def test_a_column_of_notches_may_say_at_which_ends(tmp_path: Path) -> None:
    found = reading(tmp_path, an_order(Line=1, Notch="1 end"), an_order(Line=2, Notch=0))
    assert [[end.kind for end in line.ends] for line in found.orders] == [
        [EndKind.SADDLE, EndKind.SQUARE],
        [EndKind.SQUARE, EndKind.SQUARE],
    ]
    assert any("“1 end”: “saddle” read as saddle on" in note for note in found.readings)


def test_copes_in_two_columns_are_the_two_ends(tmp_path: Path) -> None:
    (line,) = reading(tmp_path, an_order(Cope_A="saddle 1-1/2", Cope_B="square")).orders
    assert [end.kind for end in line.ends] == [EndKind.SADDLE, EndKind.SQUARE]


def test_a_cell_for_both_ends_that_cannot_be_read_is_told_once(tmp_path: Path) -> None:
    cell, message = the_error(tmp_path, Ends="threaded")
    assert (cell, "threaded" in message) == ("K2", True)


@pytest.mark.parametrize("written", ["n/a", "-", "none"])
def test_nothing_in_a_column_of_both_ends_is_square(tmp_path: Path, written: str) -> None:
    assert [end.kind for end in the_line(tmp_path, Ends=written).ends] == [EndKind.SQUARE] * 2
