"""Which sheets of a workbook are its orders, and what those may be that nobody reads."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from planner_io.workbook.bends_sheet import BENDS
from planner_io.workbook.columns import SheetSpec
from planner_io.workbook.day_sheets import day_sheets
from planner_io.workbook.find import find_sheet, find_table, fits, has_needed, named_columns
from planner_io.workbook.grid import Grid
from planner_io.workbook.names import listed, plain_name
from planner_io.workbook.orders_sheet import ORDERS
from planner_io.workbook.report import NOT_USED, Place, Report
from planner_io.workbook.shop_sheets import SHOP_SHEETS
from planner_io.workbook.stock_sheet import STOCK
from planner_io.workbook.table import Table

LEAST_LIKE_ORDERS = 4
"""Columns of Orders that a sheet of another name must have to be taken for it."""
SAY_LITTLE = frozenset(
    ("sheet", "list", "table", "tab", "page", "data", "shop", "our", "my", "current", "new", "the")
)
"""Words of a sheet's name that say nothing of what it holds."""


def orders_tables(grids: Sequence[Grid], report: Report) -> list[Table]:
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


def tell_unread_sheets(
    grids: Sequence[Grid], tables: Sequence[Table], elsewhere: Sequence[SheetSpec], report: Report
) -> None:
    """Tell of sheets that hold something and are neither read as orders, in `tables`, nor as
    anything else, here or `elsewhere`: what each of them may be that is missed."""
    read = [table.grid.name for table in tables]
    if not read:
        return
    used = {*read, *_other_sheets(grids, elsewhere)}
    unread = [grid for grid in grids if grid.name not in used and grid.rows]
    alike = [grid for grid in unread if grid.visible and has_needed(grid, ORDERS)]
    missed = {g.name: tuple(_may_be(g, grids, read)) for g in unread if g not in alike}
    for name, doubts in missed.items():
        for words in doubts:
            report.warn(Place(name, "A1"), words)
    _tell_more_orders(grids, alike, read, report)
    rest = [name for name, doubts in missed.items() if not doubts]
    if rest:
        report.note(f"sheets {NOT_USED}: {listed(rest)}")


def _tell_more_orders(
    grids: Sequence[Grid], alike: Sequence[Grid], read: Sequence[str], report: Report
) -> None:
    """Which list of orders is meant is open where none has a name that says so."""
    clear = len(read) > 1 or find_sheet(grids, ORDERS)[0] is not None
    words = (
        f"this sheet has the columns of order lines, too, but only {listed(read)} is read: put its "
        "rows under those, or delete what is not wanted"
    )
    for grid in alike:
        place = Place(grid.name, "A1")
        if clear:
            report.warn(place, words)
        else:
            report.error(place, f"{words}, or call the one that counts Orders")


def _may_be(grid: Grid, grids: Sequence[Grid], read: Sequence[str]) -> Iterator[str]:
    """What a sheet that can be seen may be, and what to do then."""
    if not grid.visible:
        return
    if _like_stock(grid, grids):
        yield (
            "this sheet has the columns of Stock, but is not read, as it is not called so: call it "
            "Stock if its sticks may be used, or delete it"
        )
        return
    if _like_some_orders(grid):
        yield (
            "this sheet has columns of order lines, but not all that they need, and is not read: "
            f"put its rows under those of {listed(read)}, or delete what is not wanted"
        )
    if title := _called_like(grid, grids):
        yield (
            f"this sheet may be {title}, but is not read, as it is not called so: call it {title} "
            "and give it the columns of that, or delete it"
        )


def _like_some_orders(grid: Grid) -> bool:
    """Whether a sheet counts pieces of tube for an order or a day."""
    named = named_columns(grid, ORDERS)
    sized = {"od", "length"} & named
    return bool(
        sized
        and "quantity" in named
        and {"order", "due"} & named
        and len(named) >= LEAST_LIKE_ORDERS
    )


def _like_stock(grid: Grid, grids: Sequence[Grid]) -> bool:
    """Whether a sheet could be the Stock that is missing: it counts or places its sticks."""
    return find_sheet(grids, STOCK)[0] is None and has_needed(grid, STOCK, ("count", "location"))


def _called_like(grid: Grid, grids: Sequence[Grid]) -> str:
    """The sheet that is missing and that a grid is called like, but for words such as `list`."""
    words = [word for word in plain_name(grid.name).split() if word not in SAY_LITTLE]
    like = (spec for spec in (BENDS, STOCK, *SHOP_SHEETS) if " ".join(words) in spec.plain_names)
    return next((spec.title for spec in like if find_sheet(grids, spec)[0] is None), "")


def _other_sheets(grids: Sequence[Grid], elsewhere: Sequence[SheetSpec] = ()) -> set[str]:
    """Names of the sheets that are read as something else than orders."""
    found = (find_sheet(grids, spec)[0] for spec in (BENDS, STOCK, *SHOP_SHEETS, *elsewhere))
    return {grid.name for grid in found if grid}
