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
from tests.planner_io.plans import a_plan, a_replanned_plan


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
