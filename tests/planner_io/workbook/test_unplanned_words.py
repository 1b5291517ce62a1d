"""What a row says in words alone is told, since nothing is planned by it."""

from __future__ import annotations

from pathlib import Path

import pytest

from planner_io.workbook import read_workbook
from tests.planner_io.workbook.sheets import Cell, an_order, some_orders


def said(path: Path, **cells: Cell) -> list[str]:
    found = read_workbook(some_orders(path / "w.xlsx", an_order(**cells)))
    assert len(found.orders) == 1
    return [each.message for each in found.findings if ": says “" in each.message]


@pytest.mark.parametrize(
    ("text", "so"),
    [
        ("coped both ends", "but both ends are planned square; write them under End 1 and End 2"),
        ("2 bends", "but no bend is planned; write how many under Bent"),
        ("on hold", "but it is planned; write hold or cancelled under Status"),
    ],
)
def test_a_column_that_is_not_read_is_told_where_it_says_what_is_not_planned(
    tmp_path: Path, text: str, so: str
) -> None:
    rows = (an_order(Machining="sawn"), an_order(Line="2", Machining=text))
    (told,) = read_workbook(some_orders(tmp_path / "w.xlsx", *rows)).findings
    assert told.cell == "K1"
    assert "the column “Machining” is not read, and row 3 says “" in told.message
    assert so in told.message
    planned = {"End 1": "square", "Bent": "no", "Status": "open"}
    rows = ({**rows[0], **planned}, {**rows[1], **planned})
    assert read_workbook(some_orders(tmp_path / "v.xlsx", *rows)).findings == ()


@pytest.mark.parametrize(
    ("cells", "words"),
    [
        ({"Part": "cancelled - footrest"}, "says “cancelled”, but it is planned; write hold or"),
        ({"Notes": "on hold till Thu"}, "says “on hold”"),
        ({"Order": "Car 12 (x2)"}, "says “(x2)”, but Quantity is taken as it stands"),
        ({"Part": "Gate frame (3 sets)"}, "says “(3 sets)”"),
        ({"Notes": "RUSH!"}, "says “RUSH”, but it is planned like all others"),
        ({"Notes": "eilig"}, "says “eilig”"),
        ({"Notes": "gebogen 2x R75"}, "says “gebogen”, but no bend is planned"),
        ({"Notes": "2 bends per dwg"}, "says “bends”"),
        ({"Notes": "coupe 45° 2 bouts"}, "says “coupe 45°”, but both ends are planned square"),
        ({"Notes": "cope both ends to 1-1/2"}, "says “cope”"),
        ({"Notes": "miter 45 one end"}, "says “miter”"),
        ({"Notes": "brushed 240", "Finish": None}, "says “brushed”, but no finish is planned"),
    ],
)
def test_words_that_nothing_is_planned_by_are_told(
    tmp_path: Path, cells: dict[str, Cell], words: str
) -> None:
    (told,) = said(tmp_path, **cells)
    assert words in told


@pytest.mark.parametrize(
    "cells",
    [
        {"Notes": "bag each piece"},
        {"Part": "Rail 2x4 (rev 2)", "Order": "1187 (2)"},
        {"Notes": "no bends, not coped"},
        {"Notes": "do not mitre; ohne Gehrung"},
        {"Notes": "cope both ends", "End_1": "saddle 1-1/2 @ 90"},
        {"Notes": "mitre as sketched", "Both_ends": "mitre 45"},
        {"Notes": "rush", "Priority": "rush"},
        {"Notes": "2 bends", "Bent": 2, "Length_is": "blank", "CLR": "4-1/2"},
        {"Notes": "polished look matters"},
        {"Notes": "send to brush shop", "Finish": "none"},
        {"Part": "Bend tester, notch bar, polish rack"},
        {"Notes": "avoid scratches; crushed ice; Satinwood Lane"},
    ],
)
def test_words_that_are_planned_or_denied_are_not(tmp_path: Path, cells: dict[str, Cell]) -> None:
    assert said(tmp_path, **cells) == []


@pytest.mark.parametrize(
    ("title", "used"),
    [
        ("New qty", "Quantity"),
        ("Revised due date", "Due"),
        ("Length neu", "Length"),
        ("Qty 2", "Quantity"),
        ("Outside finish", "Finish"),
    ],
)
def test_a_column_that_takes_the_place_of_another_one_is_told(
    tmp_path: Path, title: str, used: str
) -> None:
    rows = (an_order(**{title: None}), an_order(Line="2", **{title: 6}))
    (told,) = read_workbook(some_orders(tmp_path / "w.xlsx", *rows)).findings
    assert f"the column “{title}” is not read, though row 3 has something there: {used}" in (
        told.message
    )
    blank = (an_order(**{title: None}), an_order(Line="2"))
    assert read_workbook(some_orders(tmp_path / "v.xlsx", *blank)).findings == ()
