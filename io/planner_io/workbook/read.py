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
from planner_io.workbook.day_sheets import day_sheets
from planner_io.workbook.fitted import fitted
from planner_io.workbook.grid import Grid
from planner_io.workbook.house_unit import house_unit
from planner_io.workbook.load import load_grids
from planner_io.workbook.names import listed, plain_name
from planner_io.workbook.orders import Trade, read_orders
from planner_io.workbook.orders_sheet import ORDERS
from planner_io.workbook.owners import tell_unused
from planner_io.workbook.report import NOT_USED, Place, Report
from planner_io.workbook.shop import ShopReading, read_shop, tables_of
from planner_io.workbook.shop_sheets import SHOP_SHEETS
from planner_io.workbook.stock import read_stock
from planner_io.workbook.stock_sheet import STOCK
from planner_io.workbook.table import Table, find_sheet, find_table, fits, has_needed, named_columns

LEAST_LIKE_ORDERS = 4
"""Columns of Orders that a sheet of another name must have to be taken for it."""
SAY_LITTLE = frozenset(
    ("sheet", "list", "table", "tab", "page", "data", "shop", "our", "my", "current", "new", "the")
)
"""Words of a sheet's name that say nothing of what it holds."""


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
    ordered = _orders_tables(grids, Report())
    unit = house_unit(files, ordered, tables_of(files, STOCK, Report()), report)
    shop = read_shop(files, report, start, unit, ordered, today)
    stock = _stock(files, shop, report)
    orders = _orders(grids, shop, stock, issued or {}, report)
    _tell_unused(grids, ordered, elsewhere, report)
    tell_unused(stock, orders, report)
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
    tables = _orders_tables(grids, report)
    return read_orders(tables, Trade(shop.shop, stock, parts, shop.house, issued), report)


def _orders_tables(grids: Sequence[Grid], report: Report) -> list[Table]:
    """The Orders sheet, the sheets that are called by days, or the one sheet that has its columns;
    a hidden one after visible ones."""
    named, _ = find_sheet(grids, ORDERS)
    days = day_sheets(grids)
    if named is None and days:
        report.note(f"sheets read as Orders: {listed(grid.name for grid in days)}")
        found = days
    else:
        one = _orders_sheet(grids, report)
        found = [one] if one else []
    return [table for grid in found if (table := find_table(grid, ORDERS, report))]


def _orders_sheet(grids: Sequence[Grid], report: Report) -> Grid | None:
    grid, guessed = find_sheet(grids, ORDERS)
    if grid is None or not grid.visible:
        others = _other_sheets(grids)
        alike = _most_alike(
            [each for each in grids if each.name not in others and (each.visible or grid is None)]
        )
        grid, guessed = (alike, True) if alike else (grid, guessed)
        if grid is None:
            names = listed(each.name for each in grids) or "none"
            report.error(
                Place("Orders"),
                f"there is no sheet Orders; name the sheet with the orders so (sheets: {names})",
                read=names,
                expected="a sheet called Orders",
            )
            return None
    if guessed:
        report.note(f"sheet “{grid.name}” read as Orders")
    return grid


def _most_alike(grids: Sequence[Grid]) -> Grid | None:
    best = max(grids, key=lambda each: fits(each, ORDERS), default=None)
    return best if best and fits(best, ORDERS) >= LEAST_LIKE_ORDERS else None


def _tell_unused(
    grids: Sequence[Grid], tables: Sequence[Table], elsewhere: Sequence[SheetSpec], report: Report
) -> None:
    orders = [table.grid for table in tables]
    if not orders:
        return
    read = [grid.name for grid in orders]
    used = {*read, *_other_sheets(grids, elsewhere)}
    others = [grid for grid in grids if grid.name not in used and grid.rows]
    alike = [grid for grid in others if grid.visible and has_needed(grid, ORDERS)]
    sticks = [] if find_sheet(grids, STOCK)[0] else [g for g in others if _like_stock(g, alike)]
    called = {
        grid.name: title
        for grid in others
        if grid not in (*alike, *sticks) and grid.visible and (title := _called_like(grid, grids))
    }
    parts = [g for g in others if g not in (*alike, *sticks) and _has_orders(g)]
    rest = [g.name for g in others if g not in (*alike, *sticks, *parts) and g.name not in called]
    for grid in parts:
        report.warn(
            Place(grid.name, "A1"),
            "this sheet has columns of order lines, but not all that they need, and is not read: "
            f"put its rows under those of {listed(read)}, or delete what is not wanted",
        )
    for grid in sticks:
        report.warn(
            Place(grid.name, "A1"),
            "this sheet has the columns of Stock, but is not read, as it is not called so: call it "
            "Stock if its sticks may be used, or delete it",
        )
    for name, title in called.items():
        report.warn(
            Place(name, "A1"),
            f"this sheet may be {title}, but is not read, as it is not called so: call it {title} "
            "and give it the columns of that, or delete it",
        )
    for grid in alike:
        words = (
            f"this sheet has the columns of order lines, too, but only {listed(read)} is read: put "
            "its rows under those, or delete what is not wanted"
        )
        if len(read) > 1 or find_sheet(grids, ORDERS)[0]:
            report.warn(Place(grid.name, "A1"), words)
        else:
            report.error(Place(grid.name, "A1"), f"{words}, or call the one that counts Orders")
    if rest:
        report.note(f"sheets {NOT_USED}: {listed(rest)}")


def _has_orders(grid: Grid) -> bool:
    """Whether a sheet counts pieces of tube for an order or a day."""
    named = named_columns(grid, ORDERS) if grid.visible else frozenset[str]()
    sized = {"od", "length"} & named
    return bool(
        sized
        and "quantity" in named
        and {"order", "due"} & named
        and len(named) >= LEAST_LIKE_ORDERS
    )


def _like_stock(grid: Grid, orders: Sequence[Grid]) -> bool:
    """Whether a sheet that is no list of orders could be Stock: it counts or places its sticks."""
    return grid.visible and grid not in orders and has_needed(grid, STOCK, ("count", "location"))


def _called_like(grid: Grid, grids: Sequence[Grid]) -> str:
    """The sheet that is missing and that a grid is called like, but for words such as `list`."""
    words = [word for word in plain_name(grid.name).split() if word not in SAY_LITTLE]
    like = (spec for spec in (BENDS, STOCK, *SHOP_SHEETS) if " ".join(words) in spec.plain_names)
    return next((spec.title for spec in like if find_sheet(grids, spec)[0] is None), "")


def _other_sheets(grids: Sequence[Grid], elsewhere: Sequence[SheetSpec] = ()) -> set[str]:
    """Names of the sheets that are read as something else than orders."""
    found = (find_sheet(grids, spec)[0] for spec in (BENDS, STOCK, *SHOP_SHEETS, *elsewhere))
    return {grid.name for grid in found if grid}
