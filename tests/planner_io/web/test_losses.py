"""What is lost at a tablet: asked for, told to the next steps, and made once more by planning."""

from __future__ import annotations

import html
from collections import Counter
from datetime import date, timedelta
from pathlib import Path

import pytest

from planner.audit import audit
from planner.options import Options
from planner.records import Plan
from planner.replan.lines import pieces_issued
from planner.scrap import Scrap
from planner.stop import Stop
from planner_io.again import Again, plan_again
from planner_io.planning import plan_week, read_week
from planner_io.progress import read_progress
from planner_io.views.index import Index
from planner_io.views.pick_lists import pick_step
from tests.planner_io.books import a_book, a_row
from tests.planner_io.plans import a_plan, a_replanned_plan
from tests.planner_io.web.floor import Tablet


@pytest.fixture
def tablet(tmp_path: Path) -> Tablet:
    return Tablet(a_plan(), tmp_path / "floor.sqlite3")


def run_through(tablet: Tablet, operation: str, changes: dict[str, str], minutes: int = 30) -> None:
    assert tablet.tap("start", operation).status_code == 303
    tablet.clock.on(minutes)
    answer = tablet.done(operation, **changes)
    assert answer.status_code == 303, html.unescape(answer.text)


def text(tablet: Tablet, address: str) -> str:
    return html.unescape(tablet.page(address))


def test_lost_sticks_are_those_at_the_end_of_the_cut_list(tablet: Tablet) -> None:
    run_through(tablet, "L01.P1", {"scrap-0": "2"})
    tags = [stick.tag for stick in tablet.plan.cut_lists[0].sticks[-2:]]
    lost = f"2 sticks ({', '.join(tags)})"
    assert f"done Mon 7:30, {lost} scrapped" in text(tablet, "/station/Finisher")
    assert f"5 of 5 sticks, {lost} scrapped" in text(tablet, "/step/L01.P1")
    told = f"3 of 5 sticks come; lost at Finisher step 1: {lost}"
    for address in ("/step/L01.P2", "/step/L01.SAW", "/cut/L01.SAW"):
        assert told in text(tablet, address)
    assert told not in text(tablet, "/step/L01.P1")
    assert "sticks come" not in text(tablet, "/step/L02.P1")


def test_the_next_step_is_offered_what_comes_to_it(tablet: Tablet) -> None:
    run_through(tablet, "L01.P1", {"scrap-0": "2"})
    tablet.tap("start", "L01.P2")
    assert tablet.form("L01.P2")["pieces"] == "3"
    assert "blank for none of 3" in text(tablet, "/done/L01.P2")
    tablet.clock.on(9)
    assert tablet.done("L01.P2", pieces="2").status_code == 422
    assert tablet.done("L01.P2", **{"pieces": "2", "scrap-0": "1"}).status_code == 303
    assert "2 of 5 sticks come" in text(tablet, "/step/L01.SAW")


def test_what_is_taken_back_is_not_lost(tablet: Tablet) -> None:
    run_through(tablet, "L01.P1", {"scrap-0": "2"})
    tablet.tap("back", "L01.P1")
    assert "sticks come" not in text(tablet, "/step/L01.P2")


def with_lost(*scrap: Scrap) -> Plan:
    plan = a_replanned_plan()
    assert plan.replan
    return plan.model_copy(update={"replan": plan.replan.model_copy(update={"scrap": scrap})})


def test_what_was_lost_in_a_lot_is_told_at_all_that_was_not_done_then(tmp_path: Path) -> None:
    lost = Scrap(operation="L01", line="1187/1", stick="L01-2", pieces=9)
    tablet = Tablet(with_lost(lost), tmp_path / "floor.sqlite3")
    told = "4 of 5 sticks come; lost in lot L01: 1 stick (L01-2)"
    assert told not in text(tablet, "/step/L01.P1")
    for address in ("/step/L01.P2", "/step/L01.SAW", "/cut/L01.SAW"):
        assert told in text(tablet, address)
    assert "sticks come" not in text(tablet, "/step/L02.P1")


def test_a_stick_that_is_known_to_be_lost_at_a_step_is_the_one_that_is_entered(
    tmp_path: Path,
) -> None:
    known = Scrap(operation="L01.P2", line="1187/1", stick="L01-2", pieces=9)
    tablet = Tablet(with_lost(known), tmp_path / "floor.sqlite3")
    tablet.clock.on(200)
    assert tablet.done("L01.P2", **{"scrap-0": "1"}).status_code == 303
    assert "4 of 5 sticks come; lost at Finisher step 2: 1 stick (L01-2)" in text(
        tablet, "/step/L01.SAW"
    )


def test_the_log_has_all_that_went_through(tablet: Tablet) -> None:
    run_through(tablet, "L01.P1", {"scrap-0": "2"})
    assert tablet.page("/log.csv").splitlines()[1].split(",")[7] == "5"


def quiet(stage: str, done: float, words: str) -> None:
    """Nobody watches the search."""


OPTIONS = Options(start=date(2026, 11, 30), seconds=0.2, seed=1)


def planned(folder: Path) -> tuple[Path, Plan]:
    """A week in which two order lines share a lot."""
    book = a_book(folder / "week.xlsx", a_row("1"), a_row("2", Length='30"', Qty=40))
    return book, plan_week(read_week(book, None, keep_going=False), OPTIONS, Stop(), quiet)


def again(book: Path, tablet: Tablet, folder: Path) -> Plan:
    """The week planned again with what the tablet has, and nothing typed."""
    path = folder / "progress.csv"
    path.write_text(tablet.page("/progress.csv"), encoding="utf-8", newline="")
    now = tablet.clock.now + timedelta(minutes=1)
    found = read_progress(path, tablet.plan, now)
    assert found.findings == ()
    asked = Again(tablet.plan, now, found.rows, (), found.scrapped)
    reading = read_week(book, None, keep_going=False, issued=asked.pieces())
    return plan_again(reading, asked, asked.options(OPTIONS), Stop(), quiet)


def tap_until(tablet: Tablet, last: str, changes: dict[str, str]) -> None:
    """Every step up to one as the plan has it, with `changes` in the form of the last."""
    index = Index(tablet.plan)
    for slot in sorted(tablet.plan.slots, key=lambda slot: slot.end_min):
        if slot.operation in index.held:
            continue
        tablet.clock.now = index.moment(slot.start_min)
        is_last = slot.operation == last
        minutes = slot.end_min - slot.start_min
        run_through(tablet, slot.operation, changes if is_last else {}, minutes)
        if is_last:
            return


def pieces_of(plan: Plan, lines: tuple[str, ...]) -> dict[str, int]:
    """How many pieces of each line a plan makes, with those that were added to it."""
    return {
        key: sum(line.quantity for line in plan.orders if line.key.split("+")[0] == key)
        for key in lines
    }


def test_lost_sticks_and_pieces_are_made_once_more_without_typing(tmp_path: Path) -> None:
    book, plan = planned(tmp_path)
    lot = next(lot for lot in plan.lots if len(lot.lines) == 2)
    sticks = next(each for each in plan.cut_lists if each.lot == lot.key).sticks
    assert len({stick.length_nm for stick in sticks}) == 2
    lost = [stick for stick in sticks if stick.length_nm == sticks[0].length_nm][-1]
    tablet = Tablet(plan, tmp_path / "first.sqlite3")
    finish = f"{lot.key}.P1"
    tap_until(tablet, finish, {"scrap-0": "1"})
    second = again(book, tablet, tmp_path)
    assert audit(second) == ()
    of_stick = Counter(piece.line for piece in lost.pieces)
    assert len(of_stick) == 2
    with_stick = tuple(
        Scrap(operation=finish, line=line, stick=lost.tag, pieces=count)
        for line, count in of_stick.items()
    )
    assert second.scrap == with_stick
    added = {line.key: line.quantity for line in second.orders if "+" in line.key}
    assert added == {f"{line}+1": count for line, count in of_stick.items()}
    assert {each.key for each in second.lots if added.keys() & set(each.lines)}.isdisjoint(
        each.key for each in plan.lots
    )

    saw = f"{lot.key}.SAW"
    told = f"{len(sticks) - 1} of {len(sticks)} sticks come; lost at Finisher step"
    index = Index(second)
    assert told in pick_step(index, index.slots[saw]).short
    later = Tablet(second, tmp_path / "second.sqlite3", tablet.clock)
    assert told in text(later, f"/step/{saw}")
    tap_until(later, saw, {"scrap-1": "3"})
    third = again(book, later, tmp_path)
    assert audit(third) == ()
    sawn = Scrap(operation=saw, line=lot.lines[1], pieces=3)
    assert third.scrap == (*with_stick, sawn)
    wanted = Counter(pieces_of(plan, lot.lines)) + of_stick + Counter({lot.lines[1]: 3})
    assert pieces_of(third, lot.lines) == wanted
    assert pieces_issued(third) == pieces_issued(plan)
