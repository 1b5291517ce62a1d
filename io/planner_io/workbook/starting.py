"""Which starter shop fills in for sheets that are missing: the one in inches or in millimetres."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from contextlib import suppress
from dataclasses import dataclass

from planner.errors import InputError
from planner.shop import Shop
from planner.stock import StockItem
from planner.units import Unit
from planner_io.starter import starter_shop
from planner_io.starter_metric import metric_shop, metric_stock
from planner_io.starter_stock import starter_stock
from planner_io.workbook import cells
from planner_io.workbook.table import Table


@dataclass(frozen=True)
class Starter:
    """The shop and the stock that are taken for sheets that are missing."""

    shop: Shop
    stock: tuple[StockItem, ...]

    @property
    def is_metric(self) -> bool:
        """Whether its sizes are round in millimetres."""
        return self.shop.house.unit == "mm"


def starter_for(unit: Unit, orders: Sequence[Table]) -> Starter:
    """The starter shop in `unit`; that in inches for millimetres, too, where its stock has more of
    the ODs that are ordered, as where tube of inch sizes is sold by the millimetre."""
    inches, metric = (
        Starter(starter_shop(), starter_stock()),
        Starter(metric_shop(), metric_stock()),
    )
    if unit == "inch":
        return inches
    ordered = list(_ods(orders))
    return max((metric, inches), key=lambda starter: _known(starter, ordered))


def _known(starter: Starter, ods_nm: Sequence[int]) -> int:
    """How many of the ODs its stock has."""
    stocked = {item.spec.od_nm for item in starter.stock}
    return sum(od in stocked for od in ods_nm)


def _ods(orders: Sequence[Table]) -> Iterator[int]:
    """The ODs of the orders that can be read, in nm."""
    for table in orders:
        for value in (row.values.get("od") for row in table.rows()):
            if value is not None:
                with suppress(InputError):
                    yield cells.od(value, table.headers["od"].unit, "mm").nm
