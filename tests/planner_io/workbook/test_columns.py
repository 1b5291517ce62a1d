"""Sheets and columns cover the models, and no name means two things."""

from __future__ import annotations

from collections import Counter

import pytest
from pydantic import BaseModel

from planner import shop
from planner.stock import StockItem
from planner_io.workbook.bends_sheet import BENDS
from planner_io.workbook.columns import Column, SheetSpec
from planner_io.workbook.headers import split_unit
from planner_io.workbook.kinds import PARSERS
from planner_io.workbook.names import plain_name
from planner_io.workbook.orders_sheet import ORDERS
from planner_io.workbook.settings import DATE_ORDER, HOUSE, SETTINGS_OF
from planner_io.workbook.shop_sheets import (
    CHANGEOVERS,
    HOURS,
    PEOPLE,
    SHOP_SHEETS,
    STATIONS,
)
from planner_io.workbook.stock_sheet import STOCK
from planner_io.workbook.tooling_sheets import BELTS, MOUNTED, RAILS, TOOLING, WHEELS

SHEETS = (ORDERS, BENDS, STOCK, *SHOP_SHEETS)
SHARED = {"passe", "reqd", "req d", "r", "stick"}
"""Names that several columns share on purpose: one column of passes serves all surfaces, what is
required is pieces or a day, whichever has no other column, R is the
radius or the rotation, and a stick is a length or sticks are a count."""


def keys(columns: tuple[Column, ...]) -> set[str]:
    return {column.key for column in columns}


@pytest.mark.parametrize(
    ("where", "model"),
    [
        (HOUSE, shop.House),
        ("finisher", shop.FinisherSettings),
        ("saw", shop.SawSettings),
        ("notcher", shop.NotcherSettings),
        ("bender", shop.BenderSettings),
    ],
)
def test_every_setting_of_the_models_can_be_set(where: str, model: type[BaseModel]) -> None:
    assert keys(SETTINGS_OF[where]) - {DATE_ORDER} == set(model.model_fields)


@pytest.mark.parametrize(
    ("spec", "model", "elsewhere"),
    [
        # the pace comes from the confidence that a plan aims at, never from a sheet
        (STATIONS, shop.Station, {"finisher", "saw", "notcher", "bender", "pace"}),
        (HOURS, shop.HoursRow, {"weekday"}),
        (PEOPLE, shop.Person, set[str]()),
        (CHANGEOVERS, shop.ChangeoverRow, set[str]()),
        (BELTS, shop.Belt, set[str]()),
        (RAILS, shop.Rail, set[str]()),
        (TOOLING, shop.Tool, set[str]()),
        (WHEELS, shop.Wheels, set[str]()),
        (MOUNTED, shop.Mounted, set[str]()),
    ],
)
def test_every_field_of_the_shop_has_its_column(
    spec: SheetSpec, model: type[BaseModel], elsewhere: set[str]
) -> None:
    assert keys(spec.columns) | elsewhere == set(model.model_fields)


def test_every_field_of_stock_has_its_column() -> None:
    fields = set(StockItem.model_fields) - {"spec", "oiled", "length_nm", "price_cents"}
    assert fields <= keys(STOCK.columns)


@pytest.mark.parametrize("spec", SHEETS, ids=lambda spec: spec.title)
def test_no_header_means_two_columns(spec: SheetSpec) -> None:
    names = Counter(name for column in spec.columns for name in set(column.plain_names))
    assert {name for name, count in names.items() if count > 1} <= SHARED


def test_no_sheet_name_means_two_sheets() -> None:
    names = Counter(name for spec in SHEETS for name in set(spec.plain_names))
    assert [name for name, count in names.items() if count > 1] == []


@pytest.mark.parametrize("where", SETTINGS_OF)
def test_no_setting_has_the_name_of_another(where: str) -> None:
    names = Counter(name for column in SETTINGS_OF[where] for name in set(column.plain_names))
    assert [name for name, count in names.items() if count > 1] == []


@pytest.mark.parametrize("spec", SHEETS, ids=lambda spec: spec.title)
def test_a_title_survives_the_search_for_units(spec: SheetSpec) -> None:
    for column in spec.columns:
        for name in (column.title, *column.names.split(",")):
            short, unit = split_unit(name.strip())
            assert plain_name(name) in column.plain_names or unit == "", (name, short)


def test_every_kind_of_the_shop_sheets_has_a_parser() -> None:
    kinds = {column.kind for spec in SHOP_SHEETS for column in spec.columns}
    assert kinds <= set(PARSERS)
