"""Rows of Progress that say how many pieces were spoilt."""

from __future__ import annotations

from collections.abc import Sequence

from planner.records import Operation, Plan
from planner.replan.scrap import Scrapped
from planner_io.workbook.names import listed
from planner_io.workbook.rows import RowReader

_NOT_USED = ("start", "end", "minutes", "station")


def read_scrapped(
    reader: RowReader, operations: Sequence[Operation], issued: Plan
) -> Scrapped | None:
    """The pieces of one order line that a row says are lost; None when it fails."""
    line = _line(reader, operations, issued)
    if line is None:
        return None
    most = next(order.quantity for order in issued.orders if order.key == line)
    if reader.raw("pieces") is None:
        reader.fail("pieces", "how many pieces are scrapped? Write it here", "", f"1 to {most}")
    pieces = reader.whole("pieces", 0, 1, most, f"1 to {most}, as line {line} has {most}")
    for key in _NOT_USED:
        if reader.raw(key) is not None:
            reader.report.warn(reader.row.place(key), "not used, as scrapped says Pieces alone")
    place = reader.row.place("operation" if reader.raw("operation") else "lot")
    return None if reader.failed else Scrapped(line, pieces, place.sheet, place.cell)


def _line(reader: RowReader, operations: Sequence[Operation], issued: Plan) -> str | None:
    lots = {lot.key: lot for lot in issued.lots}
    keys = dict.fromkeys(
        key for one in operations for key in ((one.line,) if one.line else lots[one.lot].lines)
    )
    written = "".join(reader.text("line").split()).upper()
    meant = [key for key in keys if not written or key.upper() == written]
    if len(meant) == 1:
        return meant[0]
    why = f"has no pieces of {reader.text('line')}" if written else "has pieces of several lines"
    reader.fail(
        "line",
        f"lot {operations[0].lot} {why}; write under Line which of {listed(keys)} it is",
        reader.raw("line"),
        listed(keys),
    )
    return None
