"""The template: a workbook to fill in, its shop sheets holding the starter shop."""

from __future__ import annotations

from planner.shop import Shop
from planner.units import Unit
from planner_io.starter import starter_shop
from planner_io.starter_metric import metric_shop, metric_stock
from planner_io.starter_stock import starter_stock
from planner_io.workbook.bends_sheet import BENDS
from planner_io.workbook.book import Filled, write_book
from planner_io.workbook.columns import SheetSpec
from planner_io.workbook.examples import example_cells
from planner_io.workbook.orders_sheet import ORDERS
from planner_io.workbook.shop_cells import shop_cells, stock_cells
from planner_io.workbook.shop_sheets import SHOP_SHEETS
from planner_io.workbook.stock_sheet import STOCK


def write_template(unit: Unit = "inch") -> bytes:
    """The template as a file's content, with the sizes of a shop in inches or in millimetres.

    Orders, Bends, Stock, Log, Progress and Checks each have one example row, which is read as
    nothing until it is changed; the stock and the shop's own sheets hold the starter shop, to be
    written over.
    """
    metric = unit == "mm"
    shop, stock = (metric_shop(), metric_stock()) if metric else (starter_shop(), starter_stock())
    finishes = ("none", *(recipe.name for recipe in shop.recipes))
    rows = shop_cells(shop)
    return write_book(
        (
            _sheet(ORDERS, unit, lists=(("recipe", finishes),)),
            _sheet(BENDS, unit),
            Filled(
                STOCK,
                stock_cells(stock, shop.house.unit),
                example_cells(STOCK, unit),
                lists=(("finished", finishes),),
            ),
            *(Filled(spec, rows[spec.title]) for spec in SHOP_SHEETS),
            *_floor_sheets(shop),
        )
    )


def _floor_sheets(shop: Shop) -> tuple[Filled, ...]:
    """The sheets that are filled in while the week runs. They stand beside this package and are
    made of its columns, so they are looked up when they are needed."""
    from planner_io.checks_sheet import CHECKS  # noqa: PLC0415 - see above
    from planner_io.logbook_sheet import LOG  # noqa: PLC0415 - see above
    from planner_io.progress_sheet import PROGRESS  # noqa: PLC0415 - see above

    belts = tuple(belt.name for belt in shop.belts)
    unit = shop.house.unit
    return (
        _sheet(LOG, unit, lists=(("belt", belts),)),
        _sheet(PROGRESS, unit),
        _sheet(CHECKS, unit),
    )


def _sheet(
    spec: SheetSpec, unit: Unit, lists: tuple[tuple[str, tuple[str, ...]], ...] = ()
) -> Filled:
    return Filled(spec, (), example_cells(spec, unit), lists=lists)
