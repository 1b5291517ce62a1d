"""Columns that say size and material together: `1-1/2 x .120 A513` under `Tube` or `Material`."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import replace

from planner.errors import InputError
from planner_io.workbook import cells
from planner_io.workbook.grid import Value, letters
from planner_io.workbook.materials import MaterialReading, read_material
from planner_io.workbook.report import Place, Report
from planner_io.workbook.rows import Habits
from planner_io.workbook.table import Table

OD, MATERIAL = "od", "material"
_BETWEEN = re.compile(r"[\s,;]+")


def apart(table: Table, house: Habits, report: Report) -> Table:
    """The table with its one column of OD or Material as both, where the other one is missing and
    most cells of it name both; each of them is then a part of the cell."""
    keys = [key for key in (OD, MATERIAL) if key in table.headers]
    if len(keys) != 1 or "grade" in table.headers:
        return table
    head = table.headers[keys[0]]
    filled = [value for row in table.rows() if (value := row.values.get(keys[0])) is not None]
    found = {
        value: parts
        for value in filled
        if (parts := _parts(value, head.unit, "wall" in table.headers, house)) is not None
    }
    if 2 * sum(value in found for value in filled) <= len(filled):
        return table
    first = next(iter(found.values()))
    report.note(
        f"column {letters(head.index)}, “{head.text}”, names OD and Material: “{first[0]}” and "
        f"“{first[1]}” and so on",
        Place(table.grid.name),
    )
    both = {
        key: (replace(head, column=table.spec.column(key)), {v: p[n] for v, p in found.items()})
        for n, key in enumerate((OD, MATERIAL))
    }
    return replace(
        table,
        headers={**table.headers, **{key: header for key, (header, _) in both.items()}},
        parts={key: parts for key, (_, parts) in both.items()},
    )


def size_alone(value: Value, unit: str, material: MaterialReading, house: Habits) -> str | None:
    """The size in a cell that says the row's own material, too; None for any other cell."""
    parts = _parts(value, unit, has_wall=True, house=house) if isinstance(value, str) else None
    if parts is None:
        return None
    size, words = parts
    said = read_material(words)
    alike = said.family == material.family and said.grade in {material.grade, said.family.value}
    return size if alike else None


def _parts(value: Value, unit: str, has_wall: bool, house: Habits) -> tuple[str, str] | None:
    """Size and material in a cell's text, with as much as there is of the size, and its wall
    unless that has a column; None if the text does not name both."""
    found: list[tuple[bool, int, str, str]] = []
    for size, material in _splits(cells.text(value)):
        try:
            reading = cells.od(size, unit, house.unit)
            read_material(material)
        except InputError:
            continue
        found.append((reading.wall_nm is not None, len(size), size, material))
    names_wall, _, *parts = max(found, default=(False, 0, "", ""))
    return (parts[0], parts[1]) if found and (names_wall or has_wall) else None


def _splits(text: str) -> Iterator[tuple[str, str]]:
    """All ways to cut a text between words, as size and material, whichever comes first."""
    gaps = [(gap.start(), gap.end()) for gap in _BETWEEN.finditer(text.strip())]
    for end, begin in gaps:
        first, last = text.strip()[:end], text.strip()[begin:]
        yield from ((first, last), (last, first))
