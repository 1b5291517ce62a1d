"""Which plans stand for which week, and what was timed in it."""

from __future__ import annotations

from datetime import datetime
from pathlib import Path

import pytest
from typer.testing import CliRunner

from planner.errors import InputError
from planner.held import Replan
from planner.hours import moment
from planner.records import Plan
from planner.shop import What
from planner.standing import issued_at
from planner_io.cli import app
from planner_io.ledger_weeks import Folder, Timed, read_folders, weeks
from planner_io.plan_file import NAME, plan_bytes
from planner_io.store import Store
from planner_io.tapped import digest, floor_file, taps_of
from planner_io.taps import RunReport, Tap, TapKind
from tests.planner_io.plans import a_plan

NOON, LATER = 720, 900


def planned_again(plan: Plan, now_min: int, *moved: str) -> Plan:
    """The rest of a plan's week planned again at a minute; what moved begins a minute later."""
    issued = tuple(issued_at(slot) for slot in plan.slots)
    slots = tuple(
        slot.model_copy(update={"start_min": slot.start_min + 1})
        if slot.operation in moved
        else slot
        for slot in plan.slots
    )
    return plan.model_copy(
        update={
            "slots": slots,
            "options": plan.options.model_copy(update={"start_min": now_min}),
            "replan": Replan(now_min=now_min, held=(), issued=issued, moved=()),
        }
    )


def done(operation: str, *setups: tuple[What, int]) -> tuple[Tap, ...]:
    """A step with the minutes of its set-up, as they are entered when it is done."""
    start, end = datetime(2026, 11, 30, 8), datetime(2026, 11, 30, 9)
    report = RunReport(pieces=1, minutes=60, setups=setups)
    return (
        Tap(f"{operation} 1", operation, TapKind.START, start),
        Tap(f"{operation} 2", operation, TapKind.DONE, end, report),
    )


def changed(plan: Plan) -> list[tuple[str, str, int]]:
    """Operation, station and planned minutes of each changeover."""
    return [(s.operation, s.station, s.setup_min) for s in plan.slots if s.setup_min]


def test_a_week_that_was_planned_again_counts_once_by_its_last_plan() -> None:
    first = a_plan()
    moved = first.slots[-1].operation
    second = planned_again(first, NOON, moved)
    third = planned_again(second, LATER)
    folders = [Folder("a", first), Folder("b", second), Folder("c", third)]
    (week,) = weeks(folders)
    assert week.plan is third
    assert [one.name for one in week.before] == ["a", "b"]
    assert week.label == "2026-11-30"


def test_plans_of_one_week_that_do_not_come_from_each_other_are_weeks_of_their_own() -> None:
    first = a_plan()
    other = planned_again(first, NOON, first.slots[-1].operation)
    again = planned_again(other, LATER)
    found = weeks([Folder("a", first), Folder("b", again)])
    assert [week.label for week in found] == ["2026-11-30 a", "2026-11-30 b"]
    assert not any(week.before for week in found)


def test_what_was_timed_before_and_after_it_was_planned_again_is_in_the_week() -> None:
    first = a_plan()
    (one, at, planned), (two, there, later), *_ = changed(first)
    before = Folder("a", first, (*done(one, (What.OD, 4), (What.BELT, 5)), *done(two)))
    again = planned_again(first, NOON)
    (week,) = weeks([before, Folder("b", again, done(two, (What.BELT, 3)))])
    assert week.timed == (Timed(at, planned, 9), Timed(there, later, 3))


def test_a_set_up_without_minutes_is_not_counted_as_timed() -> None:
    key, *_ = changed(a_plan())[0]
    (week,) = weeks([Folder("a", a_plan(), done(key))])
    assert week.timed == ()


def a_folder(folder: Path, plan: Plan) -> Path:
    folder.mkdir()
    (folder / NAME).write_bytes(plan_bytes(plan))
    return folder


def test_taps_are_read_from_the_folder_of_their_plan(tmp_path: Path) -> None:
    folder = a_folder(tmp_path / "week", a_plan())
    assert taps_of(folder) is None
    assert not floor_file(folder).exists()
    key, station, planned = changed(a_plan())[0]
    store = Store(floor_file(folder), digest(folder))
    store.open()
    for tap in done(key, (What.OD, planned + 7)):
        store.record(tap)
    (read,) = read_folders([folder / NAME])
    assert read.name == "week"
    (week,) = weeks([read])
    assert week.timed == (Timed(station, planned, planned + 7),)
    said = CliRunner().invoke(app, ["ledger", str(folder)]).stdout
    assert "What the floor took, where it was timed on a tablet" in said
    assert "+7" in said


def test_taps_of_another_plan_are_refused(tmp_path: Path) -> None:
    folder = a_folder(tmp_path / "week", a_plan())
    Store(floor_file(folder), "another plan").open()
    with pytest.raises(InputError, match="another plan"):
        taps_of(folder)


def test_the_command_says_that_a_week_was_planned_again(tmp_path: Path) -> None:
    first = a_plan()
    again = planned_again(first, NOON)
    names = [a_folder(tmp_path / "a", first), a_folder(tmp_path / "b", again)]
    said = CliRunner().invoke(app, ["ledger", *map(str, names)]).stderr
    assert "2026-11-30 was planned again, and counts once: a is in it." in said
    now = moment(NOON, first.options.start)
    assert f"by due date is from Mon {now.day} Nov 12:00 on" in said


def test_the_command_says_that_a_week_was_planned_with_more_minutes_than_work_mostly_takes(
    tmp_path: Path,
) -> None:
    usual = a_plan()
    roomy = usual.model_copy(
        update={"options": usual.options.model_copy(update={"confidence": 90})}
    )
    names = [a_folder(tmp_path / "a", usual), a_folder(tmp_path / "b", roomy)]
    said = CliRunner().invoke(app, ["ledger", *map(str, names)]).stderr
    words = "planned with minutes that 90 of 100 runs and changeovers keep (--confidence 90)"
    assert f"2026-11-30 b: {words}" in said
    assert "2026-11-30 a:" not in said
