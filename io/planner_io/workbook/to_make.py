"""How many pieces of an order line are still to make, and which lines are not to be made at all."""

from __future__ import annotations

import datetime as dt
import re
from collections.abc import Mapping

from planner.errors import InputError
from planner.units.reading import refuse
from planner_io.workbook import cells
from planner_io.workbook.cells import Parsed
from planner_io.workbook.grid import Value, letters
from planner_io.workbook.names import plain_name
from planner_io.workbook.report import Report
from planner_io.workbook.rows import RowReader
from planner_io.workbook.table import Table

MOST_PIECES = 100_000
ALL = MOST_PIECES + 1
"""Stands for all pieces of a line, where a cell says done without a number."""

_EXPECTED = "a whole number of pieces from 1"
_DONE_EXPECTED = "how many pieces are done, or yes where all are"
_DONE, _OPEN, _HELD, _BEGUN = "done", "open", "held", "begun"
_WORDS = {
    _DONE: "done complete completed closed shipped delivered invoiced made ready collected sent "
    "dispatched despatched",
    _OPEN: "open new released rel rlsd confirmed active firm planned pending waiting todo "
    "backorder no n",
    _HELD: "hold held onhold stopped cancelled canceled cancel canc cncl cxl cxld canx void quote "
    "quoted draft",
    _BEGUN: "started begun wip inprogress inprocess part partial partially partly running "
    "cut sawn ground polished finished notched coped bent",
}
_STATUS: Mapping[str, str] = {
    plain_name(word): status for status, words in _WORDS.items() for word in words.split()
}
_SOME = re.compile(
    r"\b(?:part(?:ly|ial|ially)?|[0-9]+ ?(?:of|/) ?[0-9]+)\b|^[a-z]+ [0-9]+(?: ?pcs)?$"
)
"""Words behind `shipped` that say that only some pieces are."""
_ON_HOLD = re.compile(r"^(?:on|credit|customer|qc|eng|engineering) hold\b|\bcancel")
_SAID = frozenset({"open", "done", "complete"})
"""Columns that say what is done."""
_YES = frozenset({"yes", "y", "x", "all", "true", "✓", "✔"})
_NO = frozenset({"no", "n", "false"})


def without_money(table: Table, report: Report) -> Table:
    """The table without its column of pieces still to make, where that is no such thing, as a
    cell of it is no number of pieces or is more than was ordered."""
    head = table.headers.get("open")
    if head is None or "quantity" not in table.headers:
        return table
    for row in table.rows():
        if not _may_be_left(row.values.get("open"), row.values.get("quantity")):
            report.warn(
                row.place("open"),
                f"column {letters(head.index)}, “{head.text}”, is not read as pieces still to "
                "make, as this is no part of what was ordered; if it is, correct it",
                cells.text(row.values["open"]),
                "no more pieces than were ordered",
            )
            others = {key: other for key, other in table.headers.items() if key != "open"}
            return Table(table.spec, table.grid, table.header_row, others, table.parts)
    return table


def _may_be_left(left: Value | None, ordered: Value | None) -> bool:
    if left is None or ordered is None or cells.is_nothing(left):
        return True
    try:
        total = cells.whole(ordered, 0, MOST_PIECES, _EXPECTED).value
    except InputError:
        return True  # of which its row will be told
    try:
        return cells.whole(left, 0, MOST_PIECES, _EXPECTED).value <= total
    except InputError:
        return False


def pieces_left(reader: RowReader, issued: int = 0) -> int:
    """The pieces of a row that are still to make; 0 where it is done or stopped, which is told.

    Of a line of a plan that is planned again so many pieces are `issued`; what of them is done the
    progress tells, so that what the row says of it changes nothing.
    """
    status = _status(reader, issued)
    if status == _HELD or (status == _DONE and not issued):
        return 0
    if issued and (status == _DONE or _SAID & reader.row.values.keys()):
        return _as_issued(reader, issued)
    alone = reader.raw("open") is not None and reader.raw("quantity") is None
    ordered = 0 if alone else reader.whole("quantity", 0, 0, MOST_PIECES, _EXPECTED)
    left = _left(reader, ordered)
    told = not {"done", "open"}.isdisjoint(reader.row.values)
    if left > 0 and status == _BEGUN and not told:
        reader.report.warn(
            reader.row.place("status"),
            f"has begun, and is planned with {left} pieces; write how many are done, in a column "
            "Done",
        )
    if ordered == 0 and reader.raw("open") is None and not reader.failed:
        reader.refuse("quantity", refuse(cells.text(reader.raw("quantity") or 0), _EXPECTED))
    return left


def _as_issued(reader: RowReader, issued: int) -> int:
    """The pieces of an issued line, or as many as are ordered or left, if that is another number
    whatever was done since."""
    unheard = RowReader(reader.row, Report(), reader.house)
    ordered = reader.whole("quantity", issued, 0, MOST_PIECES, _EXPECTED)
    pieces = min(ordered, max(issued, _left(unheard, ordered)))
    as_issued = "as issued" if pieces == issued else f"of which {min(pieces, issued)} were issued"
    reader.report.note(
        f"planned again with {pieces} pieces, {as_issued}; what is done the progress tells",
        reader.row.place("quantity"),
    )
    return pieces


def _left(reader: RowReader, ordered: int) -> int:
    if reader.raw("open") is not None:
        left = reader.whole("open", 0, 0, MOST_PIECES, _EXPECTED)
        if not reader.failed:
            _tell(reader, "open", ordered, left)
        return left
    done = {key: _done_by(reader, key) for key in ("done", "complete")}
    most = max(done, key=lambda key: done[key])
    left = max(0, ordered - done[most])
    if done[most] and not reader.failed:
        _tell(reader, most, ordered, left)
    return left


def _done_by(reader: RowReader, key: str) -> int:
    return reader.take(key, lambda value: _done(value, reader.header(key)), 0)


def _tell(reader: RowReader, key: str, ordered: int, left: int) -> None:
    if left == 0:
        reader.report.note("nothing is left to make, so the row is left out", reader.row.place(key))
    elif left != ordered and ordered:
        reader.report.note(
            f"{ordered} ordered, {left} of them still to make", reader.row.place(key)
        )


def _status(reader: RowReader, issued: int) -> str:
    """What the column Status says of a row, which is told."""
    value = reader.raw("status")
    if value is None or cells.is_nothing(value):
        return _OPEN
    shown, place = cells.text(value), reader.row.place("status")
    status = _status_of(shown)
    if status == _DONE and not issued:
        reader.report.note(f"{shown}, so the row is left out", place)
    elif status == _HELD:
        reader.report.warn(
            place, f"{shown}, so the row is not planned; write open if it is to be made", shown
        )
    elif status is None:
        reader.report.warn(
            place,
            "not known, so the row is planned; write open, done or hold, and the rest under Notes",
            shown,
        )
    return status or _OPEN


def _status_of(shown: str) -> str | None:
    """What a status means by all of its words, the first one, or `on hold` among them; None if that
    is not known."""
    word = plain_name(shown)
    held = _HELD if _ON_HOLD.search(word) else None
    status = _STATUS.get(word.replace(" ", "")) or _STATUS.get(word.partition(" ")[0]) or held
    return _BEGUN if status == _DONE and _SOME.search(shown.lower()) else status


def _done(value: Value, header: str) -> Parsed[int]:
    """The pieces that a cell says are done: a number, a tick or the day on which they were."""
    if isinstance(value, (dt.date, dt.datetime)):
        return Parsed(ALL)
    word = cells.text(value).lower()
    if word in _YES or _STATUS.get(plain_name(word)) == _DONE:
        return Parsed(ALL)
    if word in _NO:
        return Parsed(0)
    if "%" in header or "percent" in header.lower() or word.endswith("%"):
        return _of_hundred(value)
    return cells.whole(value, 0, MOST_PIECES, _DONE_EXPECTED)


def _of_hundred(value: Value) -> Parsed[int]:
    """All pieces or none: of a percentage between them nobody knows the pieces."""
    number = cells.plain_number(value.rstrip(" %") if isinstance(value, str) else value, "per cent")
    if number.value == 0:
        return Parsed(0)
    if number.value in (1, 100):
        return Parsed(ALL)
    raise refuse(cells.text(value), _DONE_EXPECTED)
