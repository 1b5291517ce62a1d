"""Build tube specs from the cells that Orders and Stock share: material, OD, wall, surface."""

from __future__ import annotations

import contextlib
import re
from collections.abc import Iterable
from dataclasses import dataclass, replace

from planner.errors import InputError
from planner.stock import StockItem
from planner.tube import Family, Surface, TubeSpec
from planner.units import OdReading, format_mm
from planner_io.workbook import cells
from planner_io.workbook.as_bought import coating_doubt, surface_in, without_coating
from planner_io.workbook.cells import Parsed
from planner_io.workbook.grid import Value, address
from planner_io.workbook.headers import METRIC, split_unit
from planner_io.workbook.joined import size_alone
from planner_io.workbook.materials import (
    MaterialReading,
    SurfaceReading,
    is_steel,
    read_family,
    read_material,
)
from planner_io.workbook.names import listed
from planner_io.workbook.pipe_columns import (
    is_schedule,
    od_as_meant,
    wall_as_meant,
    wall_beside,
)
from planner_io.workbook.report import Place, Report
from planner_io.workbook.rows import Habits, RowReader
from planner_io.workbook.steel_numbers import steels, usual_name
from planner_io.workbook.table import Row, Table
from planner_io.workbook.table_told import or_rename

COLD_DRAWN = frozenset({"DOM", "CDS", "CREW", "CDW", "CRS"})
"""Words for carbon tube that comes in bright."""
MANDREL_DRAWN = "A513-5"
"""Type 5 of that standard is DOM by its number (common practice)."""


ROUNDED_OD_NM = 50_000
"""An OD to 0.1 mm stands for one so near: 31.8 for 1-1/4 in, 48.3 for 1-1/2 pipe."""
ROUNDED_WALL_NM = 10_000
"""A wall stands for one so near: 1.65 mm for .065 in and 2.1 for .083, but not 2.0 for .080."""


def usual_surface(family: Family, words: str) -> Surface:
    """How tube of a family comes in unless somebody says otherwise (common practice): carbon
    tube scaled unless a word says that it is cold drawn or cold rolled, the rest bright."""
    every = words.upper()
    cold = MANDREL_DRAWN in every or not COLD_DRAWN.isdisjoint(re.split(r"\W+", every))
    return Surface.SCALED if family == Family.CARBON and not cold else Surface.BRIGHT


@dataclass(frozen=True)
class SpecReading:
    """The tube of a row."""

    spec: TubeSpec | None
    """None when a cell fails."""
    surface_given: bool
    oiled: bool


def read_spec(reader: RowReader) -> SpecReading:
    """The tube of a row, with the usual surface of its material where none is given."""
    stuff = _material(reader)
    size = _od(reader, stuff)
    wall_nm = _wall(reader, size)
    found = reader.take("surface", cells.surface, SurfaceReading(None))
    told = _as_material_says(reader, found)
    given = told.surface is not None
    if reader.failed or stuff is None:
        return SpecReading(None, given, told.oiled)
    if doubt := coating_doubt(stuff.grade):
        key = "material" if reader.raw("grade") is None else "grade"
        reader.report.warn(reader.row.place(key), doubt, _words(reader).strip())
    words = f"{stuff.grade} {_words(reader)}"
    spec = TubeSpec(
        family=stuff.family,
        grade=stuff.grade,
        od_nm=size.nm,
        wall_nm=wall_nm,
        surface=told.surface or usual_surface(stuff.family, words),
    )
    return SpecReading(spec, given, told.oiled)


def _as_material_says(reader: RowReader, found: SurfaceReading) -> SurfaceReading:
    """The surface of a row, by the words about its material where the column is blank."""
    surface, oiled = surface_in(_words(reader))
    place = reader.row.place("surface" if found.surface else "material")
    if surface and found.surface and surface != found.surface:
        words = _words(reader).strip()
        reader.report.warn(
            place,
            f"Surface is {found.surface}, and {words} stands beside it; "
            "Surface counts, so correct it if the other is right",
            found.surface,
        )
    if not surface or found.surface:
        return replace(found, oiled=found.oiled or oiled)
    reader.report.note(
        f"{_words(reader).strip()}: surface read as {surface}{', oiled' * oiled}", place
    )
    return replace(found, surface=surface, oiled=found.oiled or oiled)


def walls_missing(table: Table, rows: Iterable[Row], house: Habits, report: Report) -> bool:
    """Whether a sheet has no column of walls and no OD names one either, which is told once."""
    ods = [value for row in rows if (value := row.values.get("od")) is not None]
    if "wall" in table.headers or not ods or any(_names_wall(od, table, house) for od in ods):
        return False
    column = table.spec.column("wall")
    report.error(
        Place(table.grid.name, address(table.header_row, 1)),
        f"there is no column {column.title}, and no OD names a wall; add one "
        f"({column.help.partition('. ')[0]}){or_rename(table)}",
        expected=f"a column such as {listed((column.title, *column.names.split(', ')[:3]))}",
    )
    return True


def _names_wall(od: Value, table: Table, house: Habits) -> bool:
    try:
        reading = cells.od(od, table.headers["od"].unit, house.unit)
    except InputError:
        return True  # what its row will be told of may have been a wall
    return reading.wall_nm is not None


def _words(reader: RowReader) -> str:
    return " ".join(cells.text(reader.raw(key) or "") for key in ("material", "grade"))


def _material(reader: RowReader) -> MaterialReading | None:
    family, grade = reader.raw("material"), reader.raw("grade")
    for cell, name in ((family, "material"), (grade, "grade")):
        problem = reader.left_open(name) or cells.broken(cell) if cell is not None else None
        if problem:
            reader.refuse(name, problem)
            return None
    key = "grade" if family is None and grade is not None else "material"
    try:
        found = _family_and_grade(family, grade)
    except InputError as problem:
        reader.refuse(key, problem)
        return None
    if found.note:
        reader.report.note(found.note, reader.row.place(key))
    return found


def _family_and_grade(family: Value | None, grade: Value | None) -> MaterialReading:
    """Material and Grade cells together: family and grade, or parts of a grade in both."""
    if family is None or grade is None:
        return read_material(family if grade is None else grade)
    if is_steel(family):
        with contextlib.suppress(InputError):  # a grade of which steel alone tells the family
            return read_material(grade)
    first = read_family(family)
    alone = read_material(family).grade == first.value
    return read_material(
        grade if alone else f"{cells.text(family)} {cells.text(grade)}", family=first.value
    )


def _od(reader: RowReader, stuff: MaterialReading | None) -> OdReading:
    wall = reader.raw("wall")
    beside = None if wall is None else wall_as_meant(wall, reader.header("wall"))

    def parse(value: Value) -> Parsed[OdReading]:
        alone = size_alone(value, reader.unit("od"), stuff, reader.house) if stuff else None
        if alone is not None:
            found = parse(alone)
            return Parsed(found.value, found.note or f"the size in it is {alone}")
        inches = reader.unit("od") not in METRIC and _in_inches(reader, value)
        meant = od_as_meant(value, _title(reader, "od"), beside, inches=inches)
        reading = cells.od(meant, reader.unit("od"), reader.house.unit)
        return Parsed(reading, reading.note)

    return reader.take("od", parse, OdReading(0))


def _in_inches(reader: RowReader, value: Value) -> bool:
    unit = reader.unit("od")
    return unit == "in" or reader.house.unit == "inch" or "/" in cells.text(value)


def _title(reader: RowReader, key: str) -> str:
    return split_unit(reader.header(key))[0]


def _wall(reader: RowReader, size: OdReading) -> int:
    if reader.raw("wall") is None:
        if size.wall_nm is None and size.nm:
            expected = "a wall such as .065, 16 ga or sch 40"
            there = "wall" in reader.row.table.headers
            if open_ := reader.left_open("wall"):
                reader.refuse("wall", open_)
                return 0
            why = "nothing is written here" if there else "no column is called so"
            reader.fail("wall", f"{why}, expected {expected}", "", expected)
        return size.wall_nm or 0

    def parse(value: Value) -> Parsed[int]:
        meant = wall_as_meant(value, reader.header("wall"))
        if not reader.unit("wall") and (size.pipe or reader.house.unit == "inch"):
            meant = wall_beside(meant, size.pipe)
        if not size.nm and is_schedule(meant):
            return Parsed(0)  # what is wrong with the OD that it needs is told there
        found = cells.wall(meant, reader.unit("wall"), reader.house.unit, size.nm or None)
        return Parsed(found.nm, found.note)

    wall_nm = reader.take("wall", parse, 0)
    if size.wall_nm is not None and wall_nm and wall_nm != size.wall_nm:
        reader.fail(
            "wall",
            "the OD column names another wall; correct one of them",
            reader.raw("wall"),
            "the wall of the OD column",
        )
    return wall_nm


def spec_as_in_stock(
    reader: RowReader, spec: TubeSpec, surface_given: bool, stock: tuple[StockItem, ...]
) -> TubeSpec:
    """The spec with the size, grade and surface that the stock has, where the row rounds the first
    and leaves the others open."""
    spec = _with_size(reader, spec, stock)
    alike = [item.spec for item in stock if _same_tube(item.spec, spec)]
    spec = _with_grade(reader, spec, {other.grade for other in alike})
    surfaces = {other.surface for other in alike if other.grade == spec.grade}
    if surface_given or not surfaces or spec.surface in surfaces:
        return spec
    found = sorted(surfaces)[0]
    reader.report.note(f"surface read as {found}, as in Stock", reader.row.place("surface"))
    return spec.model_copy(update={"surface": found})


def _with_size(reader: RowReader, spec: TubeSpec, stock: tuple[StockItem, ...]) -> TubeSpec:
    """The only size in stock of which the row's can be a rounding: 31.75 mm for 31.8."""
    near = {
        (item.spec.od_nm, item.spec.wall_nm)
        for item in stock
        if item.spec.family == spec.family
        and abs(item.spec.od_nm - spec.od_nm) <= ROUNDED_OD_NM
        and abs(item.spec.wall_nm - spec.wall_nm) <= ROUNDED_WALL_NM
    }
    if len(near) != 1 or (spec.od_nm, spec.wall_nm) in near:
        return spec
    od_nm, wall_nm = near.pop()
    exact = " × ".join(format_mm(nm, 3) for nm in (od_nm, wall_nm))
    written = " × ".join(format_mm(nm, 3) for nm in (spec.od_nm, spec.wall_nm))
    reader.report.note(f"{written} read as {exact}, as in Stock", reader.row.place("od"))
    return spec.model_copy(update={"od_nm": od_nm, "wall_nm": wall_nm})


def _same_tube(one: TubeSpec, other: TubeSpec) -> bool:
    return (one.family, one.od_nm, one.wall_nm) == (other.family, other.od_nm, other.wall_nm)


def _with_grade(reader: RowReader, spec: TubeSpec, grades: set[str]) -> TubeSpec:
    """The only grade in stock that says more than the row does: 6061-T6 for 6061, or any grade
    where the row names the family alone; or the same steel by another name: 304 for 1.4301."""
    if spec.grade in grades:
        return spec
    open_ = spec.grade == spec.family.value
    named = {spec.grade, usual_name(spec.grade)}
    longer = tuple(f"{name}{mark}" for name in named for mark in " -/")
    bare = [grade for grade in grades if not without_coating(grade)[1]]
    same = sorted(grade for grade in grades if steels(grade) == steels(spec.grade))
    found = same or sorted(grade for grade in bare if open_ or grade.startswith(longer))
    if len(found) > 1:
        written = "no grade" if open_ else f"only {spec.grade}"
        reader.fail(
            "grade" if "grade" in reader.row.table.headers else "material",
            f"{written} is written, and Stock has this tube in {listed(found)}; write which",
            cells.text(reader.raw("material") or ""),
            listed(found),
        )
    if len(found) != 1:
        return spec
    reader.report.note(_as_in_stock(spec.grade, found[0]), reader.row.place("material"))
    return spec.model_copy(update={"grade": found[0]})


def _as_in_stock(written: str, found: str) -> str:
    """How a grade was read that stock has by another name, or with more said of it."""
    if steels(found) == steels(written):
        return f"{written} read as {found}, as in Stock, which is the same by another name"
    return f"grade read as {found}, as in Stock"
