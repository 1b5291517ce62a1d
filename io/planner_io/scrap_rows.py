"""Rows of Progress that say what was lost: pieces of an order line, or a stick."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence

from planner.records import Operation, Plan
from planner.replan.scrap import Scrapped
from planner.scrap import Scrap
from planner_io.typed_names import bare
from planner_io.workbook.names import listed
from planner_io.workbook.rows import RowReader

_NOT_USED = ("start", "end", "minutes", "station")


def read_scrapped(
    reader: RowReader, operations: Sequence[Operation], issued: Plan
) -> tuple[Scrapped, ...]:
    """What a row says is lost; nothing when it fails."""
    is_stick = reader.raw("stick") is not None
    lost = (_of_stick if is_stick else _of_line)(reader, operations, issued)
    ignored = (*_NOT_USED, "line") if is_stick else _NOT_USED
    for key in ignored:
        if reader.raw(key) is not None:
            uses = "Stick" if is_stick else "Pieces and Line"
            reader.report.warn(reader.row.place(key), f"not used, as scrapped says {uses} alone")
    place = reader.row.place(_about(reader))
    return () if reader.failed else tuple(Scrapped(one, place.sheet, place.cell) for one in lost)


def _about(reader: RowReader) -> str:
    return "operation" if reader.raw("operation") is not None else "lot"


def _where(operations: Sequence[Operation]) -> str:
    """The operation at which it was lost, or the lot where no single one is named."""
    return operations[0].key if len(operations) == 1 else operations[0].lot


def _of_stick(
    reader: RowReader, operations: Sequence[Operation], issued: Plan
) -> tuple[Scrap, ...]:
    """All that the cut list takes from a stick; nothing of it where the row says 0."""
    lot = operations[0].lot
    sticks = {
        bare(stick.tag): stick
        for each in issued.cut_lists
        if each.lot == lot
        for stick in each.sticks
    }
    found = sticks.get(bare(reader.text("stick")))
    if found is None:
        tags = listed([stick.tag for stick in sticks.values()], 4)
        raw = reader.raw("stick")
        reader.fail("stick", f"lot {lot} has no such stick; its cut list has {tags}", raw, tags)
        return ()
    is_lost = True
    if reader.raw("pieces") is not None:
        expected = "0 if it is not lost after all, else blank, as the cut list has its pieces"
        is_lost = reader.whole("pieces", 1, 0, 0, expected) > 0
    return tuple(
        Scrap(operation=_where(operations), line=line, stick=found.tag, pieces=pieces * is_lost)
        for line, pieces in Counter(piece.line for piece in found.pieces).items()
    )


def _of_line(reader: RowReader, operations: Sequence[Operation], issued: Plan) -> tuple[Scrap, ...]:
    """Pieces of an order line; 0 where none is lost after all."""
    line = _line(reader, operations, issued)
    if line is None:
        return ()
    most = next(order.quantity for order in issued.orders if order.key == line)
    expected = f"0 to {most}, as line {line} has {most}"
    if reader.raw("pieces") is None:
        reader.fail("pieces", "how many pieces are scrapped? Write it here", "", expected)
    pieces = reader.whole("pieces", 0, 0, most, expected)
    return (Scrap(operation=_where(operations), line=line, pieces=pieces),)


def _line(reader: RowReader, operations: Sequence[Operation], issued: Plan) -> str | None:
    lots = {lot.key: lot for lot in issued.lots}
    keys = dict.fromkeys(
        key for one in operations for key in ((one.line,) if one.line else lots[one.lot].lines)
    )
    written = bare(reader.text("line"))
    meant = [key for key in keys if not written or bare(key) == written]
    if len(meant) == 1:
        return meant[0]
    why = f"has no pieces of {reader.text('line')}" if written else "has pieces of several lines"
    reader.fail(
        "line",
        f"lot {operations[0].lot} {why}; write under Line which of {listed(keys)} it is, or under "
        "Stick which stick is lost",
        reader.raw("line"),
        listed(keys),
    )
    return None
