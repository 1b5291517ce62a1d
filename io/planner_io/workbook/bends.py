"""Build bent shapes from the Bends sheet: rows of one part, in order, a straight at the end."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace
from fractions import Fraction

from planner.orders import Bend, Bent
from planner_io.workbook import cells
from planner_io.workbook.examples import is_example
from planner_io.workbook.grid import Value, address
from planner_io.workbook.names import plain_name
from planner_io.workbook.radii import in_ods, radius_nm, said
from planner_io.workbook.report import Place, Report
from planner_io.workbook.rows import Habits, RowReader
from planner_io.workbook.table import Row, Table
from planner_io.workbook.table_told import missing_columns


@dataclass(frozen=True)
class BentPart:
    """The rows of a part, and for each how many ODs its radius is, where that is how it is said."""

    rows: tuple[Bend, ...]
    ods: tuple[Fraction | None, ...]

    def of(self, od_nm: int) -> Bent:
        """The part of tube of that OD."""
        every = zip(self.rows, self.ods, strict=True)
        return Bent(
            rows=tuple(
                row.model_copy(update={"clr_nm": radius_nm(od_nm, ods)}) if ods else row
                for row, ods in every
            )
        )


@dataclass(frozen=True)
class Parts:
    """Bent parts by plain name; a part whose rows have errors maps to None."""

    shapes: Mapping[str, BentPart | None]
    names: tuple[str, ...] = ()
    """As written."""

    def find(self, part: str) -> tuple[bool, BentPart | None]:
        """Whether the sheet has a part, and its shape unless that has errors."""
        name = plain_name(part)
        return name in self.shapes and bool(part), self.shapes.get(name)


@dataclass(frozen=True)
class _Read:
    row: Row
    number: int
    """As written, -1 when nothing is."""
    bend: Bend | None
    ods: Fraction | None = None


def read_bends(table: Table | None, house: Habits, report: Report) -> Parts:
    """The bent parts of a Bends sheet."""
    if table is None or _are_points(table, report) or missing_columns(table, report):
        return Parts({})
    table = _with_r_as_radius(table)
    grouped: dict[str, list[_Read]] = {}
    names: dict[str, str] = {}
    part = ""
    for row in table.rows():
        if is_example(row):
            report.note("the example row is left out", row.start)
            continue
        reader = RowReader(row, report, house)
        if row.values.get("part") is None and part:
            report.note("part taken from the row above", row.place("part"))
        else:
            part = reader.text("part")
        names.setdefault(plain_name(part), part)
        grouped.setdefault(plain_name(part), []).append(_read(reader))
    shapes = {name: _shape(rows, report) for name, rows in grouped.items()}
    return Parts(shapes, tuple(names.values()))


def _are_points(table: Table, report: Report) -> bool:
    """Report columns X, Y and Z, which are points where the axes of straights meet; whether there
    are. Y alone is a straight."""
    titles = {plain_name(str(text)): index for index, text in _titles(table).items()}
    if not {"x", "y", "z"} <= titles.keys():
        return False
    report.error(
        Place(table.grid.name, address(table.header_row, titles["x"])),
        "columns X, Y and Z are points, and are not read: write each straight between the tangent "
        "points, the rotation before the bend, its angle and its radius",
        "X, Y, Z",
        "columns Straight, Rotation, Angle and CLR",
    )
    return True


def _titles(table: Table) -> Mapping[int, Value]:
    return table.grid.rows[table.header_row]


def _with_r_as_radius(table: Table) -> Table:
    """The table without a rotation that is the radius: R is the radius where no other column is."""
    one, other = table.headers.get("rotation"), table.headers.get("clr")
    if one is None or other is None or one.index != other.index:
        return table
    rest = {key: head for key, head in table.headers.items() if key != "rotation"}
    return replace(table, headers=rest)


def _read(reader: RowReader) -> _Read:
    straight = reader.length("straight", zero_ok=True)
    rotation = reader.take("rotation", cells.turn, 0)
    angle = reader.take("angle", cells.angle, 0)
    clr, ods = _radius(reader)
    number = reader.whole("row", -1, 0, 9999, "the number of the row")
    if angle and not clr and not ods and not reader.failed:
        reader.fail("clr", "a bend needs its centreline radius; write it here", expected="a CLR")
    if not angle:
        clr, ods = 0, None
    bend = Bend(straight_nm=straight, angle_mdeg=angle, clr_nm=clr, rotation_mdeg=rotation)
    return _Read(reader.row, number, None if reader.failed else bend, ods)


def _radius(reader: RowReader) -> tuple[int, Fraction | None]:
    """The radius of a row's bend as a length, or by how many ODs of whatever tube is ordered."""
    ods = in_ods(reader.raw("clr") or "")
    if ods is None:
        return reader.length("clr", zero_ok=True), None
    reader.tell(
        "clr", reader.raw("clr") or "", f"read as {said(ods)} times the OD of the order line"
    )
    return 0, ods


def _shape(rows: list[_Read], report: Report) -> BentPart | None:
    numbers = {row.number for row in rows if row.number >= 0}
    if len(numbers) == len(rows):
        rows = sorted(rows, key=lambda row: row.number)
    bends = [row.bend for row in rows]
    good = [bend for bend in bends if bend is not None]
    if len(good) < len(bends):
        return None
    early = next((r for r, b in zip(rows, good, strict=True) if not b.angle_mdeg), rows[-1])
    if early is not rows[-1]:
        report.error(
            early.row.place("angle"),
            "only the last row of a part is a straight alone; write the angle of this bend, "
            "or join the two straights",
            expected="a bend's angle",
        )
        return None
    if good[-1].angle_mdeg:
        report.error(
            rows[-1].row.place("angle"),
            "the straight after the last bend is missing; add a row for it without an angle "
            "(0 if the part ends in the bend)",
            expected="a last row with a straight alone",
        )
        return None
    return BentPart(tuple(good), tuple(row.ods for row in rows))
