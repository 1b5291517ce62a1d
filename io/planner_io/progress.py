"""The Progress sheet: what the floor has done, and what the planner locks or pins.

One row says something of one operation of the plan that was issued, or of all of a lot's:

    Operation   State     Start          End     Pieces
    L03.P1      done      07:40          09:15
    L04.P1      started                          12
    L05.P1      paused    07:40          08:20
    L07         pin       next
    L09.SAW     pin       Thursday 13:00
    L11         lock
    L04.NOTCH   scrapped                         2

Times without a day are of the day on which the week is planned again; a weekday is the last
one for what happened and the coming one for a pin. Everything wrong is told at once, by cell.
"""

from __future__ import annotations

import datetime as dt
import difflib
import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from pathlib import Path

from planner.errors import Finding, InputError, Severity
from planner.held import Held, HeldWhy, Paused
from planner.hours import DAY_MIN, due_minute, when_minute
from planner.progress import TOLD
from planner.records import Operation, Plan
from planner.replan import Progress, State
from planner.replan.scrap import Scrapped
from planner_io.progress_sheet import PROGRESS
from planner_io.progress_times import When, days_later, is_of_today, when
from planner_io.progress_who import read_who
from planner_io.scrap_rows import read_scrapped
from planner_io.typed_names import bare
from planner_io.workbook import cells
from planner_io.workbook.dates import DateHabit
from planner_io.workbook.examples import is_example
from planner_io.workbook.find import find_sheet, find_table
from planner_io.workbook.grid import Grid
from planner_io.workbook.load import load_grids
from planner_io.workbook.names import listed, plain_name
from planner_io.workbook.report import Report
from planner_io.workbook.routes import STEP_OF_WORD
from planner_io.workbook.rows import Habits, RowReader
from planner_io.workbook.table import Row
from planner_io.workbook.table_told import missing_columns

_SCRAPPED = "scrapped"
_STATES: Mapping[str, str] = {
    plain_name(word): state
    for state, words in {
        State.DONE: ("done", "finished", "complete", "completed", "ended", "ready"),
        State.STARTED: ("started", "running", "begun", "in progress", "in work", "wip"),
        State.PAUSED: ("paused", "pause", "on hold", "interrupted", "stands still", "stopped"),
        State.SET_UP: ("set-up", "setup", "set up", "setting up", "changing over", "changeover"),
        State.OPEN: ("open", "not started", "not begun", "not done", "waiting", "to do"),
        State.LOCK: ("lock", "locked", "keep", "stay", "fixed"),
        State.PIN: ("pin", "pinned", "next", "move"),
        _SCRAPPED: ("scrapped", "scrap", "spoilt", "spoiled", "rejected", "reject", "ruined"),
    }.items()
    for word in words
}
_NEXT = frozenset({"next", "now", "first", "asap", "at once"})


@dataclass(frozen=True)
class ProgressReading:
    """The rows of a progress file, with what was doubtful and how things were read."""

    rows: tuple[Progress, ...]
    findings: tuple[Finding, ...]
    readings: tuple[str, ...]
    scrapped: tuple[Scrapped, ...] = ()


def read_progress(path: Path, issued: Plan, now: dt.datetime) -> ProgressReading:
    """The progress of an issued plan at the time `now`.

    Raises InputError with everything that is wrong in the file, by cell.
    """
    report = Report()
    grid = _sheet(load_grids(path))
    table = find_table(grid, PROGRESS, report)
    rows: list[Progress | Scrapped] = []
    if table and not missing_columns(table, report):
        reader = _Rows(issued, now, report)
        rows = [found for row in table.rows() if not is_example(row) for found in reader.row(row)]
    if any(finding.severity is Severity.ERROR for finding in report.findings):
        raise InputError(report.findings)
    return ProgressReading(
        tuple(row for row in rows if isinstance(row, Progress)),
        tuple(report.findings),
        report.readings,
        tuple(row for row in rows if isinstance(row, Scrapped)),
    )


def has_progress(path: Path) -> bool:
    """Whether a workbook has a sheet that is called Progress, with something in it."""
    grids = load_grids(path)
    return any(plain_name(each.name) == plain_name(PROGRESS.title) and each.rows for each in grids)


def _sheet(grids: Sequence[Grid]) -> Grid:
    """The sheet Progress, or else the first one; separated text is one sheet without a name."""
    found, _ = find_sheet(grids, PROGRESS)
    return found or replace(grids[0], name=PROGRESS.title if len(grids) == 1 else grids[0].name)


class _Rows:
    """Builds the rows of one sheet, each against the issued plan and the rows before it."""

    def __init__(self, issued: Plan, now: dt.datetime, report: Report) -> None:
        self.issued, self.now, self.report = issued, now, report
        self.operations = {operation.key: operation for operation in issued.operations}
        self.known = {bare(key): key for key in (*self.operations, *(x.key for x in issued.lots))}
        self.stations = {bare(station.name): station.name for station in issued.shop.stations}
        replan = issued.replan
        known: Sequence[Held | Paused] = (*replan.held, *replan.paused) if replan else ()
        self.before = {one.operation: one for one in known}
        self.told: dict[tuple[str, bool], str] = {}

    def row(self, row: Row) -> Sequence[Progress | Scrapped]:
        """What a row says; nothing when it says nothing that can be used."""
        reader = RowReader(row, self.report, Habits())
        operations = self._operations(reader)
        said = reader.choice("state", _STATES, State.OPEN.value)
        if reader.failed or not operations:
            return ()
        if said == _SCRAPPED:
            return read_scrapped(reader, operations, self.issued)
        found = self._of_operations(reader, operations, State(said))
        return (found,) if found else ()

    def _of_operations(
        self, reader: RowReader, operations: Sequence[Operation], state: State
    ) -> Progress | None:
        """What a row says of operations."""
        row = reader.row
        found = Progress(
            operations=tuple(operation.key for operation in operations),
            state=state,
            station=self._station(reader, operations),
            pieces=self._pieces(reader, operations),
            people=read_who(reader, self.issued),
            note=reader.text("note"),
            sheet=row.table.grid.name,
            cell=_place(reader, "operation" if reader.raw("operation") else "lot"),
        )
        if state is State.PIN:
            found = self._pin(reader, found)
        elif state in TOLD and state is not State.OPEN:
            found = self._times(reader, found)
        elif reader.raw("start") is not None:
            self.report.warn(row.place("start"), f"{state.value} has no time; it is not used")
        if not reader.failed:
            self._once(reader, found)
        return None if reader.failed else found

    def _operations(self, reader: RowReader) -> list[Operation]:
        """What the row is about."""
        key = "operation" if reader.raw("operation") is not None else "lot"
        name = reader.text(key)
        if not name:
            reader.fail("operation", "nothing is written here, expected an operation or a lot", "")
            return []
        wanted = self.known.get(bare(name))
        if wanted is None:
            near = difflib.get_close_matches(bare(name), self.known, 1)
            hint = f"; {self.known[near[0]]} comes close" if near else ""
            reader.fail(
                key,
                f"read “{name}”, which is not in the plan that was issued{hint}",
                name,
                f"an operation or lot of the plan, such as {listed(list(self.operations)[:3])}",
            )
            return []
        if wanted in self.operations:
            return [self.operations[wanted]]
        whole = [one for one in self.issued.operations if one.lot == wanted]
        return self._of_step(reader, wanted, whole)

    def _of_step(self, reader: RowReader, lot: str, whole: list[Operation]) -> list[Operation]:
        """The operations of a lot that the Step column names; all of them when it is blank."""
        words = plain_name(reader.text("step"))
        if not words:
            return whole
        step = STEP_OF_WORD.get(words.rstrip(" 0123456789"))
        number = re.fullmatch(r"p(?:as|ass)? ?([0-9]+)", words)
        found = [
            one
            for one in whole
            if (number and one.pass_no == int(number[1])) or (step and one.step == step)
        ]
        if not found:
            keys = listed(one.key for one in whole)
            reader.fail("step", f"lot {lot} has no such step; it has {keys}", reader.raw("step"))
        return found

    def _station(self, reader: RowReader, operations: Sequence[Operation]) -> str:
        name = reader.text("station")
        if not name:
            return ""
        station = self.stations.get(bare(name), "")
        for operation in operations:
            if station not in {way.station for way in operation.alternatives}:
                ways = listed(way.station for way in operation.alternatives)
                reader.fail("station", f"{operation.key} is done on {ways}", name, ways)
                break
        return station

    def _pieces(self, reader: RowReader, operations: Sequence[Operation]) -> int | None:
        if reader.raw("pieces") is None:
            return None
        most = operations[0].count
        expected = f"0 to {most}, as {operations[0].key} has {most}"
        return reader.whole("pieces", 0, 0, most, expected)

    def _times(self, reader: RowReader, found: Progress) -> Progress:
        """When something was done or begun."""
        start, end = self._minute(reader, "start"), self._minute(reader, "end")
        several = len(found.operations) > 1
        if several and (found.state is not State.DONE or start is not None or end is not None):
            keys = listed(found.operations, 4)
            reader.fail("state", f"this row is about {keys}: give each operation its own row")
        minutes = self._took(reader, found)
        found = replace(found, start_min=start, end_min=end, minutes=minutes)
        if not reader.failed:
            self._stale(reader, found)
        return found

    def _stale(self, reader: RowReader, found: Progress) -> None:
        """Refuse a row that was kept from the last time the week was planned again."""
        key = found.operations[0]
        held = self.before.get(key)
        if held is None:
            return
        for name, was, now in (
            ("start", held.start_min, found.start_min),
            ("end", held.end_min, found.end_min),
        ):
            raw = reader.raw(name)
            if raw is not None and now is not None and is_of_today(raw) and days_later(was, now):
                at = when_minute(was, self.issued.options.start)
                why = f"{key} has it at {at} in the plan before: write the day beside the time"
                reader.fail(name, why, cells.text(raw), f"a time such as {at}, or no row")
        ran = isinstance(held, Held) and held.why is HeldWhy.STARTED
        same = ran and (held.start_min, held.pieces) == (found.start_min, found.pieces)
        now_min = due_minute(self.now, self.issued.options.start)
        overdue = held.end_min // DAY_MIN < now_min // DAY_MIN
        counted = found.state is State.STARTED and found.pieces is not None
        if counted and found.end_min is None and same and overdue:
            at = when_minute(held.end_min, self.issued.options.start)
            why = (
                f"{key} was said to be so before, and to end {at}: write done here and its End, or "
                "how many are done by now under Pieces"
            )
            reader.fail("state", why)

    def _took(self, reader: RowReader, found: Progress) -> int | None:
        """The minutes that work took, or has worked; None, and told, where they say nothing new."""
        unit = reader.unit("minutes")
        minutes = reader.take("minutes", lambda value: cells.minutes(value, unit), -1)
        if minutes < 0:
            return None
        if len(found.operations) > 1:
            keys = listed(found.operations, 4)
            reader.fail("minutes", f"this row is about {keys}: give each operation its own row")
        why = ""
        if found.state is State.SET_UP:
            why = "a set-up has no run yet"
        elif found.state is State.DONE:
            both = reader.raw("start") is not None and reader.raw("end") is not None
            why = "Start and End say how long it took" if both else ""
        elif reader.raw("pieces") is not None:
            why = "Pieces say how far it is"
        elif found.state is State.STARTED and reader.raw("end") is not None:
            why = "End says how long it takes"
        if why:
            self.report.warn(reader.row.place("minutes"), f"not used, as {why}")
        return None if why else minutes

    def _minute(self, reader: RowReader, key: str) -> int | None:
        """A time of day of what happened, as a minute of the plan."""
        when = self._when(reader, key, past=True)
        if when is None:
            return None
        if when.minute is None:
            reader.fail(key, "a time of day is missing; write Tue 9:10", reader.raw(key))
            return None
        return self._of_plan(when.day, when.minute)

    def _pin(self, reader: RowReader, found: Progress) -> Progress:
        """Where the planner wants it: next, on a day, at a time, or between two."""
        words = cells.text(reader.raw("start") or reader.raw("state") or "").lower()
        if words in _NEXT:
            return replace(found, next=True)
        start, end = self._when(reader, "start", past=False), self._when(reader, "end", past=False)
        if start is None:
            if not reader.failed:
                reader.fail("start", "a pin needs a time: next, Tuesday, or Thursday 13:00", "")
            return found
        begins = self._of_plan(start.day, start.minute or 0)
        if end is not None:
            ends = self._of_plan(end.day, DAY_MIN if end.minute is None else end.minute)
            return replace(found, start_min=begins, end_min=ends, span=True)
        if start.minute is None:
            return replace(found, start_min=begins, end_min=begins + DAY_MIN, span=True)
        if len(found.operations) > 1:
            keys = listed(found.operations, 4)
            reader.fail("start", f"{keys} cannot all begin at one time: pin one, or give a day")
        return replace(found, start_min=begins)

    def _when(self, reader: RowReader, key: str, *, past: bool) -> When | None:
        if reader.raw(key) is None:
            return None
        habit = DateHabit(start=self.issued.options.start, epoch=reader.row.table.grid.epoch)
        return reader.take(key, lambda value: when(value, self.now, habit, past=past), None)

    def _of_plan(self, day: dt.date, minute: int) -> int:
        moment = dt.datetime.combine(day, dt.time()) + dt.timedelta(minutes=minute)
        return due_minute(moment, self.issued.options.start)

    def _once(self, reader: RowReader, found: Progress) -> None:
        """Two rows may not say what happened, or what is wanted, of one operation."""
        cell = f"{found.sheet}!{found.cell}"
        for key in found.operations:
            kind = (key, found.state in TOLD)
            other = self.told.setdefault(kind, cell)
            if other != cell:
                reader.fail("state", f"{key} has a row already at {other}: keep one of them")
                return


def _place(reader: RowReader, key: str) -> str | None:
    return reader.row.place(key).cell
