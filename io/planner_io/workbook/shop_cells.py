"""A shop and its stock as the cells of their sheets, so that reading them gives the same again."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence

from pydantic import BaseModel

from planner.shop import HoursRow, Recipe, Shop, Station, What
from planner.stock import StockItem
from planner.tube import Surface
from planner.units import Unit
from planner_io.workbook.columns import Column, SheetSpec
from planner_io.workbook.settings import HOUSE, SETTINGS_OF, SIDE
from planner_io.workbook.shop_rows import WEEKDAYS
from planner_io.workbook.shop_sheets import (
    CHANGEOVERS,
    HOURS,
    PEOPLE,
    SETTINGS,
    STATIONS,
)
from planner_io.workbook.show import Shown, show, show_length
from planner_io.workbook.stock_sheet import STOCK
from planner_io.workbook.tooling_sheets import BELTS, MOUNTED, RAILS, RECIPES, TOOLING, WHEELS

Cells = Mapping[str, Shown]
"""One row: what is written, by column key."""


def shop_cells(shop: Shop) -> dict[str, list[Cells]]:
    """The rows of every shop sheet by its title."""
    unit = shop.house.unit
    return {
        SETTINGS.title: list(_settings(shop, unit)),
        STATIONS.title: [_station(station, unit) for station in shop.stations],
        HOURS.title: list(_hours(shop.hours)),
        PEOPLE.title: _plain(PEOPLE, shop.people, unit),
        CHANGEOVERS.title: [
            {**row, **_state(row, ("before", "after"), unit)}
            for row in _plain(CHANGEOVERS, shop.changeovers, unit)
        ],
        BELTS.title: _plain(BELTS, shop.belts, unit),
        RECIPES.title: [row for recipe in shop.recipes for row in _recipe(recipe, unit)],
        RAILS.title: _plain(RAILS, shop.rails, unit),
        TOOLING.title: [
            {key: cell for key, cell in row.items() if key != "clr_nm" or row["kind"] == "die"}
            for row in _plain(TOOLING, shop.tools, unit)
        ],
        WHEELS.title: _plain(WHEELS, shop.wheels, unit),
        MOUNTED.title: [
            {**row, **_state(row, ("value",), unit)} for row in _plain(MOUNTED, shop.mounted, unit)
        ],
    }


def stock_cells(stock: Iterable[StockItem], unit: Unit) -> list[Cells]:
    """The rows of a Stock sheet."""
    return [_stock(item, unit) for item in stock]


def _stock(item: StockItem, unit: Unit) -> Cells:
    fields: dict[str, object] = {
        **{column.key: getattr(item, column.key, None) for column in STOCK.columns},
        "material": item.spec.family.value,
        "grade": item.spec.grade,
        "od": item.spec.od_nm,
        "wall": item.spec.wall_nm,
        "surface": item.spec.surface.value,
        "length": item.length_nm,
        "price": item.price_cents,
        "remnant": item.remnant or None,
        "lead_days": item.lead_days or None,
    }
    return _shown(STOCK, fields, unit)


def _plain(spec: SheetSpec, records: Sequence[BaseModel], unit: Unit) -> list[Cells]:
    """Records whose fields are the keys of their sheet's columns."""
    return [
        _shown(spec, {column.key: getattr(record, column.key) for column in spec.columns}, unit)
        for record in records
    ]


def _station(station: Station, unit: Unit) -> Cells:
    """A station's row, blank where it takes every OD."""
    (cells,) = _plain(STATIONS, (station,), unit)
    usual = {key: Station.model_fields[key].default for key in ("od_min_nm", "od_max_nm")}
    every = {key for key, nm in usual.items() if getattr(station, key) == nm}
    return {key: cell for key, cell in cells.items() if key not in every}


def _shown(spec: SheetSpec, fields: Mapping[str, object], unit: Unit) -> Cells:
    shown = {c.key: show(fields[c.key], c, unit) for c in spec.columns if c.key in fields}
    return {key: value for key, value in shown.items() if value is not None}


def _state(row: Cells, keys: tuple[str, ...], unit: Unit) -> Cells:
    """An OD that is mounted is a number of nanometres inside, and a size in the sheet."""
    if row["what"] != What.OD.value:
        return {}
    return {key: show_length(int(str(row[key])), unit) for key in keys if key in row}


def _recipe(recipe: Recipe, unit: Unit) -> Iterator[Cells]:
    whole = {
        "families": recipe.families,
        "ra_low_uin": recipe.ra_low_uin,
        "ra_high_uin": recipe.ra_high_uin,
        "remark": recipe.remark,
    }
    for number, step in enumerate(recipe.steps):
        fields: dict[str, object] = {
            "name": recipe.name,
            "grade": step.grade,
            **{surface.value: step.passes.get(surface) for surface in Surface},
            "least_overlap": step.least_overlap,
            **(whole if number == 0 else {}),
        }
        yield _shown(RECIPES, fields, unit)


def _hours(rows: Sequence[HoursRow]) -> Iterator[Cells]:
    """A row for each set of hours that several weekdays share."""
    shared: dict[tuple[object, ...], list[HoursRow]] = {}
    for row in rows:
        key = (row.who, row.kind, row.start_min, row.end_min, row.day)
        shared.setdefault(key, []).append(row)
    for group in shared.values():
        first = group[0]
        fields: dict[str, object] = {
            **{column.key: getattr(first, column.key) for column in HOURS.columns},
            "day": first.day or _days([row.weekday or 0 for row in group]),
        }
        yield _shown(HOURS, fields, "inch")


def _days(weekdays: Sequence[int]) -> str:
    names = [WEEKDAYS[number][:3].title() for number in weekdays]
    run = list(weekdays) == list(range(weekdays[0], weekdays[0] + len(weekdays)))
    return f"{names[0]}-{names[-1]}" if run and len(names) > 2 else ", ".join(names)


def _settings(shop: Shop, unit: Unit) -> Iterator[Cells]:
    for column in SETTINGS_OF[HOUSE]:
        yield _setting(HOUSE, column, getattr(shop.house, column.key, None), unit)
    for station in shop.stations:
        yield from _of_station(station, shop, unit)


def _of_station(station: Station, shop: Shop, unit: Unit) -> Iterator[Cells]:
    for column in SETTINGS_OF.get(station.kind, ()):
        value = getattr(getattr(station, station.kind), column.key)
        yield _setting(station.name, column, value, unit)
    if station.name in shop.longest_of or station.kind in shop.longest_of:
        yield {"station": station.name, "setting": SIDE.title, "value": "yes"}


def _setting(where: str, column: Column, value: object, unit: Unit) -> Cells:
    shown = show(value, column, unit)
    row: dict[str, Shown] = {"station": where, "setting": column.title}
    return row if shown is None else {**row, "value": shown}
