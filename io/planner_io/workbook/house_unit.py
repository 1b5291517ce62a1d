"""The unit of bare numbers in a workbook that has no setting for it."""

from __future__ import annotations

import re
from collections.abc import Sequence

from planner.units import Unit
from planner_io.workbook import cells
from planner_io.workbook.columns import Column, Kind, SheetSpec
from planner_io.workbook.grid import Grid, Value
from planner_io.workbook.headers import METRIC
from planner_io.workbook.names import listed, plain_name
from planner_io.workbook.pipe_columns import DN_TITLES, PIPE_TITLES
from planner_io.workbook.report import Place, Report
from planner_io.workbook.settings import HOUSE, SETTINGS_OF
from planner_io.workbook.shop import tables_of
from planner_io.workbook.shop_sheets import CHANGEOVERS, SETTINGS, SHOP_SHEETS
from planner_io.workbook.table import Table
from planner_io.workbook.tooling_sheets import MOUNTED

SIZES = ("od", "wall", "length")
LARGEST_OD_IN = 6.7
"""No pipe or tube that a shop finishes by the belt is larger, in inches; NPS 6 is the largest."""
MANY = 3
"""So many ODs too large for inches, and more, are in millimetres beside one that is in inches."""
_OD_KEYS = ("od_nm", "od_max_nm")
"""Columns of the shop's sheets that hold an OD of tube, or the largest one."""
_UNIT = frozenset(
    name for column in SETTINGS_OF[HOUSE] if column.key == "unit" for name in column.plain_names
)
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
    or sizes without a unit that may be inches; else inches, which is an error where ODs are too
    large for them."""
    tables = [*orders, *stock]
    if not orders or not all(map(_is_metric, tables)):
        return "inch"
    by_values = any(not table.headers["od"].unit for table in tables)
    settings = tables_of(files, SETTINGS, Report())
    if settings:
        if by_values and not _says_unit(settings):
            _ask("the sheet Settings says no Unit: add a row Unit there, with mm", report)
        return "inch"
    if open_ := _may_be_inches(files):
        if by_values:
            _ask(
                f"sizes in {listed(open_)} have no unit: add a sheet Settings with the columns "
                "Setting and Value and a row Unit, mm; or write units into the headers there",
                report,
            )
        return "inch"
    because = "as the ODs would be too large in inches" if by_values else "as the headers are"
    report.note(f"sizes in mm, {because}: no Settings say another Unit")
    _doubt_inches(tables, report)
    return "mm"


def _ask(what: str, report: Report) -> None:
    report.error(
        Place(SETTINGS.title),
        f"the ODs of the orders would be too large in inches, but {what}",
        expected="the setting Unit",
    )


def _says_unit(settings: Sequence[Table]) -> bool:
    said = (row.values.get("setting") for table in settings for row in table.rows())
    return any(each is not None and plain_name(cells.text(each)) in _UNIT for each in said)


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


def _may_be_inches(files: Sequence[Sequence[Grid]]) -> list[str]:
    """The shop's own sheets with sizes without a unit, but for those with an OD that is too large
    for inches throughout."""
    unheard = Report()
    return [
        table.grid.name
        for spec in SHOP_SHEETS
        for table in tables_of(files, spec, unheard)
        if any(_has_bare(table, column) for column in spec.columns if _holds_sizes(spec, column))
        and not any(_bare_ods_in_mm(table, key) for key in _OD_KEYS)
    ]


def _bare_ods_in_mm(table: Table, key: str) -> bool:
    """Whether a column of largest ODs has bare numbers alone, all too large for inches."""
    header = table.headers.get(key)
    if header is None or header.unit:
        return False
    texts = [cells.text(value) for row in table.rows() if (value := row.values.get(key))]
    return bool(texts) and all(
        _BARE.fullmatch(text) and float(text.replace(",", ".")) > LARGEST_OD_IN for text in texts
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
