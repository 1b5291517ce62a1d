"""A morning on the tablet: a run gives way, the week is planned again, and the run is taken up."""

from __future__ import annotations

from datetime import date
from pathlib import Path

import pytest

from planner.audit import audit
from planner.held import HeldWhy
from planner.hours import due_minute
from planner.options import Options
from planner.records import Plan
from planner.replan import replan
from planner.stop import Stop
from planner_io.planning import plan_week, read_week
from planner_io.progress import read_progress
from planner_io.store import Store
from planner_io.views.index import Index
from planner_io.web.begun import begun
from tests.planner_io.books import a_book, a_row
from tests.planner_io.web.floor import Tablet


def a_week(folder: Path) -> Plan:
    book = a_book(
        folder / "week.xlsx",
        a_row("1", Qty=60),
        a_row("2", Length='30"', Qty=60),
        a_row("3", OD='2"', Length='60"', Qty=30),
    )
    reading = read_week(book, None, keep_going=False)
    options = Options(start=date(2026, 11, 30), seconds=0.2, seed=1)
    return plan_week(reading, options, Stop(), lambda stage, done, words: None)


def again(tablet: Tablet, folder: Path) -> Plan:
    """The week planned again from what the tablet says, and proven."""
    path = folder / "progress.csv"
    path.write_text(tablet.page("/progress.csv"), encoding="utf-8", newline="")
    found = read_progress(path, tablet.plan, tablet.clock.now)
    now = due_minute(tablet.clock.now, tablet.plan.options.start)
    options = tablet.plan.options.model_copy(update={"start_min": now})
    issued = tablet.plan
    plan = replan(issued, issued.orders, issued.stock, issued.shop, options, found.rows)
    assert [str(each) for each in audit(plan)] == []
    return plan


def next_tablet(before: Tablet, plan: Plan, file: Path) -> Tablet:
    """The tablet of the new plan, which begins with the taps on what had begun."""
    taps = Store(before.store, "the plan").taps()
    store = Store(file, "the plan", begun(plan, taps))
    store.open()
    return Tablet(plan, file, before.clock)


def by_start(plan: Plan, station: str) -> list[str]:
    """First passes at a station, in their order."""
    slots = Index(plan).by_station[station]
    return [one.operation for one in slots if one.operation.endswith(".P1")]


@pytest.mark.parametrize("is_done", [False, True])
def test_a_run_gives_way_and_is_taken_up_after_the_week_is_planned_again(
    tmp_path: Path, is_done: bool
) -> None:
    """What was put in still runs when the week is planned again, or is done."""
    tablet = Tablet(a_week(tmp_path), tmp_path / "first.sqlite3")
    first, *_, other = by_start(tablet.plan, "Finisher")
    whole = Index(tablet.plan).slots[first].minutes
    for kind, operation, minutes in (
        *(("start", first, 5), ("pause", first, 1)),
        *(("set-up", other, 12), ("start", other, 6)),
    ):
        assert tablet.tap(kind, operation).status_code == 303
        tablet.clock.on(minutes)
    if is_done:
        tablet.done(other)
        tablet.clock.on(1)
    plan = again(tablet, tmp_path)
    assert plan.replan
    (part,) = plan.replan.paused
    assert (part.operation, part.left, part.of) == (first, whole - 5, whole)
    assert Index(plan).slots[first].minutes == whole - 5

    second = next_tablet(tablet, plan, tmp_path / "second.sqlite3")
    if not is_done:
        second.done(other)
        second.clock.on(1)
    assert second.tap("resume", first).status_code == 303
    second.clock.on(4)
    later = again(second, tmp_path)
    assert later.replan
    assert later.replan.paused == ()
    held = {one.operation: one for one in later.replan.held}
    assert held[first].end_min == later.replan.now_min + whole - 9
    assert held[other].why is HeldWhy.DONE

    third = next_tablet(second, later, tmp_path / "third.sqlite3")
    third.clock.on(whole - 9)
    assert third.form(first)["minutes"] == str(whole)
    third.done(first)
    last = again(third, tmp_path)
    assert last.replan
    assert {one.operation: one.why for one in last.replan.held}[first] is HeldWhy.DONE
