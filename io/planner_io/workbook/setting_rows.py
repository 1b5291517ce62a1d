"""The rows of the Settings sheet, each with the setting that it means."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from planner.shop import StationKind
from planner_io.workbook.cells import Parsed
from planner_io.workbook.columns import Column
from planner_io.workbook.grid import Value
from planner_io.workbook.kinds import PARSERS
from planner_io.workbook.names import find_name, listed, plain_name
from planner_io.workbook.report import Report
from planner_io.workbook.rows import Habits, RowReader
from planner_io.workbook.settings import HOUSE, SETTINGS_OF, SIDE
from planner_io.workbook.table import Table
from planner_io.workbook.table_told import missing_columns


@dataclass(frozen=True)
class SettingRow:
    """One value that was set: for `where` (House, a kind or a station's name)."""

    where: str
    column: Column
    reader: RowReader
    value: Value

    def read(self, house: Habits) -> object:
        """The value as the setting's kind; None when it cannot be read, which is reported."""
        column = self.column

        def parse(value: Value) -> Parsed[object]:
            return PARSERS[column.kind](value, "", house, column)

        return self.reader.take("value", parse, None)


def setting_rows(
    table: Table, stations: Mapping[str, StationKind], report: Report
) -> Iterator[SettingRow]:
    """The rows of a Settings sheet, each with the setting that it means.

    `stations` gives the kind of each station by name.
    """
    if missing_columns(table, report):
        return
    for row in table.rows():
        reader = RowReader(row, report, Habits())
        where = _where(reader, stations)
        column = _setting(reader, where, stations) if where else None
        value = reader.raw("value")
        if value is None:
            continue
        if where and column and not reader.failed:
            yield SettingRow(where, column, reader, value)


def _where(reader: RowReader, stations: Mapping[str, StationKind]) -> str | None:
    text = reader.text("station")
    if not text:
        return _only_kind_with(reader) or HOUSE
    known = {
        **{plain_name(kind): str(kind) for kind in StationKind},
        **dict.fromkeys(("house", "shop", "all", "general", "plan"), HOUSE),
        **{plain_name(name): name for name in stations},
    }
    match = find_name(text, known)
    if match is None:
        names = listed((HOUSE, *stations, *StationKind), 20)
        reader.fail("station", f"no station is called so; write one of {names}", text, names)
        return None
    return match.value


def _only_kind_with(reader: RowReader) -> str | None:
    """The kind of station that alone has the setting of a row without a station, which is told."""
    text = reader.text("setting")
    with_it = [
        where for where, columns in SETTINGS_OF.items()
        if any(plain_name(text) in column.plain_names for column in columns)
    ]  # fmt: skip
    if len(with_it) != 1 or with_it[0] == HOUSE:
        return None
    reader.report.note(f"“{text}” read for each {with_it[0]}", reader.row.place("setting"))
    return with_it[0]


def _setting(reader: RowReader, where: str, stations: Mapping[str, StationKind]) -> Column | None:
    columns = settings_at(where, stations)
    known = {name: column for column in columns for name in column.plain_names}
    text = reader.text("setting")
    match = find_name(text, known) if text else None
    if match is None:
        if text:
            titles = listed((column.title for column in columns), 20)
            reader.fail("setting", f"{where} has no such setting; it has {titles}", text, titles)
        return None
    if match.guessed:
        reader.report.note(f"“{text}” read as {match.value.title}", reader.row.place("setting"))
    return match.value


def settings_at(where: str, stations: Mapping[str, StationKind]) -> tuple[Column, ...]:
    """The settings of the house, of a kind, or of a station by its name."""
    if where == HOUSE:
        return SETTINGS_OF[HOUSE]
    kind = str(stations.get(where, where))
    return (*SETTINGS_OF.get(kind, ()), SIDE)
