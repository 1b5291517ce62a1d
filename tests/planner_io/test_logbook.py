"""A log workbook: runs read, wrong rows refused by cell, and the lesson in words."""

import datetime as dt
from pathlib import Path

import pytest

from planner.errors import InputError
from planner.finisher.learned import learn
from planner.shop import What
from planner.tube import Family
from planner_io.log_report import lesson_lines
from planner_io.logbook import LogReading, read_log
from tests.planner_io.workbook.sheets import Cell, a_table, a_workbook

TODAY = dt.date(2026, 11, 25)
RUN: dict[str, Cell] = {
    "Day": dt.date(2026, 11, 2),
    "Belt": "P120 stainless",
    "Material": "stainless",
    "OD": "1-1/2",
    "Wall": ".065",
    "Length": "20'",
    "Pieces": 12,
    "Tilt": 5,
    "Minutes": 48,
    "Belt change (min)": 9,
    "Spring": "3 turns",
}


def a_log_of(path: Path, *rows: dict[str, Cell]) -> LogReading:
    first = read_log_names(path)
    table = a_table([{**RUN, "Belt": first, **row} for row in rows])
    return read_log(a_workbook(path / "log.xlsx", Log=table), today=TODAY)


def read_log_names(path: Path) -> str:
    """A stainless belt of the starter shop."""
    empty = read_log(a_workbook(path / "names.xlsx", Log=a_table([RUN])), today=TODAY)
    return next(b.name for b in empty.shop.belts if Family.STAINLESS in b.families)


def test_a_row_is_read_with_everything_on_it(tmp_path: Path) -> None:
    found = a_log_of(tmp_path, {"Who": "Sam"})
    assert found.findings == ()
    (run,) = found.runs
    assert (run.day, run.count, run.tilt_mdeg, run.minutes) == (dt.date(2026, 11, 2), 12, 5000, 48)
    assert (run.od_nm, run.wall_nm) == (38_100_000, 1_651_000)
    assert run.length_nm == 240 * 25_400_000
    assert [(setup.what, setup.minutes) for setup in run.setups] == [(What.BELT, 9)]
    assert (run.who, run.spring, run.timed) == ("Sam", "3 turns", False)


def test_a_timed_tube_may_be_given_in_seconds(tmp_path: Path) -> None:
    found = a_log_of(tmp_path, {"Pieces": 1, "Minutes": "95 s", "Timed": "yes"})
    assert found.runs[0].minutes == pytest.approx(95 / 60)
    assert found.runs[0].timed


@pytest.mark.parametrize(
    ("change", "cell"),
    [
        ({"Day": "someday"}, "A2"),
        ({"Day": dt.date(2027, 5, 1)}, "A2"),
        ({"Belt": "P7 cheese"}, "B2"),
        ({"Material": "wood"}, "C2"),
        ({"Material": "aluminium"}, "C2"),
        ({"OD": "wide"}, "D2"),
        ({"OD": "20 in"}, "D2"),
        ({"Length": "0"}, "F2"),
        ({"Pieces": 0}, "G2"),
        ({"Pieces": 2.5}, "G2"),
        ({"Tilt": 80}, "H2"),
        ({"Tilt": "steep"}, "H2"),
        ({"Minutes": 0}, "I2"),
        ({"Minutes": "a while"}, "I2"),
        ({"Minutes": None}, "I2"),
        ({"Belt change (min)": "long"}, "J2"),
    ],
)
def test_wrong_rows_are_refused_by_cell_and_the_others_are_kept(
    tmp_path: Path, change: dict[str, Cell], cell: str
) -> None:
    found = a_log_of(tmp_path, change, {})
    assert [finding.cell for finding in found.findings] == [cell]
    assert [run.row for run in found.runs] == [3]


def test_a_run_may_be_given_by_its_start_and_end(tmp_path: Path) -> None:
    row: dict[str, Cell] = {"Minutes": None, "Start": "7:10", "Stop": "8:05 am"}
    assert [run.minutes for run in a_log_of(tmp_path, row).runs] == [55]
    both = a_log_of(tmp_path, {"Start": "7:10", "Stop": "7:20"})
    assert [run.minutes for run in both.runs] == [48]


@pytest.mark.parametrize(
    ("start", "stop", "cell", "why"),
    [
        ("13:00", "12:30", "M2", "not after the start"),
        ("13:00", None, "M2", "nothing is written here, and no Minutes"),
        (None, "12:30", "L2", "nothing is written here, and no Minutes"),
        ("13:00", "45 min", "M2", "time of day"),
        (None, None, "I2", "nothing is written here"),
    ],
)
def test_a_start_or_end_that_cannot_be_is_told_at_its_cell(
    start: str | None, stop: str | None, cell: str, why: str, tmp_path: Path
) -> None:
    found = a_log_of(tmp_path, {"Minutes": None, "Start": start, "Stop": stop})
    assert found.runs == ()
    ((where, message),) = [(each.cell, each.message) for each in found.findings]
    assert (where, why in message) == (cell, True)


def test_a_sheet_of_another_name_is_taken_when_it_has_the_columns(tmp_path: Path) -> None:
    path = a_workbook(tmp_path / "x.xlsx", Blatt1=a_table([{**RUN, "Belt": "?"}]))
    assert read_log(path).findings[0].cell == "B2"


def test_a_workbook_without_a_log_is_refused(tmp_path: Path) -> None:
    path = a_workbook(tmp_path / "x.xlsx", Notes=[["nothing", "here"]])
    with pytest.raises(InputError, match="there is no sheet Log"):
        read_log(path)


def test_the_lesson_is_told_in_words(tmp_path: Path) -> None:
    rows: list[dict[str, Cell]] = [
        {"Minutes": 46 + n % 5, "Pieces": 12, "Day": dt.date(2026, 10, 1 + n)} for n in range(14)
    ]
    rows.append({"Minutes": 200, "Day": dt.date(2026, 10, 20)})
    found = a_log_of(tmp_path, *rows)
    lesson = learn(found.shop, found.runs)
    words = "\n".join(lesson_lines(found.shop, lesson))
    for part in ("15 runs", "slip", "Changing belt", "Row 16 took", "in their 80 % interval"):
        assert part in words, words
    assert "time five tubes with a watch" in words
    assert lesson.shop.good[-1].spring == "3 turns"
    assert lesson.shop.good[-1].station == found.runs[-1].station != ""
