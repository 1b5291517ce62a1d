"""The unit of bare numbers in a workbook that has no setting for it."""

from __future__ import annotations

import re
from collections.abc import Sequence

from planner.units import Unit
from planner_io.workbook import cells
from planner_io.workbook.columns import Column, Kind, SheetSpec
from planner_io.workbook.grid import Grid, Value
from planner_io.workbook.headers import METRIC
from planner_io.workbook.names import plain_name
from planner_io.workbook.pipe_columns import DN_TITLES, PIPE_TITLES
from planner_io.workbook.report import Report
from planner_io.workbook.shop import tables_of
from planner_io.workbook.shop_sheets import CHANGEOVERS, SETTINGS, SHOP_SHEETS
from planner_io.workbook.table import Table
from planner_io.workbook.tooling_sheets import MOUNTED

SIZES = ("od", "wall", "length")
LARGEST_OD_IN = 6.7
"""No pipe or tube that a shop finishes by the belt is larger, in inches; NPS 6 is the largest."""
MANY = 3
"""So many ODs too large for inches, and more, are in millimetres beside one that is in inches."""
_SHOP_SIZES = frozenset({Kind.LENGTH, Kind.ALLOWANCE, Kind.OFFSET, Kind.OD, Kind.WALL})
_BARE = re.compile(r"[0-9]+(?:[.,][0-9]+)?")
_BARE_OD = re.compile(r"[øØ⌀]? ?([0-9]{1,3}(?:[.,][0-9]{1,3})?)(?: ?[x×*].*| ?chs)?", re.IGNORECASE)
_NOMINAL = re.compile(
    r"\b(?:nps|ips|pipe|sch[a-z]*\.? ?[0-9]+s?|nb|dn)\b|\bdn ?[0-9]", re.IGNORECASE
)
_INCHES = re.compile(r"[\"/']|\bin\b", re.IGNORECASE)


def house_unit(
    files: Sequence[Sequence[Grid]], orders: Sequence[Table], stock: Sequence[Table], report: Report
) -> Unit:
    """Millimetres where OD has a metric header in Orders and in any Stock, or is too large for
    inches throughout, no other size has a header in inches, and no sheet of the shop has Settings
    or sizes without a unit; else inches."""
    tables = [*orders, *stock]
    if not orders or not all(map(_is_metric, tables)) or not _names_its_units(files):
        return "inch"
    named = any("od" in table.headers and table.headers["od"].unit for table in tables)
    because = "as the headers are" if named else "as the ODs would be too large in inches"
    report.note(f"sizes in mm, {because}: no Settings say another Unit")
    _doubt_inches(tables, report)
    return "mm"


def _doubt_inches(tables: Sequence[Table], report: Report) -> None:
    """Warn of bare sizes beside an OD in inches, which are read in millimetres as all others."""
    rows = [row for table in tables for row in table.rows()]
    for row in rows:
        od, *others = (row.values.get(key) for key in SIZES)
        if od is not None and _in_inches(cells.text(od)) and any(map(_is_bare, others)):
            report.warn(
                row.place("od"),
                "it is in inches, but bare numbers beside it are read in mm, as in the other rows; "
                "write their unit",
                cells.text(od),
            )


def _in_inches(text: str) -> bool:
    return bool(_INCHES.search(text)) and not _NOMINAL.search(text)


def _names_its_units(files: Sequence[Sequence[Grid]]) -> bool:
    """Whether the shop's own sheets are read alike in inches and in millimetres."""
    unheard = Report()
    if tables_of(files, SETTINGS, unheard):
        return False
    return not any(
        _has_bare(table, column)
        for spec in SHOP_SHEETS
        for table in tables_of(files, spec, unheard)
        for column in spec.columns
        if _holds_sizes(spec, column)
    )


def _holds_sizes(spec: SheetSpec, column: Column) -> bool:
    """Whether a column may hold a size; what is mounted is one where it is an OD."""
    return column.kind in _SHOP_SIZES or (
        spec in (MOUNTED, CHANGEOVERS) and column.kind == Kind.TEXT
    )


def _has_bare(table: Table, column: Column) -> bool:
    header = table.headers.get(column.key)
    if header is None or header.unit:
        return False
    return any(_is_bare(row.values.get(column.key)) for row in table.rows())


def _is_bare(value: Value | None) -> bool:
    return value is not None and bool(_BARE.fullmatch(cells.text(value)))


def _is_metric(table: Table) -> bool:
    units = {key: table.headers[key].unit for key in SIZES if key in table.headers}
    od = units.pop("od", "")
    by_values = not od and "od" in table.headers and _ods_in_mm(table)
    return (od in METRIC or by_values) and set(units.values()) <= METRIC | {""}


def _ods_in_mm(table: Table) -> bool:
    """Whether the ODs are bare numbers that are all too large for inches, pipe sizes apart, and
    few are said to be in inches."""
    title = plain_name(table.headers["od"].text)
    if title in DN_TITLES:
        return False
    texts = [cells.text(value) for row in table.rows() if (value := row.values.get("od"))]
    written = [text for text in texts if not _NOMINAL.search(text)]
    ods = [
        float(match[1].replace(",", ".")) for text in written if (match := _BARE_OD.fullmatch(text))
    ]
    if title in PIPE_TITLES:
        ods = [od for od in ods if od > LARGEST_OD_IN]
    others = sum(map(_in_inches, written))
    return len(ods) > MANY * others and all(od > LARGEST_OD_IN for od in ods)
