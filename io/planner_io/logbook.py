"""Read a log of finisher runs: good rows become `LoggedRun`s, wrong ones are named by cell."""

from __future__ import annotations

import datetime as dt
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from pathlib import Path

from planner.errors import Finding, input_error
from planner.finisher.observations import LoggedRun, LoggedSetup, wrong_fields
from planner.shop import Shop, StationKind
from planner.tube import Family
from planner.units.reading import refuse
from planner_io.logbook_sheet import LOG, SETUP_COLUMNS
from planner_io.workbook import cells, dates
from planner_io.workbook.cells import Parsed
from planner_io.workbook.examples import is_example
from planner_io.workbook.find import find_table, fits
from planner_io.workbook.grid import Value
from planner_io.workbook.load import load_grids
from planner_io.workbook.materials import read_family
from planner_io.workbook.names import find_name, listed, plain_name
from planner_io.workbook.report import Report
from planner_io.workbook.rows import Habits, RowReader
from planner_io.workbook.shop import read_shop, tables_of
from planner_io.workbook.table import Row, Table
from planner_io.workbook.table_told import missing_columns

FIELDS = {"od": "od", "day": "day"} | {
    f"{what.value} minutes": key for key, what in SETUP_COLUMNS.items()
}
"""Columns of the fields that `wrong_fields` names, where they are called otherwise."""
LEAST_LIKE_LOG = 5
"""Columns by which a sheet that is not called Log is taken for one."""


@dataclass(frozen=True)
class LogReading:
    """What a log holds."""

    runs: tuple[LoggedRun, ...]
    shop: Shop
    findings: tuple[Finding, ...]
    """Rows that were refused, by cell."""
    readings: tuple[str, ...]


def read_log(path: Path, shop_path: Path | None = None, today: dt.date | None = None) -> LogReading:
    """Read the Log sheet of a workbook, or the one sheet that looks like it.

    The shop comes from the same workbook or from a file of its own. Problems of cells become
    findings; InputError is raised only when there is no log at all. A day after `today` is
    refused.
    """
    report = Report()
    grids = load_grids(path)
    shop = read_shop([grids, load_grids(shop_path)] if shop_path else [grids], report, today=today)
    tables = tables_of([grids], LOG, report)
    if not tables:
        grid = max(grids, key=lambda each: fits(each, LOG), default=None)
        table = (
            find_table(grid, LOG, report) if grid and fits(grid, LOG) >= LEAST_LIKE_LOG else None
        )
        if table is None:
            raise input_error(
                f"{path}: there is no sheet Log (sheets: {listed(each.name for each in grids)}); "
                "name the sheet with the runs so."
            )
        tables = [table]
    runs = tuple(_runs(tables[0], shop.shop, shop.house, report, today))
    return LogReading(runs, shop.shop, tuple(report.findings), report.readings)


def _runs(
    table: Table, shop: Shop, house: Habits, report: Report, today: dt.date | None
) -> Iterator[LoggedRun]:
    if missing_columns(table, report):
        return
    house = replace(house, dates=replace(house.dates, epoch=table.grid.epoch))
    for row in table.rows():
        if is_example(row):
            report.note("the example row is left out", row.start)
            continue
        run = _run(RowReader(row, report, house), shop)
        if run and _is_sound(run, row, shop, report, today):
            yield run


def _run(reader: RowReader, shop: Shop) -> LoggedRun | None:
    od_nm = reader.take("od", lambda value: _od(value, reader), 0)
    run = LoggedRun(
        row=reader.row.number,
        day=reader.take("day", lambda value: dates.day(value, reader.house.dates), dt.date.min),
        station=_station(reader, shop),
        belt=reader.take("belt", lambda value: _named(value, _belt_names(shop), "belt"), ""),
        family=reader.take("family", lambda value: Parsed(read_family(value)), Family.CARBON),
        od_nm=od_nm,
        length_nm=reader.length("length"),
        count=reader.whole("count", 0, 1, 100_000, "a number of pieces"),
        tilt_mdeg=reader.take("tilt", cells.angle, 0),
        minutes=_took(reader),
        wall_nm=reader.take("wall", lambda value: _wall(value, reader, od_nm), None),
        who=reader.text("who"),
        spring=reader.text("spring"),
        setups=tuple(_setups(reader)),
        timed=reader.take("timed", cells.yes_no, fallback=False),
    )
    return None if reader.failed else run


def _od(value: Value, reader: RowReader) -> Parsed[int]:
    found = cells.od(value, reader.unit("od"), reader.house.unit)
    return Parsed(found.nm, found.note)


def _wall(value: Value, reader: RowReader, od_nm: int) -> Parsed[int | None]:
    found = cells.wall(value, reader.unit("wall"), reader.house.unit, od_nm or None)
    return Parsed(found.nm, found.note)


def _took(reader: RowReader) -> float:
    """How long a run took: as it is written, or from its start to its end on one day."""
    if reader.raw("minutes") is not None or not {"begun", "ended"} & reader.row.values.keys():
        return _minutes(reader, "minutes")
    at = {key: reader.take(key, cells.clock, -1) for key in ("begun", "ended")}
    for key in at:
        if reader.raw(key) is None:
            reader.fail(key, "nothing is written here, and no Minutes; write one of them")
    if min(at.values()) >= 0 and at["ended"] <= at["begun"]:
        why = "it is not after the start; correct it, or write Minutes for a run past midnight"
        reader.fail("ended", why)
    return at["ended"] - at["begun"]


def _minutes(reader: RowReader, key: str) -> float:
    return reader.take(key, lambda value: cells.seconds(value, reader.unit(key)), 0) / 60


def _setups(reader: RowReader) -> Iterator[LoggedSetup]:
    for key, what in SETUP_COLUMNS.items():
        minutes = _minutes(reader, key)
        if minutes:
            yield LoggedSetup(what, minutes)


def _belt_names(shop: Shop) -> Sequence[str]:
    return [belt.name for belt in shop.belts]


def _station(reader: RowReader, shop: Shop) -> str:
    names = [station.name for station in shop.of_kind(StationKind.FINISHER)]
    if reader.raw("station") is None and len(names) == 1:
        return names[0]
    if reader.raw("station") is None:
        reader.fail("station", f"nothing is written here, expected one of {listed(names)}")
    return reader.take("station", lambda value: _named(value, names, "finisher"), "")


def _named(value: Value, names: Sequence[str], what: str) -> Parsed[str]:
    name = cells.text(value)
    match = find_name(name, {plain_name(each): each for each in names})
    if match is None:
        raise refuse(name, f"a {what} of the shop: {listed(names)}")
    return Parsed(match.value, f"“{name}” read as {match.value}" if match.guessed else "")


def _is_sound(run: LoggedRun, row: Row, shop: Shop, report: Report, today: dt.date | None) -> bool:
    found = wrong_fields(shop, run, today)
    for wrong in found:
        place = row.place(FIELDS.get(wrong.field, wrong.field))
        report.error(
            place,
            f"read {wrong.read}, expected {wrong.expected}; correct it or delete the row",
            wrong.read,
            wrong.expected,
        )
    return not found
