"""What was tapped comes out as sheets that the log and planning again read without a word."""

from __future__ import annotations

import re
from datetime import date, timedelta
from pathlib import Path

import pytest

from planner.options import Options
from planner.records import Plan
from planner.replan import Progress, State
from planner.replan.clock import Clock
from planner.replan.history import happened
from planner.scrap import Scrap
from planner.stop import Stop
from planner.units import NM_PER_INCH
from planner_io.logbook import read_log
from planner_io.planning import plan_week, read_week
from planner_io.progress import read_progress
from planner_io.views.index import Index
from planner_io.web.exports import mean_length_nm
from tests.planner_io.books import a_book, a_row
from tests.planner_io.plans import MONDAY, a_plan, a_replanned_plan, on_one_base, with_people
from tests.planner_io.web.floor import Tablet


def quiet(stage: str, done: float, words: str) -> None:
    """Nobody watches the search."""


@pytest.fixture(scope="module")
def week(tmp_path_factory: pytest.TempPathFactory) -> tuple[Path, Plan]:
    """A planned week of the starter shop, so that its log needs no shop file."""
    book = a_book(
        tmp_path_factory.mktemp("week") / "week.xlsx",
        a_row("1"),
        a_row("2", Length='30"', Qty=40),
        a_row("3", OD='2"', Length='60"'),
    )
    reading = read_week(book, None, keep_going=False)
    options = Options(start=date(2026, 11, 30), seconds=0.2, seed=1)
    return book, plan_week(reading, options, Stop(), quiet)


def tapped_through(tablet: Tablet, station: str) -> list[str]:
    """Every step of a station, each tapped from set-up to done as the plan has it."""
    index = Index(tablet.plan)
    for slot in index.by_station[station]:
        tablet.clock.now = index.moment(slot.setup_start_min)
        if slot.setup_min:
            assert tablet.tap("set-up", slot.operation).status_code == 303
        tablet.clock.now = index.moment(slot.start_min)
        assert tablet.tap("start", slot.operation).status_code == 303
        tablet.clock.now = index.moment(slot.end_min)
        assert tablet.done(slot.operation, spring="3 turns").status_code == 303
    return [slot.operation for slot in index.by_station[station]]


def saved(tablet: Tablet, name: str, folder: Path) -> Path:
    path = folder / name
    path.write_text(tablet.page(f"/{name}"), encoding="utf-8", newline="")
    return path


def test_the_log_of_a_station_is_read_row_by_row(tmp_path: Path, week: tuple[Path, Plan]) -> None:
    tablet = Tablet(week[1], tmp_path / "floor.sqlite3")
    done = tapped_through(tablet, "Finisher")
    found = read_log(saved(tablet, "log.csv", tmp_path), today=tablet.clock.now.date())
    assert found.findings == ()
    assert len(found.runs) == len(done) >= 4
    index = Index(week[1])
    for run, key in zip(found.runs, done, strict=True):
        operation, slot = index.operations[key], index.slots[key]
        spec = index.lots[operation.lot].spec
        assert (run.od_nm, run.wall_nm, run.family) == (spec.od_nm, spec.wall_nm, spec.family)
        assert (run.belt, run.count, run.minutes) == (operation.belt, operation.count, slot.minutes)
        assert run.length_nm == mean_length_nm(index, operation)
        assert (run.who, run.spring) == (", ".join(slot.people), "3 turns")
        assert sum(setup.minutes for setup in run.setups) == slot.setup_min


def test_the_progress_of_the_shop_is_read_row_by_row(
    tmp_path: Path, week: tuple[Path, Plan]
) -> None:
    tablet = Tablet(week[1], tmp_path / "floor.sqlite3")
    done = tapped_through(tablet, "Finisher")
    path = saved(tablet, "progress.csv", tmp_path)
    rows = read_progress(path, week[1], tablet.clock.now + timedelta(minutes=1)).rows
    slots = Index(week[1]).slots
    assert [row.operations for row in rows] == [(key,) for key in done]
    for row in rows:
        slot = slots[row.operations[0]]
        assert (row.state, row.start_min, row.end_min) == (
            State.DONE,
            slot.start_min,
            slot.end_min,
        )


def test_where_sticks_differ_the_row_has_their_mean_length() -> None:
    plan = a_plan()
    first, *others = plan.cut_lists
    (short, ready, *rest) = first.sticks
    sticks = (
        short.model_copy(update={"length_nm": 120 * NM_PER_INCH}),
        ready.model_copy(update={"finished": True, "length_nm": 60 * NM_PER_INCH}),
        *rest,
    )
    cut_lists = (first.model_copy(update={"sticks": sticks}), *others)
    index = Index(plan.model_copy(update={"cut_lists": cut_lists}))
    mean = mean_length_nm(index, index.operations["L01.P1"])
    assert mean == (120 + 240 * len(rest)) * NM_PER_INCH // (1 + len(rest))


def test_a_run_without_pieces_is_not_logged(tmp_path: Path) -> None:
    tablet = Tablet(a_plan(), tmp_path / "floor.sqlite3")
    tablet.tap("start", "L01.P1")
    tablet.clock.on(9)
    tablet.done("L01.P1", **{"pieces": "0", "scrap-0": "5"})
    assert len(tablet.page("/log.csv").splitlines()) == 1


def test_only_a_station_that_taps_says_what_has_not_begun(tmp_path: Path) -> None:
    tablet = Tablet(a_plan(), tmp_path / "floor.sqlite3")
    tablet.tap("start", "L01.P1")
    tablet.clock.on(150)
    path = saved(tablet, "progress.csv", tmp_path)
    rows = read_progress(path, tablet.plan, tablet.clock.now).rows
    assert [(row.operations[0], row.state) for row in rows] == [
        ("L01.P1", State.STARTED),
        ("L01.P2", State.OPEN),
        ("L02.P1", State.OPEN),
    ]
    assert rows[0].start_min == 420


def test_what_is_passed_over_has_not_begun(tmp_path: Path) -> None:
    tablet = Tablet(a_plan(), tmp_path / "floor.sqlite3")
    tablet.tap("start", "L02.P1")
    tablet.clock.on(5)
    states = {key: row.state for key, row in told(tablet, tmp_path).items()}
    passed = {"L01.P1": State.OPEN, "L01.P2": State.OPEN}
    assert states == {**passed, "L02.P1": State.STARTED}


def test_a_pause_is_told_to_the_planner(tmp_path: Path) -> None:
    tablet = Tablet(a_plan(), tmp_path / "floor.sqlite3")
    tablet.tap("start", "L01.P1")
    tablet.clock.on(20)
    tablet.tap("pause", "L01.P1")
    tablet.clock.on(5)
    path = saved(tablet, "progress.csv", tmp_path)
    (row,) = read_progress(path, tablet.plan, tablet.clock.now).rows
    assert (row.state, row.start_min, row.end_min, row.minutes) == (State.PAUSED, 420, 440, 20)


def told(tablet: Tablet, folder: Path) -> dict[str, Progress]:
    """What the planner is told, by operation."""
    path = saved(tablet, "progress.csv", folder)
    rows = read_progress(path, tablet.plan, tablet.clock.now).rows
    return {row.operations[0]: row for row in rows}


def test_a_run_that_was_put_in_is_told_beside_the_one_that_gave_way(tmp_path: Path) -> None:
    tablet = Tablet(a_plan(), tmp_path / "floor.sqlite3")
    tablet.tap("start", "L01.P1")
    tablet.clock.on(20)
    tablet.tap("pause", "L01.P1")
    tablet.clock.on(2)
    tablet.tap("set-up", "L02.P1")
    assert told(tablet, tmp_path)["L02.P1"].state is State.SET_UP
    tablet.clock.on(8)
    tablet.tap("start", "L02.P1")
    tablet.clock.on(10)
    rows = told(tablet, tmp_path)
    assert (rows["L01.P1"].state, rows["L02.P1"].state) == (State.PAUSED, State.STARTED)
    tablet.done("L02.P1")
    tablet.clock.on(5)
    tablet.tap("resume", "L01.P1")
    tablet.clock.on(15)
    row = told(tablet, tmp_path)["L01.P1"]
    assert (row.state, row.start_min, row.minutes) == (State.STARTED, 465, 35)
    tablet.done("L01.P1")
    row = told(tablet, tmp_path)["L01.P1"]
    assert (row.state, row.start_min, row.end_min) == (State.DONE, 465, 480)
    assert ",35 min," in tablet.page("/log.csv")


def test_a_pause_that_was_tapped_after_what_was_put_in_began_no_later(tmp_path: Path) -> None:
    tablet = Tablet(a_plan(), tmp_path / "floor.sqlite3")
    tablet.tap("start", "L01.P1")
    tablet.clock.on(40)
    tablet.tap("start", "L02.P1")
    tablet.clock.on(20)
    tablet.tap("pause", "L01.P1")
    rows = told(tablet, tmp_path)
    assert (rows["L01.P1"].end_min, rows["L01.P1"].minutes) == (480, 60)
    clock = Clock(tablet.plan.shop, MONDAY, 5)
    part = happened(tablet.plan, clock, 480, list(rows.values())).paused["L01.P1"]
    assert (part.start_min, part.end_min, part.left, part.of) == (420, 460, 20, 60)


def test_what_gave_way_and_goes_on_is_put_in_too(tmp_path: Path) -> None:
    tablet = Tablet(a_plan(), tmp_path / "floor.sqlite3")
    taps = (
        *(("start", "L02.P1", 10), ("pause", "L02.P1", 10), ("start", "L01.P1", 10)),
        *(("pause", "L01.P1", 10), ("resume", "L02.P1", 10)),
    )
    for kind, operation, minutes in taps:
        tablet.tap(kind, operation)
        tablet.clock.on(minutes)
    tablet.done("L02.P1")
    tablet.clock.on(5)
    tablet.tap("resume", "L01.P1")
    tablet.clock.on(5)
    rows = told(tablet, tmp_path)
    done, runs = rows["L02.P1"], rows["L01.P1"]
    assert (done.state, done.start_min, done.end_min) == (State.DONE, 460, 470)
    assert (runs.state, runs.start_min, runs.minutes) == (State.STARTED, 475, 15)


def test_a_pause_before_anything_was_done_says_that_nothing_was(tmp_path: Path) -> None:
    tablet = Tablet(a_plan(), tmp_path / "floor.sqlite3")
    tablet.tap("start", "L01.P1")
    tablet.tap("pause", "L01.P1")
    assert told(tablet, tmp_path)["L01.P1"].state is State.OPEN


def test_who_runs_it_is_told_to_the_planner(tmp_path: Path) -> None:
    tablet = Tablet(with_people(a_plan(), "Ana", "Bo"), tmp_path / "floor.sqlite3")
    tablet.tap("start", "L01.P1")
    page = tablet.page("/station/Finisher")
    assert "<b>Ana</b>; if not, tap who:" in page
    (number,) = re.findall(r'name="crew" value="(\d+)">\s*<button>Bo</button>', page)
    form = {"token": "who", "crew": number}
    assert tablet.post("/tap/who/L01.P1", form).status_code == 303
    assert told(tablet, tmp_path)["L01.P1"].people == ("Bo",)
    assert "<b>Bo</b>; if not, tap who:" in tablet.page("/step/L01.P1")
    assert tablet.form("L01.P1")["who"] == "Bo"
    out = tablet.post("/tap/who/L01.P1", {"token": "other", "crew": "99"})
    assert out.status_code == 400


def test_pieces_lost_at_a_pass_with_the_name_of_another_are_told_of_the_lot(tmp_path: Path) -> None:
    plan = a_replanned_plan()
    before = Scrap(operation="L01", line="1187/1", pieces=2, told_at="L01.SAW")
    assert plan.replan
    replan = plan.replan.model_copy(update={"scrap": (before,)})
    tablet = Tablet(plan.model_copy(update={"replan": replan}), tmp_path / "floor.sqlite3")
    tablet.clock.on(400)
    tablet.tap("start", "L01.SAW")
    tablet.clock.on(9)
    tablet.done("L01.SAW", **{"scrap-0": "3"})
    assert "L01,,,scrapped,,,,3,1187/1," in tablet.page("/progress.csv")


def test_a_set_up_that_has_begun_is_told_to_the_planner(tmp_path: Path) -> None:
    tablet = Tablet(a_plan(), tmp_path / "floor.sqlite3")
    tablet.clock.on(15)
    tablet.tap("set-up", "L01.P1")
    tablet.clock.on(10)
    path = saved(tablet, "progress.csv", tmp_path)
    (row,) = read_progress(path, tablet.plan, tablet.clock.now).rows
    assert (row.operations, row.state, row.start_min) == (("L01.P1",), State.SET_UP, 435)


def test_a_set_up_beside_what_still_runs_there_is_no_set_up_yet(tmp_path: Path) -> None:
    tablet = Tablet(a_plan(), tmp_path / "floor.sqlite3")
    tablet.tap("start", "L01.P1")
    tablet.clock.on(200)
    tablet.tap("set-up", "L02.P1")
    path = saved(tablet, "progress.csv", tmp_path)
    rows = read_progress(path, tablet.plan, tablet.clock.now).rows
    states = {row.operations[0]: row.state for row in rows}
    assert (states["L01.P1"], states["L02.P1"]) == (State.STARTED, State.OPEN)


def test_a_set_up_after_which_something_else_was_done_is_none_any_more(tmp_path: Path) -> None:
    tablet = Tablet(a_plan(), tmp_path / "floor.sqlite3")
    tablet.tap("set-up", "L02.P1")
    tablet.clock.on(9)
    tablet.tap("start", "L01.P1")
    tablet.clock.on(60)
    tablet.done("L01.P1")
    assert told(tablet, tmp_path)["L02.P1"].state is State.OPEN


def test_of_two_set_ups_on_one_base_the_last_one_counts(tmp_path: Path) -> None:
    tablet = Tablet(on_one_base(a_plan(), "Finisher", "Notcher"), tmp_path / "floor.sqlite3")
    tablet.tap("set-up", "L01.P1")
    tablet.clock.on(30)
    tablet.tap("set-up", "L02.NOTCH")
    path = saved(tablet, "progress.csv", tmp_path)
    rows = read_progress(path, tablet.plan, tablet.clock.now).rows
    states = {row.operations[0]: row.state for row in rows}
    assert (states["L01.P1"], states["L02.NOTCH"]) == (State.OPEN, State.SET_UP)


def test_what_runs_on_past_its_time_is_told_where_somebody_taps(tmp_path: Path) -> None:
    tablet = Tablet(a_replanned_plan(), tmp_path / "floor.sqlite3")
    slots = Index(tablet.plan).slots
    tablet.clock.now = Index(tablet.plan).moment(slots["L01.P2"].end_min + 5)
    assert "L01.P2" not in tablet.page("/progress.csv")
    tablet.tap("start", "L02.P1")
    assert "L01.P2,,,started," in tablet.page("/progress.csv")
    tablet.clock.on(-10)
    assert "L01.P2" not in tablet.page("/progress.csv")


def test_minutes_longer_than_between_the_taps_begin_before_them(tmp_path: Path) -> None:
    tablet = Tablet(a_plan(), tmp_path / "floor.sqlite3")
    tablet.clock.on(60)
    tablet.tap("start", "L01.P1")
    tablet.done("L01.P1", minutes="45", note="tapped afterwards")
    path = saved(tablet, "progress.csv", tmp_path)
    (row,) = read_progress(path, tablet.plan, tablet.clock.now).rows
    assert (row.start_min, row.end_min, row.note) == (435, 480, "tapped afterwards")


@pytest.mark.parametrize("who", ["=1+1", "@Ana", "+Ana", "-Ana"])
def test_what_people_typed_is_no_formula(tmp_path: Path, who: str) -> None:
    tablet = Tablet(a_plan(), tmp_path / "floor.sqlite3")
    tablet.tap("start", "L01.P1")
    tablet.clock.on(9)
    tablet.done("L01.P1", who=who)
    assert f",'{who}," in tablet.page("/log.csv")
