"""The store of taps: nothing twice, nothing out of order, nothing lost."""

from __future__ import annotations

import sqlite3
from concurrent.futures import ThreadPoolExecutor
from dataclasses import replace
from datetime import datetime, timedelta
from pathlib import Path

import pytest

from planner.errors import InputError
from planner.scrap import Scrap
from planner.shop import What
from planner_io.store import Store
from planner_io.taps import NOT_BEGUN, RunReport, Tap, TapKind, stands

MORNING = datetime(2026, 11, 30, 7, 4)
REPORT = RunReport(5, 14, "Ana", "wavy", 5_000, "P80 steel", "3 turns", ((What.OD, 6),))


def a_store(folder: Path, plan: str = "a plan") -> Store:
    store = Store(folder / "floor.sqlite3", plan)
    store.open()
    return store


def a_tap(kind: TapKind, minute: int = 0, token: str = "", operation: str = "L01.P1") -> Tap:
    at = MORNING + timedelta(minutes=minute)
    report = REPORT if kind is TapKind.DONE else None
    return Tap(token or f"{operation} {kind} {minute}", operation, kind, at, report)


def test_taps_are_there_again_after_a_restart(tmp_path: Path) -> None:
    taps = [a_tap(TapKind.SET_UP), a_tap(TapKind.START, 6), a_tap(TapKind.DONE, 20)]
    for tap in taps:
        assert a_store(tmp_path).record(tap)
    assert a_store(tmp_path).taps() == tuple(taps)
    found = stands(taps)["L01.P1"]
    assert (found.set_up_at, found.done_at) == (taps[0].at, taps[2].at)
    assert found.report == REPORT


def test_the_same_tap_is_kept_once(tmp_path: Path) -> None:
    store = a_store(tmp_path)
    assert store.record(a_tap(TapKind.START, token="one"))
    assert not store.record(a_tap(TapKind.START, 1, token="one"))
    assert len(store.taps()) == 1


def test_many_tries_at_once_keep_one_tap(tmp_path: Path) -> None:
    store = a_store(tmp_path)
    with ThreadPoolExecutor(8) as pool:
        kept = list(pool.map(store.record, [a_tap(TapKind.START)] * 16))
    assert kept.count(True) == 1
    assert len(store.taps()) == 1


def test_a_token_of_another_tap_is_refused(tmp_path: Path) -> None:
    store = a_store(tmp_path)
    store.record(a_tap(TapKind.START, token="one"))
    with pytest.raises(InputError, match="out of date"):
        store.record(a_tap(TapKind.BACK, token="one"))


@pytest.mark.parametrize(
    ("before", "kind", "why"),
    [
        ((), TapKind.DONE, "not been started"),
        ((), TapKind.BACK, "no tap"),
        ((TapKind.SET_UP,), TapKind.SET_UP, "begun already"),
        ((TapKind.START,), TapKind.START, "running already"),
        ((TapKind.START,), TapKind.SET_UP, "running already"),
        ((TapKind.SET_UP,), TapKind.PAUSE, "not been started"),
        ((TapKind.START,), TapKind.RESUME, "running already"),
        ((TapKind.START, TapKind.PAUSE), TapKind.PAUSE, "paused already"),
        ((TapKind.START, TapKind.PAUSE), TapKind.START, "tap Go on"),
        ((TapKind.START, TapKind.DONE), TapKind.PAUSE, "done already"),
        ((TapKind.START, TapKind.DONE), TapKind.START, "done already"),
        ((TapKind.START, TapKind.DONE), TapKind.DONE, "done already"),
    ],
)
def test_a_tap_out_of_order_is_refused_and_changes_nothing(
    tmp_path: Path, before: tuple[TapKind, ...], kind: TapKind, why: str
) -> None:
    store = a_store(tmp_path)
    for minute, earlier in enumerate(before):
        store.record(a_tap(earlier, minute))
    with pytest.raises(InputError, match=why):
        store.record(a_tap(kind, 9))
    assert len(store.taps()) == len(before)


def test_a_run_cannot_end_before_it_began(tmp_path: Path) -> None:
    store = a_store(tmp_path)
    store.record(a_tap(TapKind.START, 10))
    with pytest.raises(InputError, match="before it began"):
        store.record(a_tap(TapKind.DONE, 9))


def test_taking_back_undoes_the_last_tap_and_keeps_both(tmp_path: Path) -> None:
    store = a_store(tmp_path)
    for minute, kind in enumerate((TapKind.START, TapKind.DONE, TapKind.BACK)):
        store.record(a_tap(kind, minute))
    found = stands(store.taps())["L01.P1"]
    assert (found.start_at, found.done_at, found.report) == (MORNING, None, None)
    store.record(a_tap(TapKind.BACK, 5))
    assert stands(store.taps())["L01.P1"] == NOT_BEGUN
    assert len(store.taps()) == 4


def test_a_file_of_another_plan_is_refused(tmp_path: Path) -> None:
    a_store(tmp_path)
    with pytest.raises(InputError, match="another plan"):
        a_store(tmp_path, "another")


def test_a_file_of_a_later_version_is_refused_and_left_alone(tmp_path: Path) -> None:
    store = a_store(tmp_path)
    with sqlite3.connect(store.path) as db:
        db.execute("PRAGMA user_version = 99")
    db.close()
    with pytest.raises(InputError, match="later version"):
        store.open()


def test_what_is_no_store_is_refused(tmp_path: Path) -> None:
    (tmp_path / "floor.sqlite3").write_bytes(b"not a store " * 100)
    with pytest.raises(InputError, match="cannot be used"):
        a_store(tmp_path)


def test_a_tap_that_fails_half_way_leaves_nothing(tmp_path: Path) -> None:
    store = a_store(tmp_path)
    store.record(a_tap(TapKind.START))
    wrong = RunReport(5, 14, setups=((What.OD, 0),))
    done = Tap("done", "L01.P1", TapKind.DONE, MORNING, wrong)
    with pytest.raises(InputError, match="nothing was changed"):
        store.record(done)
    assert [tap.kind for tap in store.taps()] == [TapKind.START]


def at(minute: int) -> datetime:
    return MORNING + timedelta(minutes=minute)


def test_a_pause_ends_when_the_run_goes_on_or_is_done(tmp_path: Path) -> None:
    store = a_store(tmp_path)
    kinds = (TapKind.START, TapKind.PAUSE, TapKind.RESUME, TapKind.PAUSE)
    for minute, kind in zip((0, 10, 25, 40), kinds, strict=True):
        store.record(a_tap(kind, minute))
    found = stands(store.taps())["L01.P1"]
    assert (found.paused_at, found.begun) == (at(40), True)
    store.record(a_tap(TapKind.DONE, 50))
    found = stands(store.taps())["L01.P1"]
    assert found.pauses == ((at(10), at(25)), (at(40), at(50)))
    assert found.running(at(50)) == ((at(0), at(10)), (at(25), at(40)), (at(50), at(50)))
    assert found.paused_at is None


def test_a_pause_can_be_taken_back(tmp_path: Path) -> None:
    store = a_store(tmp_path)
    for minute, kind in enumerate((TapKind.START, TapKind.PAUSE, TapKind.BACK)):
        store.record(a_tap(kind, minute))
    assert stands(store.taps())["L01.P1"].pauses == ()


def test_scrap_is_kept(tmp_path: Path) -> None:
    store = a_store(tmp_path)
    store.record(a_tap(TapKind.START))
    lost = Scrap(operation="L01.P1", line="1187/1", pieces=2)
    stick = Scrap(operation="L01.P1", line="1187/1", stick="L01-4", pieces=9)
    report = replace(REPORT, scrap=(stick, lost))
    store.record(Tap("done", "L01.P1", TapKind.DONE, at(20), report))
    found = stands(store.taps())["L01.P1"].report
    assert found == report


def test_a_file_of_the_first_version_is_brought_up_to_date_with_all_its_taps(
    tmp_path: Path,
) -> None:
    path = tmp_path / "floor.sqlite3"
    taken = [a_tap(TapKind.SET_UP), a_tap(TapKind.START, 6)]
    with sqlite3.connect(path) as db:
        db.executescript(FIRST_VERSION)
        for tap in taken:
            row = (tap.token, tap.operation, tap.kind.value, tap.at.isoformat())
            db.execute("INSERT INTO taps (token, operation, kind, at) VALUES (?, ?, ?, ?)", row)
        end = ("an old end", "L01.P1", "done", at(20).isoformat())
        db.execute("INSERT INTO taps (token, operation, kind, at) VALUES (?, ?, ?, ?)", end)
        db.execute("INSERT INTO reports VALUES (3, 5, 14, 'Ana', 'wavy', 5000, 'P80 steel', '')")
        db.execute("INSERT INTO setups VALUES (3, 'OD', 6)")
    db.close()
    store = a_store(tmp_path)
    assert store.taps()[:2] == tuple(taken)
    found = stands(store.taps())["L01.P1"]
    assert found.done_at == at(20)
    assert found.report == replace(REPORT, spring="")
    store.record(a_tap(TapKind.BACK, 21))
    store.record(a_tap(TapKind.PAUSE, 22))
    with sqlite3.connect(path) as db:
        assert db.execute("PRAGMA foreign_key_check").fetchall() == []
    db.close()


FIRST_VERSION = """
CREATE TABLE plan (only INTEGER PRIMARY KEY CHECK (only = 1), digest TEXT NOT NULL);
CREATE TABLE taps (
    number INTEGER PRIMARY KEY, token TEXT NOT NULL UNIQUE, operation TEXT NOT NULL,
    kind TEXT NOT NULL CHECK (kind IN ('set-up', 'start', 'done', 'back')), at TEXT NOT NULL
);
CREATE TABLE reports (
    tap INTEGER PRIMARY KEY REFERENCES taps (number), pieces INTEGER NOT NULL CHECK (pieces >= 0),
    minutes INTEGER NOT NULL CHECK (minutes > 0), who TEXT NOT NULL, note TEXT NOT NULL,
    tilt_mdeg INTEGER, belt TEXT NOT NULL, spring TEXT NOT NULL
);
CREATE TABLE setups (
    tap INTEGER NOT NULL REFERENCES reports (tap), what TEXT NOT NULL,
    minutes INTEGER NOT NULL CHECK (minutes > 0), PRIMARY KEY (tap, what)
);
PRAGMA user_version = 1;
"""


def test_who_does_it_is_kept_and_can_be_taken_back(tmp_path: Path) -> None:
    store = a_store(tmp_path)
    people = ("Noor", "Ana")
    who = Tap("who", "L01.P1", TapKind.WHO, at(5), people=people)
    with pytest.raises(InputError, match="has not been started"):
        store.record(who)
    store.record(a_tap(TapKind.SET_UP))
    store.record(who)
    assert store.taps()[-1] == who
    assert stands(store.taps())["L01.P1"].who == people
    store.record(a_tap(TapKind.BACK, 6))
    assert stands(store.taps())["L01.P1"].who == ()


def test_a_run_goes_on_in_stretches(tmp_path: Path) -> None:
    store = a_store(tmp_path)
    kinds = (TapKind.START, TapKind.PAUSE, TapKind.RESUME, TapKind.PAUSE)
    for minute, kind in zip((0, 10, 25, 40), kinds, strict=True):
        store.record(a_tap(kind, minute))
    assert stands(store.taps())["L01.P1"].stretches == (at(0), at(25))
    store.record(a_tap(TapKind.DONE, 50))
    assert stands(store.taps())["L01.P1"].stretches == (at(0), at(25))
    assert NOT_BEGUN.stretches == ()
