"""Oil and cutting fluid, which come off tube before its first pass: they clog the belt and let the
tube slip on the wheel (common practice)."""

from __future__ import annotations

from collections.abc import Collection, Iterable, Mapping

from planner.orders import OrderLine
from planner.records import CutList, Lot
from planner.shop import Station
from planner.stock import StockItem


def oiled_items(stock: Iterable[StockItem]) -> frozenset[str]:
    """The keys of stock that is kept in oil."""
    return frozenset(item.key for item in stock if item.oiled)


def is_oiled(
    lot: Lot, cut_list: CutList, orders: Mapping[str, OrderLine], oiled: Collection[str]
) -> bool:
    """Whether an order line of a lot, or a stick that it is cut from, says so; `oiled` are the keys
    of stock that does."""
    said = any(orders[line].oiled for line in lot.lines)
    return said or any(stick.stock in oiled for stick in cut_list.sticks)


def wipe_each_s(station: Station, lot: Lot, oiled: bool) -> int:
    """Seconds that a finisher's people take to wipe each stick of a lot before its first pass, or
    each piece of one that is sawn first, which comes wet from the saw."""
    settings = station.finisher
    if lot.saw_first:
        return settings.wipe_piece_s
    return settings.wipe_s if oiled else 0


def wiping_s(station: Station, lot: Lot, oiled: bool, count: int, pass_no: int) -> int:
    """Seconds of wiping in a pass of so many sticks or pieces; passes count from 1."""
    return count * wipe_each_s(station, lot, oiled) if pass_no == 1 else 0
