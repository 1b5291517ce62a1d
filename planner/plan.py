"""The Plan, and how it is made: orders, stock and a shop in; an audited week out."""

from __future__ import annotations

from planner.errors import Finding
from planner.frozen import Frozen
from planner.options import Options
from planner.orders import OrderLine
from planner.records import (
    Blank,
    BuyLine,
    Card,
    CutList,
    Floor,
    LateLine,
    LedgerRow,
    LineDone,
    Lot,
    Operation,
    Slot,
    Yardstick,
)
from planner.shop import Shop
from planner.stock import StockItem
from planner.stop import Status

FORMAT = 1
"""Version of the layout of plan.json."""


class Plan(Frozen):
    """A week of a shop: everything that went in, everything that came out, nothing else needed.

    Slots are listed by station and then by time. Everything else is in the order of the
    orders, or of the lots.
    """

    format: int = FORMAT
    version: str
    """Version of brightrun that made it."""
    options: Options
    shop: Shop
    orders: tuple[OrderLine, ...]
    """The order lines that are planned; refused ones are in `refused`."""
    refused: tuple[OrderLine, ...] = ()
    stock: tuple[StockItem, ...]
    findings: tuple[Finding, ...] = ()
    blanks: tuple[Blank, ...]
    lots: tuple[Lot, ...]
    cut_lists: tuple[CutList, ...]
    operations: tuple[Operation, ...]
    slots: tuple[Slot, ...]
    cards: tuple[Card, ...]
    done: tuple[LineDone, ...]
    late: tuple[LateLine, ...]
    buy: tuple[BuyLine, ...]
    ledger: tuple[LedgerRow, ...]
    yardsticks: tuple[Yardstick, ...]
    """`this plan` first, then the ways of ordering the week that it is compared with."""
    floors: tuple[Floor, ...]
    status: Status
    """Of the run order; cut lists carry their own."""
