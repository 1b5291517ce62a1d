"""Write the demo workbooks; the same code gives the same bytes.

`python -m demo_orders.make` writes them beside this file.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from pathlib import Path

from demo_orders import small, usual
from demo_orders.log import log_rows
from demo_orders.messy import write_messy
from demo_orders.shop import demo_shop
from demo_orders.stock import demo_stock
from demo_orders.tables import Cells
from planner_io.logbook_sheet import LOG
from planner_io.workbook.bends_sheet import BENDS
from planner_io.workbook.book import Filled, write_book
from planner_io.workbook.orders_sheet import ORDERS
from planner_io.workbook.shop_cells import shop_cells
from planner_io.workbook.shop_sheets import SHOP_SHEETS
from planner_io.workbook.stock_sheet import STOCK

HERE = Path(__file__).parent
LEFT_OUT = frozenset(
    {"grit", "surface", "ends", "twist", "open", "done", "complete", "bent", "clr", "status"}
)
"""Columns of Orders that the shop does without."""


def week(orders: Sequence[Cells], bends: Sequence[Cells]) -> bytes:
    """A workbook of one week with the shop's own sheets."""
    rows = shop_cells(demo_shop())
    return write_book(
        (
            Filled(ORDERS, orders, without=LEFT_OUT),
            Filled(BENDS, bends, without=frozenset({"row"})),
            Filled(STOCK, demo_stock(), without=frozenset({"arrives", "owner"})),
            *(Filled(spec, rows[spec.title]) for spec in SHOP_SHEETS),
        )
    )


def workbooks() -> Mapping[str, bytes]:
    """Every demo workbook by file name."""
    return {
        "small.xlsx": week(small.orders, small.bends),
        "usual.xlsx": week(usual.orders, usual.bends),
        "messy.xlsx": write_messy(),
        "log.xlsx": write_book((Filled(LOG, log_rows(), without=frozenset({"station"})),)),
    }


if __name__ == "__main__":
    for name, content in workbooks().items():
        (HERE / name).write_bytes(content)
