"""What the floor tapped, in the columns that `brightrun log` and `brightrun plan --after` read."""

from __future__ import annotations

import csv
import io
from collections.abc import Iterable, Iterator, Mapping, Sequence
from datetime import datetime, timedelta
from fractions import Fraction

from planner.orders import Step
from planner.records import Operation, Slot
from planner.scrap import Scrap
from planner.units import NM_PER_MM
from planner_io.logbook_sheet import LOG, SETUP_COLUMNS
from planner_io.progress_sheet import PROGRESS
from planner_io.taps import RunReport, Stands
from planner_io.views.index import Index
from planner_io.web.begun import is_known
from planner_io.web.hours import minutes_in
from planner_io.workbook.columns import SheetSpec

_STARTS_FORMULA = ("=", "+", "-", "@")


def log_csv(index: Index, now: Mapping[str, Stands]) -> str:
    """The Log sheet: a row for each pass that is done."""
    return _table(LOG, _log_rows(index, now))


def _log_rows(index: Index, now: Mapping[str, Stands]) -> Iterator[Mapping[str, str]]:
    done = [(key, it) for key, it in now.items() if key in index.slots and it.done_at]
    for key, it in sorted(done, key=lambda item: (item[1].done_at or datetime.min, item[0])):
        operation = index.operations[key]
        if operation.step is Step.FINISH and it.report and it.report.pieces and it.done_at:
            yield _log_row(index, operation, it.report, it.done_at)


def _log_row(
    index: Index, operation: Operation, report: RunReport, done_at: datetime
) -> Mapping[str, str]:
    spec = index.lots[operation.lot].spec
    columns = {what: key for key, what in SETUP_COLUMNS.items()}
    return {
        "day": done_at.date().isoformat(),
        "station": index.slots[operation.key].station,
        "belt": report.belt,
        "family": spec.family.value,
        "od": _mm(spec.od_nm),
        "wall": _mm(spec.wall_nm),
        "length": _mm(mean_length_nm(index, operation)),
        "count": str(report.pieces),
        "tilt": f"{abs(report.tilt_mdeg or 0) / 1000:g}",
        "minutes": f"{report.minutes} min",
        "who": report.who,
        "spring": report.spring,
    } | {columns[what]: f"{minutes} min" for what, minutes in report.setups if what in columns}


def mean_length_nm(index: Index, operation: Operation) -> int:
    """Length of a piece of a pass; their mean where a lot has several.

    A pass takes a time that is linear in the lengths, so the mean stands for all of them.
    """
    sticks = index.cut_lists[operation.lot].sticks
    if index.lots[operation.lot].saw_first:
        lengths = [piece.length_nm for stick in sticks for piece in stick.pieces]
    else:
        lengths = [stick.length_nm for stick in sticks if not stick.finished]
    return round(Fraction(sum(lengths), len(lengths)))


def progress_csv(index: Index, now: Mapping[str, Stands], at: datetime) -> str:
    """The Progress sheet: what is done, runs, or should have begun by `at` and has not.

    Only a station that somebody has tapped at can say that something has not begun, or is not
    through yet. What the plan knows itself, of when it was planned again, is not told back to it
    while it is as expected.
    """
    return _table(PROGRESS, _progress_rows(_Floor(index, now), at))


class _Floor:
    """What is tapped of a plan, and at which stations."""

    def __init__(self, index: Index, now: Mapping[str, Stands]) -> None:
        self.index = index
        self.all = {key: it for key, it in now.items() if key in index.slots}
        self.own = {k: it for k, it in self.all.items() if not is_known(index.plan, k, it)}
        """What was tapped since the plan was made."""
        self.stations = {index.slots[key].station for key in self.own}
        self.running = {self._place(key) for key, it in self.all.items() if it.runs}
        begun = [(at, key) for key, it in self.all.items() for at in (it.set_up_at, *it.stretches)]
        begun_at = sorted((at, key) for at, key in begun if at)
        self.last = {self._place(key): key for _, key in begun_at}
        """What was begun, or went on, last at each station or base."""
        self.reached: dict[str, int] = {}
        """The latest planned start of all that was begun at each station or base."""
        for _, key in begun_at:
            start_min = index.slots[key].start_min
            self.reached[self._place(key)] = max(start_min, self.reached.get(self._place(key), 0))

    def _place(self, key: str) -> str:
        return self.index.place(self.index.slots[key].station)

    def since(self, key: str, it: Stands) -> datetime | None:
        """When a run began, or went on after what was put in while it stood still; None where it
        has not begun. What was put in before the week was planned again is not tapped here."""
        place, known = self._place(key), self._known_from(key)
        others = [
            at
            for name, other in self.all.items()
            if name != key and self._place(name) == place
            for at in (other.set_up_at, *other.stretches)
            if at
        ]
        begun = [at for at in it.stretches if known is None or at >= known] or list(it.stretches)
        gone_on = [
            end
            for start, end in it.pauses
            if end in it.stretches and end and any(start <= at < end for at in others)
        ]
        return max([*begun[:1], *gone_on], default=None)

    def _known_from(self, key: str) -> datetime | None:
        """From when on a run that had begun when the week was planned again is not told yet."""
        part, held, now_min = self.index.paused.get(key), self.index.held.get(key), 0
        if self.index.plan.replan:
            now_min = self.index.plan.replan.now_min
        if part:
            return self.index.moment(part.end_min)
        if held and held.start_min <= now_min:
            return self.index.moment(held.start_min)
        return None

    def worked(self, key: str, it: Stands, at: datetime) -> int:
        """Minutes that a run has worked by then; of what stood still when the week was planned
        again, those since."""
        part, spans = self.index.paused.get(key), it.running(at)
        if part is None:
            return minutes_in(self.index, spans)
        until = self.index.moment(part.end_min)
        return minutes_in(
            self.index, [(max(start, until), end) for start, end in spans if end > until]
        )

    def is_set_up(self, key: str) -> bool:
        """Whether its station is being changed over to it, with nothing else begun there since."""
        return self.last.get(self._place(key)) == key and self._place(key) not in self.running

    def stands(self, slot: Slot, at: datetime) -> Stands:
        """How far an operation is, as far as that has to be told."""
        key, expected = slot.operation, Stands()
        due = slot.setup_start_min if key in self.index.paused else slot.end_min
        if slot.station in self.stations and self.index.moment(due) <= at:
            expected = self.all.get(key, expected)
        return self.own.get(key, expected)

    def is_due(self, slot: Slot, at: datetime) -> bool:
        """Whether something should have begun: by its time, or by what was begun out of turn."""
        out_of_turn = slot.start_min < self.reached.get(self._place(slot.operation), 0)
        return out_of_turn or self.index.moment(slot.setup_start_min) <= at

    def gave_way(self, key: str) -> bool:
        """Whether its station was being changed over to it, and something else is done there."""
        it = self.all.get(key, Stands())
        return bool(it.set_up_at) and it.start_at is None and not self.is_set_up(key)


def _progress_rows(floor: _Floor, at: datetime) -> Iterator[Mapping[str, str]]:
    for slot in floor.index.plan.slots:
        key, it = slot.operation, floor.stands(slot, at)
        since = floor.since(key, it)
        if since:
            yield {"operation": key, "who": _who(it), **_told(floor, key, it, since, at)}
            yield from _scrapped(floor.index, it)
            continue
        if it.set_up_at and floor.is_set_up(key):
            start = _time(it.set_up_at)
            yield {"operation": key, "state": "set-up", "start": start, "who": _who(it)}
            continue
        known = key in floor.index.held and key not in floor.own
        not_begun = slot.station in floor.stations and floor.is_due(slot, at) and not known
        if not_begun or floor.gave_way(key):
            yield {"operation": key, "state": "open"}


def _told(floor: _Floor, key: str, it: Stands, since: datetime, at: datetime) -> Mapping[str, str]:
    """How far a run is that began, or went on, at a time."""
    if it.done_at and it.report:
        took = it.report.minutes if since == it.start_at else 1
        begun = min(since, it.done_at - timedelta(minutes=took))
        said = {"start": _time(begun), "end": _time(it.done_at), "note": it.report.note}
        return {"state": "done", **said}
    worked = f"{floor.worked(key, it, at)} min" if it.pauses else ""
    if it.paused_at is None:
        return {"state": "started", "start": _time(since), "minutes": worked}
    if _time(it.paused_at) == _time(since):
        return {"state": "open"}
    stood = {"start": _time(since), "end": _time(it.paused_at), "minutes": worked}
    return {"state": "paused", **stood}


def _who(it: Stands) -> str:
    return ", ".join(it.who)


def _scrapped(index: Index, it: Stands) -> Iterator[Mapping[str, str]]:
    """A row for each stick that is lost, and for the pieces of each order line."""
    scrap = it.report.scrap if it.report else ()
    for operation, stick in dict.fromkeys((one.operation, one.stick) for one in scrap if one.stick):
        yield {"operation": operation, "state": "scrapped", "stick": stick}
    for one in scrap:
        if not one.stick:
            said = {"pieces": str(one.pieces), "line": one.line}
            yield {"operation": _lost_at(index, one), "state": "scrapped", **said}


def _lost_at(index: Index, one: Scrap) -> str:
    """The operation at which pieces were lost; its lot, where the planner was told of others lost
    at one that had its name before."""
    before = {(each.told_at, each.line) for each in index.plan.scrap if each.told_at}
    is_taken = (one.operation, one.line) in before
    return index.operations[one.operation].lot if is_taken else one.operation


def _table(sheet: SheetSpec, rows: Iterable[Mapping[str, str]]) -> str:
    page = io.StringIO()
    writer = csv.writer(page, lineterminator="\r\n")
    writer.writerow([column.title for column in sheet.columns])
    for row in rows:
        writer.writerow(_cells(sheet, row))
    return page.getvalue()


def _cells(sheet: SheetSpec, row: Mapping[str, str]) -> Sequence[str]:
    return [_plain(row.get(column.key, "")) for column in sheet.columns]


def _plain(words: str) -> str:
    """Words that no spreadsheet program takes for a formula."""
    return f"'{words}" if words.startswith(_STARTS_FORMULA) else words


def _mm(nm: int) -> str:
    """A length to the nanometre."""
    whole, rest = divmod(nm, NM_PER_MM)
    return f"{whole}.{rest:06d}".rstrip("0").rstrip(".") + " mm"


def _time(at: datetime) -> str:
    return at.strftime("%Y-%m-%d %H:%M")
