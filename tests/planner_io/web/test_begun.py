"""What had begun when a week was planned again goes on as it was tapped."""

from __future__ import annotations

import socket
from dataclasses import replace
from datetime import datetime, timedelta
from hashlib import sha256
from pathlib import Path

import pytest

from planner.errors import InputError
from planner.held import HeldWhy
from planner.records import Plan
from planner_io.commands.serve import serve
from planner_io.plan_file import plan_bytes
from planner_io.store import Store
from planner_io.taps import Tap, TapKind, stands
from planner_io.views.index import Index
from planner_io.web.begun import begun, is_known
from tests.planner_io.paused import a_paused_plan
from tests.planner_io.plans import a_plan, a_replanned_plan
from tests.planner_io.web.floor import Tablet


def started(plan: Plan) -> datetime:
    """When the run that goes on began."""
    assert plan.replan
    (held,) = (held for held in plan.replan.held if held.why is HeldWhy.STARTED)
    assert held.operation == "L01.P2"
    return Index(plan).moment(held.start_min)


def tapped(*times: tuple[TapKind, datetime]) -> tuple[Tap, ...]:
    return tuple(Tap(f"{kind} {at}", "L01.P2", kind, at) for kind, at in times)


def test_its_set_up_and_pauses_go_on_and_the_planner_hears_of_a_pause() -> None:
    plan = a_replanned_plan()
    at = started(plan)
    set_up, later = at - timedelta(minutes=9), at + timedelta(minutes=5)
    run = ((TapKind.SET_UP, set_up), (TapKind.START, at + timedelta(seconds=20)))
    before = tapped(*run, (TapKind.PAUSE, later))
    found = stands(begun(plan, before))["L01.P2"]
    assert (found.set_up_at, found.paused_at) == (set_up, later)
    assert not is_known(plan, "L01.P2", found)
    runs = stands(begun(plan, before[:2]))["L01.P2"]
    assert is_known(plan, "L01.P2", runs)
    assert not is_known(plan, "L01.P2", replace(runs, start_at=later))


def test_taps_that_were_taken_back_or_began_otherwise_than_the_plan_says_do_not_count() -> None:
    plan = a_replanned_plan()
    at = started(plan)
    (by_plan,) = begun(plan)
    assert (by_plan.kind, by_plan.at) == (TapKind.START, at)
    later = at + timedelta(minutes=5)
    for before in (
        tapped((TapKind.START, later)),
        tapped((TapKind.START, at), (TapKind.BACK, later)),
        tuple(replace(tap, operation="L02.P1") for tap in tapped((TapKind.START, at))),
    ):
        assert begun(plan, before) == (by_plan,)


def test_a_new_file_begins_with_them_once(tmp_path: Path) -> None:
    plan = a_replanned_plan()
    file, first = tmp_path / "floor.sqlite3", begun(plan)
    for taps in (first, first, ()):
        store = Store(file, "the plan", taps)
        store.open()
        assert store.taps() == first


def two_folders(path: Path) -> list[Path]:
    """A plan folder, and that of the plan after it."""
    folders = [path / name for name in ("first", "second")]
    for folder, plan in zip(folders, (a_plan(), a_replanned_plan()), strict=True):
        folder.mkdir()
        (folder / "plan.json").write_bytes(plan_bytes(plan))
    return folders


def test_taps_that_were_kept_elsewhere_go_on_too(tmp_path: Path) -> None:
    first, second = two_folders(tmp_path)
    at = started(a_replanned_plan())
    kept = Store(tmp_path / "taps.sqlite3", sha256((first / "plan.json").read_bytes()).hexdigest())
    kept.open()
    for tap in tapped((TapKind.SET_UP, at - timedelta(minutes=9)), (TapKind.START, at)):
        kept.record(tap)
    with socket.create_server(("127.0.0.1", 0)) as other, pytest.raises(InputError, match="used"):
        serve(second, "127.0.0.1", int(other.getsockname()[1]), None, first, kept.path)
    digest = sha256((second / "plan.json").read_bytes()).hexdigest()
    taps = Store(second / "floor.sqlite3", digest).taps()
    assert [tap.kind for tap in taps] == [TapKind.SET_UP, TapKind.START]
    with pytest.raises(InputError, match="--after-store belongs to --after"):
        serve(second, "127.0.0.1", 0, None, None, kept.path)


def test_a_folder_in_which_nobody_tapped_is_refused(tmp_path: Path) -> None:
    folders = two_folders(tmp_path)
    with pytest.raises(InputError, match="nobody has tapped there; leave --after out"):
        serve(folders[1], "127.0.0.1", 0, None, folders[0])
    assert not (folders[1] / "floor.sqlite3").exists()


def a_pause(start: int = 430, since: int = 445, *more: Tap) -> tuple[Tap, ...]:
    index = Index(a_plan())
    times = ((TapKind.START, start), (TapKind.PAUSE, since))
    made = tuple(Tap(kind, "L02.P1", kind, index.moment(minute)) for kind, minute in times)
    return (*made, *more)


def test_what_stands_still_does_so_on_the_new_list() -> None:
    plan = a_paused_plan()
    found = stands(begun(plan))["L02.P1"]
    index = Index(plan)
    assert (found.start_at, found.paused_at) == (index.moment(430), index.moment(445))
    assert is_known(plan, "L02.P1", found)
    carried = begun(plan, a_pause())
    assert [tap.kind for tap in carried if tap.operation == "L02.P1"] == [
        TapKind.START,
        TapKind.PAUSE,
    ]
    later = Tap("on", "L02.P1", TapKind.RESUME, index.moment(525))
    goes_on = stands(begun(plan, a_pause(430, 445, later)))["L02.P1"]
    assert goes_on.paused_at is None
    assert not is_known(plan, "L02.P1", goes_on)
    other = stands(begun(plan, a_pause(431)))["L02.P1"]
    assert other.start_at == index.moment(430)


def test_of_what_goes_on_the_planner_is_told_since_when_and_the_minutes_since(
    tmp_path: Path,
) -> None:
    tablet = Tablet(a_paused_plan(), tmp_path / "floor.sqlite3")
    page = tablet.page("/step/L02.P1")
    assert "Paused since Mon 7:25" in page
    assert "left of 1 h 07" in page
    assert "L02.P1" not in tablet.page("/progress.csv")
    index = Index(tablet.plan)
    tablet.clock.now = index.moment(530)
    tablet.tap("resume", "L02.P1")
    tablet.clock.on(10)
    assert "L02.P1,,,started,2026-11-30 08:50,,10 min," in tablet.page("/progress.csv")
    assert tablet.form("L02.P1")["minutes"] == "25"
    tablet.done("L02.P1")
    done = "L02.P1,,,done,2026-11-30 08:50,2026-11-30 09:00,"
    assert done in tablet.page("/progress.csv")


def test_a_run_that_had_gone_on_is_known_by_when_it_did() -> None:
    plan = a_replanned_plan()
    at = started(plan)
    times = (
        (TapKind.START, at - timedelta(minutes=40)),
        (TapKind.PAUSE, at - timedelta(minutes=20)),
        (TapKind.RESUME, at + timedelta(seconds=9)),
    )
    found = stands(begun(plan, tapped(*times)))["L01.P2"]
    assert found.start_at == times[0][1]
    assert is_known(plan, "L01.P2", found)
    by_bo = replace(found, who=("Bo",))
    assert not is_known(plan, "L01.P2", by_bo)
