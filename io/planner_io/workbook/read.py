"""Read a workbook: sheets found, shop, stock and orders built, everything wrong told at once."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import date
from pathlib import Path

from planner.errors import Finding
from planner.orders import OrderLine
from planner.shop import Shop
from planner.stock import StockItem
from planner_io.workbook.bends import read_bends
from planner_io.workbook.bends_sheet import BENDS
from planner_io.workbook.columns import SheetSpec
from planner_io.workbook.fitted import fitted
from planner_io.workbook.grid import Grid
from planner_io.workbook.house_unit import house_unit
from planner_io.workbook.load import load_grids
from planner_io.workbook.order_lines import Trade
from planner_io.workbook.orders import read_orders
from planner_io.workbook.owners import tell_idle_tube
from planner_io.workbook.report import Report
from planner_io.workbook.sheets import orders_tables, tell_unread_sheets
from planner_io.workbook.shop import ShopReading, read_shop, tables_of
from planner_io.workbook.stock import read_stock
from planner_io.workbook.stock_sheet import STOCK


@dataclass(frozen=True)
class Reading:
    """Everything that was read from a workbook."""

    orders: tuple[OrderLine, ...]
    stock: tuple[StockItem, ...]
    shop: Shop
    findings: tuple[Finding, ...]
    """What is wrong or doubtful, in the order in which it came up."""
    readings: tuple[str, ...]
    """How things were read that could have been meant otherwise."""
    start: date | None
    """First day of the plan, as asked for or as the workbook says; None if neither does."""


def read_workbook(
    path: Path,
    shop_path: Path | None = None,
    start: date | None = None,
    issued: Mapping[str, int] | None = None,
    elsewhere: Sequence[SheetSpec] = (),
    today: date | None = None,
) -> Reading:
    """Read orders, stock and shop from a workbook, and the shop from a file of its own if given.

    Sheets of the workbook come before those of the shop file, and the built-in starter shop
    fills in for sheets that neither has. `start` is the first day of the plan, if it is not to be
    the workbook's: dates that could be two, or lack a year, lie near it. Where there is none, dates
    that lack a year lie near `today`, the day of reading. `issued` are the pieces of
    the lines of the plan that is planned again, by key; None for a week that is new. Of sheets
    that are read `elsewhere` it is not told that they are not used.
    Problems of cells become findings; InputError is raised only when a file cannot be used at
    all.
    """
    report = Report()
    grids = load_grids(path)
    files = [grids, load_grids(shop_path)] if shop_path else [grids]
    # How the shop writes shows in its orders too, so their tables are found before the shop is
    # known; what there is to tell of them is told when they are read.
    ordered = orders_tables(grids, Report())
    unit = house_unit(files, ordered, tables_of(files, STOCK, Report()), report)
    shop = read_shop(files, report, start, unit, ordered, today)
    stock = _stock(files, shop, report)
    orders = _orders(grids, shop, stock, issued or {}, report)
    tell_unread_sheets(grids, ordered, elsewhere, report)
    tell_idle_tube(stock, orders, report)
    orders, fitted_shop = fitted(orders, shop.shop, report)
    return Reading(
        orders=orders,
        stock=stock,
        shop=fitted_shop,
        findings=tuple(report.findings),
        readings=report.readings,
        start=shop.house.dates.start,
    )


def _stock(
    files: Sequence[Sequence[Grid]], shop: ShopReading, report: Report
) -> tuple[StockItem, ...]:
    tables = tables_of(files, STOCK, report)
    if tables:
        return read_stock(tables[0], shop.shop.recipes, shop.house, report)
    report.note("no sheet Stock: the starter shop's stock is taken")
    recipes = {recipe.name for recipe in shop.shop.recipes}
    return tuple(
        item for item in shop.starter.stock if item.finished is None or item.finished in recipes
    )


def _orders(
    grids: Sequence[Grid],
    shop: ShopReading,
    stock: tuple[StockItem, ...],
    issued: Mapping[str, int],
    report: Report,
) -> tuple[OrderLine, ...]:
    bends = tables_of([grids], BENDS, report)
    parts = read_bends(bends[0] if bends else None, shop.house, report)
    tables = orders_tables(grids, report)
    return read_orders(tables, Trade(shop.shop, stock, parts, shop.house, issued), report)
