"""What the floor has tapped, kept in SQLite beside the plan.

A tap is never changed or deleted: taking one back is a tap of its own. Each is one transaction,
written through to the disk before it is answered, and carries a token that its page chose, so
that a second try of the same tap adds nothing.
"""

from __future__ import annotations

import contextlib
import sqlite3
from collections import defaultdict
from collections.abc import Generator
from dataclasses import dataclass, replace
from datetime import datetime
from pathlib import Path

from planner.errors import input_error
from planner.scrap import Scrap
from planner.shop import What
from planner_io.taps import NOT_BEGUN, RunReport, Tap, TapKind, stands

NAME = "floor.sqlite3"
WAIT_S = 10.0
"""How long a tap waits for another one that is being written."""


_MIGRATIONS: tuple[tuple[str, ...], ...] = (
    (
        "CREATE TABLE plan (only INTEGER PRIMARY KEY CHECK (only = 1), digest TEXT NOT NULL)",
        """CREATE TABLE taps (
            number INTEGER PRIMARY KEY,
            token TEXT NOT NULL UNIQUE,
            operation TEXT NOT NULL,
            kind TEXT NOT NULL CHECK (kind IN ('set-up', 'start', 'done', 'back')),
            at TEXT NOT NULL
        )""",
        """CREATE TABLE reports (
            tap INTEGER PRIMARY KEY REFERENCES taps (number),
            pieces INTEGER NOT NULL CHECK (pieces >= 0),
            minutes INTEGER NOT NULL CHECK (minutes > 0),
            who TEXT NOT NULL,
            note TEXT NOT NULL,
            tilt_mdeg INTEGER,
            belt TEXT NOT NULL,
            spring TEXT NOT NULL
        )""",
        """CREATE TABLE setups (
            tap INTEGER NOT NULL REFERENCES reports (tap),
            what TEXT NOT NULL,
            minutes INTEGER NOT NULL CHECK (minutes > 0),
            PRIMARY KEY (tap, what)
        )""",
    ),
    (
        """CREATE TABLE wider (
            number INTEGER PRIMARY KEY,
            token TEXT NOT NULL UNIQUE,
            operation TEXT NOT NULL,
            kind TEXT NOT NULL
                CHECK (kind IN ('set-up', 'start', 'pause', 'resume', 'done', 'back')),
            at TEXT NOT NULL
        )""",
        "INSERT INTO wider SELECT number, token, operation, kind, at FROM taps",
        "DROP TABLE taps",
        "ALTER TABLE wider RENAME TO taps",
        """CREATE TABLE scrap (
            tap INTEGER NOT NULL REFERENCES reports (tap),
            line TEXT NOT NULL,
            stick TEXT NOT NULL,
            pieces INTEGER NOT NULL CHECK (pieces > 0),
            PRIMARY KEY (tap, line, stick)
        )""",
    ),
    (
        """CREATE TABLE wider (
            number INTEGER PRIMARY KEY,
            token TEXT NOT NULL UNIQUE,
            operation TEXT NOT NULL,
            kind TEXT NOT NULL
                CHECK (kind IN ('set-up', 'start', 'pause', 'resume', 'done', 'who', 'back')),
            at TEXT NOT NULL
        )""",
        "INSERT INTO wider SELECT number, token, operation, kind, at FROM taps",
        "DROP TABLE taps",
        "ALTER TABLE wider RENAME TO taps",
        """CREATE TABLE people (
            tap INTEGER NOT NULL REFERENCES taps (number),
            name TEXT NOT NULL,
            PRIMARY KEY (tap, name)
        )""",
    ),
)
"""Each brings a file from one `user_version` to the next."""


@dataclass(frozen=True)
class Store:
    """The taps of one plan; safe to use from several threads and processes."""

    path: Path
    plan: str
    """Digest of the plan, so that no tap is taken for one of another plan."""
    begun: tuple[Tap, ...] = ()
    """What had begun before the plan was made: a new file begins with these taps."""

    def open(self) -> None:
        """Create the file or bring it up to date; InputError when it is not of this plan."""
        with self._transaction(has_all_rows=False) as db:
            version = int(db.execute("PRAGMA user_version").fetchone()[0])
            if version > len(_MIGRATIONS):
                raise input_error(
                    f"{self.path}: a later version of brightrun has written it; update brightrun."
                )
            for number, statements in enumerate(_MIGRATIONS[version:], start=version + 1):
                for statement in statements:
                    db.execute(statement)
                db.execute(f"PRAGMA user_version = {number}")
            is_new = db.execute("INSERT OR IGNORE INTO plan VALUES (1, ?)", (self.plan,)).rowcount
            for tap in self.begun if is_new else ():
                _insert(db, tap)
            if db.execute("SELECT digest FROM plan").fetchone()[0] != self.plan:
                raise input_error(
                    f"{self.path}: it holds the taps of another plan; choose another file with "
                    "--store."
                )

    def record(self, tap: Tap) -> bool:
        """Keep a tap; False when the same one was kept before. InputError when it does not fit."""
        with self._transaction() as db:
            row = db.execute(
                "SELECT operation, kind FROM taps WHERE token = ?", (tap.token,)
            ).fetchone()
            if row:
                if row != (tap.operation, tap.kind.value):
                    raise input_error("This page is out of date: go back to the list.")
                return False
            problem = stands(_taps(db)).get(tap.operation, NOT_BEGUN).refusal(tap)
            if problem:
                raise input_error(problem, subject=tap.operation)
            _insert(db, tap)
            return True

    def taps(self) -> tuple[Tap, ...]:
        """All taps, in the order in which they came."""
        with self._transaction() as db:
            return tuple(_taps(db))

    @contextlib.contextmanager
    def _transaction(self, *, has_all_rows: bool = True) -> Generator[sqlite3.Connection]:
        """Everything inside is kept, or nothing; InputError where the file cannot be used.

        Rows that others point at must be there throughout, but for a table that is made anew.
        """
        try:
            with contextlib.closing(
                sqlite3.connect(self.path, timeout=WAIT_S, isolation_level=None)
            ) as db:
                db.execute("PRAGMA journal_mode = WAL")
                db.execute("PRAGMA synchronous = FULL")
                db.execute(f"PRAGMA foreign_keys = {'ON' if has_all_rows else 'OFF'}")
                db.execute("BEGIN IMMEDIATE")
                try:
                    yield db
                except BaseException:
                    db.execute("ROLLBACK")
                    raise
                db.execute("COMMIT")
        except sqlite3.Error as problem:
            raise input_error(
                f"{self.path}: it cannot be used ({problem}); nothing was changed. Check the disk, "
                "or choose another file with --store."
            ) from problem


_REPORT = "tap, pieces, minutes, who, note, tilt_mdeg, belt, spring"


def _insert(db: sqlite3.Connection, tap: Tap) -> None:
    number = db.execute(
        "INSERT INTO taps (token, operation, kind, at) VALUES (?, ?, ?, ?)",
        (tap.token, tap.operation, tap.kind.value, tap.at.isoformat(timespec="seconds")),
    ).lastrowid
    db.executemany("INSERT INTO people VALUES (?, ?)", [(number, name) for name in tap.people])
    if tap.report:
        it = tap.report
        db.execute(
            f"INSERT INTO reports ({_REPORT}) VALUES (?, ?, ?, ?, ?, ?, ?, ?)",
            (number, it.pieces, it.minutes, it.who, it.note, it.tilt_mdeg, it.belt, it.spring),
        )
        db.executemany(
            "INSERT INTO setups VALUES (?, ?, ?)",
            [(number, what.value, minutes) for what, minutes in it.setups],
        )
        db.executemany(
            "INSERT INTO scrap VALUES (?, ?, ?, ?)",
            [(number, one.line, one.stick, one.pieces) for one in it.scrap],
        )


def _taps(db: sqlite3.Connection) -> list[Tap]:
    setups: dict[int, list[tuple[What, int]]] = defaultdict(list)
    for number, what, minutes in db.execute("SELECT tap, what, minutes FROM setups ORDER BY rowid"):
        setups[number].append((What(what), minutes))
    scrap = _scrap(db)
    reports = {
        tap: replace(RunReport(*row), setups=tuple(setups[tap]), scrap=tuple(scrap[tap]))
        for tap, *row in db.execute(f"SELECT {_REPORT} FROM reports")
    }
    people: dict[int, list[str]] = defaultdict(list)
    for number, name in db.execute("SELECT tap, name FROM people ORDER BY rowid"):
        people[number].append(name)
    rows = db.execute("SELECT number, token, operation, kind, at FROM taps ORDER BY number")
    return [
        Tap(
            *(token, operation, TapKind(kind), datetime.fromisoformat(at)),
            *(reports.get(number), tuple(people[number])),
        )
        for number, token, operation, kind, at in rows
    ]


def _scrap(db: sqlite3.Connection) -> dict[int, list[Scrap]]:
    """What was lost, by the tap with which it was entered."""
    found: dict[int, list[Scrap]] = defaultdict(list)
    query = """SELECT tap, operation, line, stick, pieces
        FROM scrap JOIN taps ON taps.number = tap ORDER BY scrap.rowid"""
    for tap, operation, line, stick, pieces in db.execute(query):
        one = Scrap(operation=operation, line=line, stick=stick, pieces=pieces)
        found[tap].append(one)
    return found
