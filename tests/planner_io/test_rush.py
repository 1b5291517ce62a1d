"""A rush line, and what stays where it is, through the command line."""

from __future__ import annotations

from datetime import date
from pathlib import Path

from planner.hours import DAY_MIN, moment
from planner.records import Plan, Slot
from planner_io.plan_file import read_plan
from tests.planner_io.books import MONDAY, a_book, a_row
from tests.planner_io.test_cli import QUICK, Command, run

__all__ = ["run"]

NOW = DAY_MIN + 630
"""Tuesday, half past ten."""
RUSH_DUE = date(2026, 12, 2)


def a_week() -> list[list[object]]:
    """Six lines of three tubes, a pass after the other from Monday to Thursday."""
    return [
        a_row(
            str(number),
            OD=('1-1/2"', '2"', '1"')[number % 3],
            Qty=100 + 15 * number,
            Due=date(2026, 12, 1 + number // 2),
        )
        for number in range(1, 7)
    ]


def slots(plan: Plan) -> dict[str, Slot]:
    return {slot.operation: slot for slot in plan.slots}


def clock(minute: int) -> str:
    return f"{moment(minute, MONDAY):%Y-%m-%d %H:%M}"


def issued(run: Command, folder: Path) -> Plan:
    book = a_book(folder / "week.xlsx", *a_week())
    first = run("plan", book, *QUICK, "--start", "2026-11-30", "--out", "first")
    assert first.status == 0, first.err
    return read_plan(Path("first"))


def with_rush_line(run: Command, folder: Path, *progress: str) -> Plan:
    """The week planned again on Tuesday with one more line, and with rows of progress."""
    said = folder / "progress.csv"
    said.write_text("\n".join(("Operation,State,Start,End", *progress)), encoding="utf-8")
    rush = a_row("9", OD='1-1/2"', Qty=10, Due=RUSH_DUE)
    book = a_book(folder / "rush.xlsx", *a_week(), rush)
    again = run(
        *("plan", book, *QUICK, "--after", "first", "--now", clock(NOW)),
        *("--progress", said, "--out", "second"),
    )
    assert again.status == 0, again.err
    assert run("audit", "second").status == 0
    return read_plan(Path("second"))


def assert_begins_with_what_stands_there(plan: Plan) -> None:
    """The first changeover after now starts from what done and running work left mounted."""
    operations = {operation.key: operation for operation in plan.operations}
    changed = 0
    for station in ("Finisher", "Cold saw"):
        there = [slot for slot in plan.slots if slot.station == station]
        past = [slot for slot in there if slot.setup_start_min < NOW]
        first = next(slot for slot in there if slot.setup_start_min >= NOW)
        stands = operations[past[-1].operation].at(station).state
        needs = operations[first.operation].at(station).state
        assert {c.what: (c.before, c.after) for c in first.changes} == {
            what: (stands[what], value) for what, value in needs.items() if stands[what] != value
        }
        changed += len(first.changes)
    assert changed > 0


def test_a_rush_line_is_on_time_and_moves_little(run: Command, tmp_path: Path) -> None:
    before = issued(run, tmp_path)
    plan = with_rush_line(run, tmp_path)
    assert plan.late == before.late == ()
    assert plan.replan is not None
    lot = next(lot.key for lot in plan.lots if "1187/9" in lot.lines)
    assert lot not in {one.key for one in before.lots}
    assert len(plan.replan.moved) <= 3
    assert_begins_with_what_stands_there(plan)


def test_what_is_done_running_locked_or_pinned_stands_where_the_rows_say(
    run: Command, tmp_path: Path
) -> None:
    before = issued(run, tmp_path)
    passes = [slot for slot in before.slots if slot.station == "Finisher"]
    done = max((s for s in passes if s.end_min <= NOW), key=lambda slot: slot.end_min)
    running = next(s for s in passes if s.start_min <= NOW < s.end_min)
    locked = max(passes, key=lambda slot: slot.start_min)
    saws = [slot for slot in before.slots if slot.station == "Cold saw" and slot.start_min > NOW]
    pinned = min(saws, key=lambda slot: slot.start_min)
    plan = with_rush_line(
        run,
        tmp_path,
        f"{done.operation},done,{clock(done.start_min + 4)},{clock(done.end_min - 5)}",
        f"{running.operation},started,{clock(running.start_min - 2)},",
        f"{locked.operation},lock,,",
        f"{pinned.operation},pin,Wednesday 13:00,",
    )
    after = slots(plan)
    assert after[done.operation].start_min == done.start_min + 4
    assert after[done.operation].end_min == done.end_min - 5
    assert after[running.operation].start_min == running.start_min - 2
    assert _where(after[locked.operation]) == _where(locked)
    assert after[pinned.operation].start_min == 2 * DAY_MIN + 780
    assert_begins_with_what_stands_there(plan)


def _where(slot: Slot) -> tuple[str, tuple[str, ...], int, int]:
    return slot.station, slot.people, slot.start_min, slot.end_min


def test_dates_are_read_near_the_first_day_of_the_week_that_is_planned_again(
    run: Command, tmp_path: Path
) -> None:
    """What --start told of them the first time need not, and cannot, be told again."""
    rows = [a_row("1", Due="Fri 4 Dec"), a_row("2", Due="12/3/2026")]
    book = a_book(tmp_path / "week.xlsx", *rows)
    first = run("plan", book, *QUICK, "--start", "2026-11-30", "--out", "first")
    assert first.status == 0, first.err
    asked = ("plan", book, *QUICK, "--after", "first", "--now", "2026-11-30 09:30")
    again = run(*asked, "--out", "second")
    assert again.status == 0, again.err
    assert [line.due.day for line in read_plan(Path("second")).orders] == [4, 3]
    assert "leave --start out" in run(*asked, "--start", "2026-11-30", "--out", "third").err
