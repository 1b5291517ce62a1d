"""`brightrun plan --after`, as users type it."""

from __future__ import annotations

from datetime import datetime, timedelta
from pathlib import Path

import openpyxl
import pytest

from planner_io.plan_file import read_plan
from tests.planner_io.books import a_book
from tests.planner_io.test_cli import QUICK, Command, run

__all__ = ["run"]


def test_the_rest_of_a_week_is_planned_again_and_locked_work_stays(
    run: Command, tmp_path: Path
) -> None:
    book = a_book(tmp_path / "week.xlsx")
    assert run("plan", book, *QUICK, "--start", "2026-11-30", "--out", "first").status == 0
    first = read_plan(Path("first"))
    ended = max(slot.end_min for slot in first.slots if slot.operation.endswith("P1"))
    now = datetime(2026, 11, 30) + timedelta(minutes=ended)
    progress = Path("progress.csv")
    saws = [slot for slot in first.slots if slot.operation.endswith("SAW")]
    key = max(saws, key=lambda slot: slot.start_min).operation
    progress.write_text(f"Operation,State\n{key},lock\n", encoding="utf-8")
    again = run(
        *("plan", book, *QUICK, "--after", "first", "--now", f"{now:%Y-%m-%d %H:%M}"),
        *("--progress", progress, "--out", "second"),
    )
    assert again.status == 0, again.err
    assert "Moved        0 of" in again.out
    second = read_plan(Path("second"))
    assert second.replan is not None
    assert {held.why.value for held in second.replan.held} >= {"done", "locked"}
    assert run("audit", "second").status == 0


@pytest.mark.parametrize(
    ("words", "said"),
    [
        (("--now", "2026-12-02 10:30"), "give the folder of the plan that was issued"),
        (("--after", "nothing"), "it cannot be read"),
    ],
)
def test_planning_again_says_what_it_needs(
    run: Command, tmp_path: Path, words: tuple[str, ...], said: str
) -> None:
    failed = run("plan", a_book(tmp_path / "week.xlsx"), *words)
    assert failed.status == 1
    assert said in failed.err


def test_a_progress_file_with_mistakes_names_their_cells(run: Command, tmp_path: Path) -> None:
    book = a_book(tmp_path / "week.xlsx")
    assert run("plan", book, *QUICK, "--start", "2026-11-30", "--out", "first").status == 0
    progress = Path("progress.csv")
    progress.write_text("Operation,State\nL77.P1,done\nL01,perhaps\n", encoding="utf-8")
    failed = run("plan", book, "--after", "first", "--progress", progress)
    assert failed.status == 1
    assert "Progress!A2" in failed.err
    assert "Progress!B3" in failed.err


def test_the_sheet_progress_of_the_orders_workbook_counts_without_being_named(
    run: Command, tmp_path: Path
) -> None:
    book = a_book(tmp_path / "week.xlsx")
    first = run("plan", book, *QUICK, "--start", "2026-11-30", "--out", "first")
    assert first.status == 0, first.err
    begun = min(read_plan(Path("first")).slots, key=lambda slot: slot.start_min)
    with_sheet(book, ("Operation", "State"), (begun.operation, "open"))
    asked = ("plan", book, *QUICK, "--after", "first", "--now", "2026-11-30 09:00")
    for words in ((), ("--progress", book)):
        again = run(*asked, *words, "--out", "second")
        assert again.status == 0, again.err
        assert "sheets that are not used" not in again.err
        assert ("read from the sheet Progress of" in again.err) == (not words)
        after = {slot.operation: slot for slot in read_plan(Path("second")).slots}
        assert after[begun.operation].start_min >= 540
    assert "not used: Progress" in run("plan", book, *QUICK, "--out", "third").err


def with_sheet(book: Path, *rows: tuple[str, ...]) -> None:
    """Add a sheet Progress to a workbook."""
    opened = openpyxl.load_workbook(book)
    sheet = opened.create_sheet("Progress")
    for row in rows:
        sheet.append(list(row))
    opened.save(book)


def test_scrapped_pieces_are_made_once_more_whether_their_row_is_kept_or_not(
    run: Command, tmp_path: Path
) -> None:
    book = a_book(tmp_path / "week.xlsx")
    first = run("plan", book, *QUICK, "--start", "2026-11-30", "--out", "first")
    assert first.status == 0, first.err
    issued = read_plan(Path("first"))
    sawn = min((s for s in issued.slots if s.operation.endswith("SAW")), key=lambda s: s.end_min)
    lot = next(lot for lot in issued.lots if sawn.operation.startswith(f"{lot.key}."))
    line = lot.lines[0]
    progress = Path("progress.csv")
    progress.write_text(
        f"Operation,State,Pieces,Line\n{sawn.operation},scrapped,2,{line}\n", encoding="utf-8"
    )
    now = datetime(2026, 11, 30) + timedelta(minutes=sawn.end_min)
    whole = {order.key: order.quantity for order in issued.orders}
    kept = ("--progress", progress)
    for before, after, minutes, words in (
        ("first", "second", 0, kept),
        ("second", "third", 5, kept),
        ("third", "fourth", 10, ()),
    ):
        at = f"{now + timedelta(minutes=minutes):%Y-%m-%d %H:%M}"
        again = run("plan", book, *QUICK, "--after", before, "--now", at, *words, "--out", after)
        assert again.status == 0, again.err
        assert f"2 pieces of line {line}, scrapped at {sawn.operation}: made once" in again.err
        pieces = {order.key: order.quantity for order in read_plan(Path(after)).orders}
        assert pieces == {**whole, f"{line}+1": 2}
        assert run("audit", after).status == 0
    progress.write_text(f"Operation,State,Pieces,Line\n{sawn.operation},scrapped,0,{line}\n")
    asked = ("plan", book, *QUICK, "--after", "second", "--now", f"{now:%Y-%m-%d %H:%M}")
    found = run(*asked, "--progress", progress, "--out", "fifth")
    assert found.status == 0, found.err
    assert f"Line {line}+1" in found.err
    assert "is left out, as lots that have begun make all that is wanted" in found.err
    assert {order.key: order.quantity for order in read_plan(Path("fifth")).orders} == whole
