"""The Progress sheet: rows read against an issued plan, and every wrong cell told at once."""

from __future__ import annotations

import datetime as dt
from collections.abc import Sequence
from pathlib import Path
from typing import Any

import openpyxl
import pytest

from planner.errors import InputError
from planner.records import Plan
from planner.replan import Progress, State
from planner.replan.scrap import Scrapped
from planner.scrap import Scrap
from planner_io.progress import read_progress
from planner_io.workbook.grid import Value
from tests.planner_io.paused import a_paused_plan
from tests.planner_io.plans import DAY, a_plan, a_replanned_plan, with_people

NOW = dt.datetime(2026, 12, 2, 10, 30)
"""A Wednesday; the plan begins on Monday."""
HEADERS = ("Operation", "State", "Start", "End", "Pieces", "Station", "Note")


def a_sheet(folder: Path, *rows: Sequence[Value | None], headers: Sequence[str] = HEADERS) -> Path:
    book = openpyxl.Workbook()
    sheet = book.active
    assert sheet is not None
    sheet.title = "Progress"
    for row in (headers, *rows):
        sheet.append(list(row))
    path = folder / "progress.xlsx"
    book.save(path)
    return path


def read(folder: Path, *rows: Sequence[Value | None], **changes: Any) -> tuple[Progress, ...]:
    return read_progress(a_sheet(folder, *rows, **changes), a_plan(), NOW).rows


def refused(folder: Path, *rows: Sequence[Value | None], **changes: Any) -> list[tuple[str, str]]:
    with pytest.raises(InputError) as caught:
        read(folder, *rows, **changes)
    return [(finding.cell or "", finding.message) for finding in caught.value.findings]


def test_a_row_says_what_was_done_and_when(tmp_path: Path) -> None:
    (row,) = read(tmp_path, ("L01.P1", "done", "Mon 7:20", "2026-11-30 8:25", None, None, "wavy"))
    assert (row.operations, row.state) == (("L01.P1",), State.DONE)
    assert (row.start_min, row.end_min, row.note) == (440, 505, "wavy")
    assert (row.sheet, row.cell) == ("Progress", "A2")


@pytest.mark.parametrize(
    ("cell", "minute"),
    [
        ("09:10", 2 * DAY + 550),
        ("9:10 am", 2 * DAY + 550),
        (dt.time(9, 10), 2 * DAY + 550),
        (0.5, 2 * DAY + 720),
        ("Tue 14:05", DAY + 845),
        ("14:05 tuesday", DAY + 845),
        ("Wed 8:00", 2 * DAY + 480),
        ("Thu 8:00", -4 * DAY + 480),
        ("1 Dec 2026 14:05", DAY + 845),
        (dt.datetime(2026, 12, 1, 14, 5), DAY + 845),
    ],
)
def test_times_of_what_happened_are_of_today_or_the_last_such_weekday(
    tmp_path: Path, cell: Value, minute: int
) -> None:
    (row,) = read(tmp_path, ("L01.P1", "started", cell))
    assert row.start_min == minute


def test_a_pin_is_next_a_day_a_time_or_a_span(tmp_path: Path) -> None:
    rows = read(
        tmp_path,
        ("L01", "pin", "next"),
        ("L02.P1", "pin", "Thursday 13:00"),
        ("L02.SAW", "pin", "Friday"),
        ("L02.NOTCH", "pin", "Thu 7:00", "Fri 9:00"),
    )
    assert rows[0].next
    assert rows[0].operations == ("L01.P1", "L01.P2", "L01.SAW", "L01.BEND")
    assert (rows[1].start_min, rows[1].span) == (3 * DAY + 780, False)
    assert (rows[2].start_min, rows[2].end_min, rows[2].span) == (4 * DAY, 5 * DAY, True)
    assert (rows[3].start_min, rows[3].end_min) == (3 * DAY + 420, 4 * DAY + 540)


def test_lot_and_step_name_an_operation_too(tmp_path: Path) -> None:
    rows = read(
        tmp_path,
        ("l01", "Pass 2", "finished"),
        ("L 02", "notching", "lock"),
        ("L01", None, "locked"),
        headers=("Lot no.", "Step", "Status"),
    )
    assert [row.operations for row in rows] == [
        ("L01.P2",),
        ("L02.NOTCH",),
        ("L01.P1", "L01.P2", "L01.SAW", "L01.BEND"),
    ]
    assert [row.state for row in rows] == [State.DONE, State.LOCK, State.LOCK]


def test_a_csv_file_is_read_too(tmp_path: Path) -> None:
    path = tmp_path / "progress.csv"
    path.write_text("Operation;State;Pieces\nL01.P1;started;3\n", encoding="utf-8")
    (row,) = read_progress(path, a_plan(), NOW).rows
    assert (row.state, row.pieces) == (State.STARTED, 3)


def test_everything_wrong_is_told_at_once_by_cell(tmp_path: Path) -> None:
    found = refused(
        tmp_path,
        ("L01.P9", "done"),
        ("L01.P1", "perhaps"),
        ("L01.P2", "done", "half past"),
        ("L02.P1", "started", None, None, 99),
        ("L02.P2", "done", None, None, None, "Saw"),
        ("L01.SAW", "pin"),
        (None, "done"),
        ("L02", "started"),
        ("L02.SAW", "done", "2026-12-01"),
    )
    assert [cell for cell, _ in found] == [
        "A2", "B3", "C4", "E5", "F6", "C7", "A8", "B9", "C10",
    ]  # fmt: skip
    assert "which is not in the plan that was issued; L01.P2 comes close" in found[0][1]


def test_two_rows_for_one_operation_contradict_each_other(tmp_path: Path) -> None:
    found = refused(tmp_path, ("L01.P1", "done"), ("L01", "open"))
    assert found == [("B3", "State: L01.P1 has a row already at Progress!A2: keep one of them")]


def test_a_sheet_without_states_is_refused_with_what_to_add(tmp_path: Path) -> None:
    (found,) = refused(tmp_path, ("L01.P1", "L01"), headers=("Operation", "Lot"))
    assert "there is no column State" in found[1]


def test_a_missing_file_is_one_plain_sentence(tmp_path: Path) -> None:
    with pytest.raises(InputError, match="there is no such file"):
        read_progress(tmp_path / "none.xlsx", a_plan(), NOW)


HOW_LONG = ("Operation", "State", "Start", "End", "Took (min)")


def test_done_work_may_say_how_long_it_took(tmp_path: Path) -> None:
    rows = read(
        tmp_path,
        ("L01.P1", "done", "Mon 7:20", None, 35),
        ("L01.P2", "done", None, None, "40 min"),
        headers=HOW_LONG,
    )
    assert [(row.start_min, row.end_min, row.minutes) for row in rows] == [
        (440, None, 35),
        (None, None, 40),
    ]


def test_minutes_that_say_nothing_new_are_not_used_and_told(tmp_path: Path) -> None:
    rows = (
        ("L01.P1", "done", "Mon 7:20", "Mon 8:00", 35),
        ("L01.P2", "started", "8:00", "11:00", 40),
        ("L02.P1", "set-up", "8:00", None, 40),
    )
    path = a_sheet(tmp_path, *rows, headers=HOW_LONG)
    found = read_progress(path, a_plan(), NOW)
    assert [row.minutes for row in found.rows] == [None, None, None]
    assert [each.cell for each in found.findings] == ["E2", "E3", "E4"]


def test_minutes_of_a_run_are_those_that_it_has_worked(tmp_path: Path) -> None:
    rows = (
        ("L01.P1", "paused", "Mon 7:20", "Mon 8:00", 35),
        ("L01.P2", "started", "8:00", None, 40),
    )
    first, second = read(tmp_path, *rows, headers=HOW_LONG)
    assert (first.state, first.start_min, first.end_min, first.minutes) == (
        *(State.PAUSED, 440, 480),
        35,
    )
    assert second.minutes == 40


WHO = ("Operation", "State", "Start", "Who")


@pytest.mark.parametrize(
    ("written", "names"),
    [
        *(("Bo", ("Bo",)), ("bo", ("Bo",)), (None, ())),
        *((each, ("Ana", "Bo")) for each in ("Ana, Bo", "ana and bo", "Ana & Bo", "Ana/Bo/Ana")),
    ],
)
def test_who_does_it_is_one_or_two_of_the_shops_people(
    tmp_path: Path, written: str | None, names: tuple[str, ...]
) -> None:
    path = a_sheet(tmp_path, ("L01.P1", "started", "8:00", written), headers=WHO)
    (row,) = read_progress(path, with_people(a_plan(), "Ana", "Bo"), NOW).rows
    assert row.people == names


@pytest.mark.parametrize(
    ("written", "words"),
    [
        ("Boo", "read “Boo”, who is not among the shop's people; Bo comes close"),
        ("Ana, Bo, Cy", "2 people at most do one thing"),
    ],
)
def test_who_is_no_one_of_the_shop_is_refused(tmp_path: Path, written: str, words: str) -> None:
    plan = with_people(a_plan(), "Ana", "Bo", "Cy")
    path = a_sheet(tmp_path, ("L01.P1", "started", "8:00", written), headers=WHO)
    with pytest.raises(InputError) as caught:
        read_progress(path, plan, NOW)
    (finding,) = caught.value.findings
    assert finding.cell == "D2"
    assert words in finding.message


def test_who_is_not_used_where_the_shop_has_no_people(tmp_path: Path) -> None:
    path = a_sheet(tmp_path, ("L01.P1", "started", "8:00", "Bo"), headers=WHO)
    found = read_progress(path, a_plan(), NOW)
    assert found.rows[0].people == ()
    assert "the shop has no sheet People" in found.findings[0].message


def test_minutes_of_a_whole_lot_are_refused(tmp_path: Path) -> None:
    ((cell, words),) = refused(tmp_path, ("L01", "done", None, None, 90), headers=HOW_LONG)
    assert (cell, "give each operation its own row" in words) == ("E2", True)


def test_half_a_day_is_no_time_of_day(tmp_path: Path) -> None:
    ((cell, words),) = refused(tmp_path, ("L01.P1", "pin", "Thursday AM"))
    assert (cell, "half a day is no time" in words) == ("C2", True)


def read_again(folder: Path, *rows: Sequence[Value | None]) -> list[tuple[str | None, str]]:
    """What is wrong in rows for a week that was planned again before, on Monday at 8:40."""
    try:
        read_progress(a_sheet(folder, *rows), a_replanned_plan(), NOW)
    except InputError as problem:
        return [(finding.cell, finding.message) for finding in problem.findings]
    return []


def test_a_time_of_day_that_was_kept_from_an_earlier_day_is_no_time_of_today(
    tmp_path: Path,
) -> None:
    first = a_replanned_plan().slots[0]
    at, day = f"{first.start_min // 60}:{first.start_min % 60:02}", "Mon 30 Nov"
    ((cell, words),) = read_again(tmp_path, (first.operation, "done", at))
    assert cell == "C2"
    assert f"has it at {day} {at} in the plan before: write the day beside the time" in words
    assert not read_again(tmp_path, (first.operation, "done", f"Mon {at}"))
    assert not read_again(tmp_path, (first.operation, "done", "9:59"))


def test_running_work_that_was_never_counted_may_be_said_again(tmp_path: Path) -> None:
    """A tablet says so until Done is tapped; planning guesses its end, and tells that."""
    plan = a_replanned_plan()
    second = plan.slots[1]
    assert plan.replan
    held = tuple(one.model_copy(update={"pieces": None}) for one in plan.replan.held)
    plan = plan.model_copy(update={"replan": plan.replan.model_copy(update={"held": held})})
    at = f"Mon {second.start_min // 60}:{second.start_min % 60:02}"
    found = read_progress(a_sheet(tmp_path, (second.operation, "started", at)), plan, NOW)
    assert [row.start_min for row in found.rows] == [second.start_min]


def test_a_pause_that_was_told_before_wants_the_day_beside_its_time(tmp_path: Path) -> None:
    plan = a_paused_plan(450, 480)
    with pytest.raises(InputError, match="write the day beside the time"):
        read_progress(a_sheet(tmp_path, ("L02.P1", "paused", "7:30")), plan, NOW)
    rows = read_progress(a_sheet(tmp_path, ("L02.P1", "paused", "Mon 7:30")), plan, NOW).rows
    assert rows[0].start_min == 450


def test_running_work_of_which_nothing_new_is_said_is_asked_for(tmp_path: Path) -> None:
    second = a_replanned_plan().slots[1]
    at = f"Mon {second.start_min // 60}:{second.start_min % 60:02}"
    ((cell, words),) = read_again(tmp_path, (second.operation, "started", at, None, 3))
    assert (cell, "write done here and its End, or how many are done" in words) == ("B2", True)
    assert not read_again(tmp_path, (second.operation, "started", at, None, 4))
    assert not read_again(tmp_path, (second.operation, "started", at, "Wed 11:00", 3))


SCRAP_HEADERS = ("Operation", "State", "Pieces", "Line", "Stick")


def scrapped(folder: Path, *rows: Sequence[Value | None]) -> tuple[Scrapped, ...]:
    path = a_sheet(folder, *rows, headers=SCRAP_HEADERS)
    return read_progress(path, a_plan(), NOW).scrapped


def test_scrapped_pieces_are_of_the_only_line_or_the_one_that_is_named(tmp_path: Path) -> None:
    plan = a_plan()
    (line,) = plan.lots[0].lines
    (row,) = scrapped(tmp_path, ("L01.SAW", "scrapped", 2, None))
    assert row == Scrapped(Scrap(operation="L01.SAW", line=line, pieces=2), "Progress", "A2")
    (row,) = scrapped(tmp_path, ("L01", "scrap", "a pair", line.lower()))
    assert row.scrap == Scrap(operation="L01", line=line, pieces=2)


@pytest.mark.parametrize("typed", ["So 12b/1", "so12B / 1"])
def test_a_line_of_an_order_with_letters_and_spaces_may_be_named_as_people_type_it(
    tmp_path: Path, typed: str
) -> None:
    renamed = a_plan().model_dump_json().replace("1187", "So 12b")
    path = a_sheet(tmp_path, ("L01", "scrapped", 2, typed), headers=SCRAP_HEADERS)
    (row,) = read_progress(path, Plan.model_validate_json(renamed), NOW).scrapped
    assert row.scrap == Scrap(operation="L01", line="So 12b/1", pieces=2)


def test_a_scrapped_stick_is_all_the_pieces_that_its_cut_list_takes_from_it(tmp_path: Path) -> None:
    plan = a_plan()
    stick = plan.cut_lists[0].sticks[1]
    (line,) = plan.lots[0].lines
    lost = Scrap(operation="L01.P1", line=line, stick=stick.tag, pieces=len(stick.pieces))
    assert lost.pieces > 1
    tag = stick.tag.lower()
    (row,) = scrapped(tmp_path, ("L01.P1", "scrapped", None, None, tag))
    assert row.scrap == lost
    (row,) = scrapped(tmp_path, ("L01.P1", "scrapped", 0, None, tag))
    assert row.scrap == lost.model_copy(update={"pieces": 0})


def test_several_rows_may_say_that_pieces_of_an_operation_were_scrapped(tmp_path: Path) -> None:
    rows = scrapped(tmp_path, ("L01.SAW", "scrapped", 1), ("L01.SAW", "scrapped", 1))
    assert [row.scrap.pieces for row in rows] == [1, 1]


@pytest.mark.parametrize(
    ("row", "cell", "words"),
    [
        (("L01.SAW", "scrapped", None), "C2", "how many pieces are scrapped"),
        (("L01.SAW", "scrapped", 999), "C2", "expected 0 to"),
        (("L01.P1", "scrapped", None, None, "L02-1"), "E2", "lot L01 has no such stick; its cut"),
        (("L01.P1", "scrapped", 3, None, "L01-1"), "C2", "expected 0 if it is not lost after all"),
        (("L01.SAW", "scrapped", 1, "77/7"), "D2", "has no pieces of 77/7; write under Line"),
    ],
)
def test_a_row_of_scrap_that_cannot_be_is_refused_at_its_cell(
    tmp_path: Path, row: Sequence[Value | None], cell: str, words: str
) -> None:
    ((where, message),) = refused(tmp_path, row, headers=SCRAP_HEADERS)
    assert where == cell
    assert words in message
