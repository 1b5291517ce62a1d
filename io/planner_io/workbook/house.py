"""Apply the Settings sheets: the house's habits first, since all other cells are read by them."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date

from planner.shop import House, Station, StationKind
from planner_io.workbook.dates import Order
from planner_io.workbook.report import Report
from planner_io.workbook.rows import Habits
from planner_io.workbook.setting_rows import SettingRow, setting_rows
from planner_io.workbook.settings import DATE_ORDER, HOUSE, SIDE_BY_SIDE
from planner_io.workbook.table import Table

_HABITS = ("unit", DATE_ORDER, "start")
"""Settings that say how everything else is written."""


@dataclass(frozen=True)
class Settings:
    """What the Settings sheets say."""

    fields: Mapping[str, object]
    """Settings of the house, by field."""
    habits: Habits
    rows: tuple[SettingRow, ...]
    """Settings of stations, weakest first."""

    def house(self, base: House) -> House:
        """The house with what is set; the rest is as in `base`."""
        unit = {"unit": self.habits.unit}
        return House.model_validate({**base.model_dump(), **unit, **self.fields})


def read_settings(
    tables: Sequence[Table],
    stations: Mapping[str, StationKind],
    unwritten: Habits,
    report: Report,
) -> Settings:
    """The settings of several sheets, later ones over earlier ones; what bare numbers and dates
    mean is `unwritten` unless they say so."""
    rows = [row for table in tables for row in setting_rows(table, stations, report)]
    house_rows = [row for row in rows if row.where == HOUSE]
    fields: dict[str, object] = {}
    habits = unwritten
    for row in sorted(house_rows, key=lambda row: _rank(row.column.key)):
        value = row.read(habits)
        if value is not None:
            fields[row.column.key] = value
            habits = _with(habits, row.column.key, value)
    fields.pop(DATE_ORDER, None)
    return Settings(fields, habits, tuple(row for row in rows if row.where != HOUSE))


def _rank(key: str) -> int:
    return _HABITS.index(key) if key in _HABITS else len(_HABITS)


def _with(habits: Habits, key: str, value: object) -> Habits:
    dates = habits.dates
    if key == "unit":
        return Habits("mm" if value == "mm" else "inch", dates)
    if key == DATE_ORDER:
        return Habits(habits.unit, replace(dates, order=Order(value), why="by Date order"))
    if key == "start" and isinstance(value, date):
        return habits.planned_from(value)
    return habits


def with_settings(
    stations: Sequence[Station], settings: Settings
) -> tuple[tuple[Station, ...], tuple[str, ...]]:
    """The stations with their settings, and the stations whose changes are made side by side.

    A setting of a station by name is stronger than one of its kind.
    """
    values = [(row, row.read(settings.habits)) for row in settings.rows]
    side = [row.where for row, value in values if row.column.key == SIDE_BY_SIDE and value]
    rest = [(row, value) for row, value in values if row.column.key != SIDE_BY_SIDE]
    return (
        tuple(_station(station, rest) for station in stations),
        tuple(dict.fromkeys(side)),
    )


def _station(station: Station, values: Sequence[tuple[SettingRow, object]]) -> Station:
    kind = str(station.kind)
    if not hasattr(station, kind):
        return station
    chosen = {
        row.column.key: value
        for where in (kind, station.name)
        for row, value in values
        if row.where == where and value is not None
    }
    if not chosen:
        return station
    settings = {**station.model_dump()[kind], **chosen}
    return Station.model_validate({**station.model_dump(), kind: settings})
