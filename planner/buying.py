"""When sticks are there, and which must be bought."""

from __future__ import annotations

from collections import Counter, defaultdict
from collections.abc import Sequence
from datetime import date

from planner.hours import DAY_MIN, moment
from planner.records import BuyLine, CutList, Operation, Slot
from planner.stock import StockItem


def release_minutes(
    stock: Sequence[StockItem], start: date, ordered_day: int = 0
) -> dict[str, int]:
    """Minute at which sticks of each item can be used: the morning they arrive, 0 if there.

    Sticks to buy are ordered on day `ordered_day` of the plan, which starts with day 0.
    """
    return {item.key: DAY_MIN * _days(item, start, ordered_day) for item in stock}


def _days(item: StockItem, start: date, ordered_day: int) -> int:
    arrives = max(0, (item.arrives - start).days) if item.arrives else 0
    lead = ordered_day + item.lead_days if item.count is None and item.lead_days else 0
    return max(arrives, lead)


def buy_list(
    stock: Sequence[StockItem],
    cut_lists: Sequence[CutList],
    operations: Sequence[Operation],
    slots: Sequence[Slot],
    start: date,
) -> tuple[BuyLine, ...]:
    """Sticks used of items without a count, with the time at which the first is needed."""
    lot_of = {operation.key: operation.lot for operation in operations}
    begins: dict[str, int] = {}
    for slot in slots:
        lot = lot_of[slot.operation]
        begins[lot] = min(slot.start_min, begins.get(lot, slot.start_min))
    counts: Counter[str] = Counter()
    lots: dict[str, list[str]] = defaultdict(list)
    for cut_list in cut_lists:
        used = Counter(stick.stock for stick in cut_list.sticks)
        counts += used
        for key in used:
            lots[key].append(cut_list.lot)
    return tuple(
        BuyLine(
            stock=item.key,
            count=counts[item.key],
            price_cents=counts[item.key] * item.price_cents,
            needed_by=moment(min(begins[lot] for lot in lots[item.key]), start),
            lots=tuple(lots[item.key]),
        )
        for item in stock
        if item.count is None and counts[item.key]
    )
