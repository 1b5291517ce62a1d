"""The ends of an order line from the cells of its row."""

from __future__ import annotations

from planner.orders import EndCut, EndKind
from planner_io.workbook import cells
from planner_io.workbook.cells import Parsed
from planner_io.workbook.ends import as_headed, both_ends, end_cut, is_flat, is_for_saddles, twist
from planner_io.workbook.grid import Value
from planner_io.workbook.rows import RowReader


def read_ends(reader: RowReader, od_nm: int | None) -> tuple[EndCut, EndCut]:
    """The two ends; the column for both counts where End 1 and End 2 are blank."""
    saddled = is_for_saddles(reader.header("ends"))

    def parse(value: Value) -> Parsed[tuple[str, str]]:
        if cells.is_nothing(value) and not cells.is_open(value):
            return Parsed(("", ""))
        return Parsed(both_ends(cells.text(value), saddled=saddled))

    one, two = reader.take("ends", parse, ("", ""))
    first = _end(reader, "end_1", one, od_nm)
    if (
        one == two
        and reader.raw("ends") is not None
        and not {"end_1", "end_2"} & reader.row.values.keys()
    ):
        return first, first
    return first, _end(reader, "end_2", two, od_nm)


def _end(reader: RowReader, key: str, common: str, od_nm: int | None) -> EndCut:
    def parse(value: Value) -> Parsed[EndCut]:
        column = "ends" if reader.raw(key) is None else key
        header = reader.header(column)
        said, saddled = as_headed(cells.text(value), header), is_for_saddles(header)
        return end_cut(said, reader.house.unit, od_nm, saddled=saddled)

    if reader.raw(key) is None and common:
        _doubt_flat(reader, "ends", common)
        return reader.take("ends", lambda _: parse(common), EndCut())
    _doubt_flat(reader, key, cells.text(reader.raw(key) or ""))
    return reader.take(key, parse, EndCut())


def _doubt_flat(reader: RowReader, key: str, end: str) -> None:
    """Warn of an end that may be flattened, which is work that no plan knows of."""
    if is_flat(end):
        reader.report.warn(
            reader.row.place(key),
            f"“{end}” is planned as sawn square, and flattening it is not planned; write square if "
            "nothing is flattened, else say it in Notes, and leave Length long enough for it",
            end,
            "square",
        )


def read_twist(reader: RowReader, ends: tuple[EndCut, EndCut]) -> int:
    """How the second of two mitres is turned against the first; 0, and told, where it is blank."""
    given = reader.take("twist", twist, 0)
    if all(end.kind is EndKind.MITRE for end in ends):
        if reader.raw("twist") is None:
            text = "two mitres without a Twist read as: both long points on one side"
            reader.report.note(text, reader.row.place("twist"))
        return given
    if given and not reader.failed:
        reader.report.note(
            "Twist is not used, as not both ends are mitred", reader.row.place("twist")
        )
    return 0
