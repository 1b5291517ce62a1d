"""The planner's short lists: late lines, what to buy, what was found wrong, every order line."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime

from planner.buying import buy_list
from planner.errors import Severity
from planner.hours import how_late, moment, when
from planner.orders import OrderLine
from planner.records import BuyLine, LateLine
from planner.stock import StockItem
from planner_io.told import told_once
from planner_io.views.index import Index
from planner_io.views.ruler import money, plural


@dataclass(frozen=True)
class LateRow:
    """A late line with what a phone call needs."""

    late: LateLine
    order: OrderLine
    due: str
    done: str
    by: str


@dataclass(frozen=True)
class BuyRow:
    """Sticks to buy with what a purchase order needs."""

    buy: BuyLine
    item: StockItem
    what: str
    length: str
    each_cents: int
    each: str
    sum: str
    needed_by: str


@dataclass(frozen=True)
class ProblemRow:
    """What was found, with its places."""

    severity: Severity
    place: str
    message: str
    read: str
    expected: str


@dataclass(frozen=True)
class OrderRow:
    """An order line with when it is done."""

    order: OrderLine
    tube: str
    shape: str
    blank_nm: int | None
    due: datetime
    done: datetime | None
    late_min: int
    state: str
    """`on time`, `LATE 2 h 10` or `refused`."""
    lot: str


def late_rows(index: Index) -> tuple[LateRow, ...]:
    """Late lines, the latest first."""
    rows = sorted(index.plan.late, key=lambda row: (-row.late_min, row.line))
    return tuple(
        LateRow(row, index.orders[row.line], when(row.due), when(row.done), how_late(row.late_min))
        for row in rows
    )


def to_buy(index: Index) -> tuple[BuyLine, ...]:
    """Sticks to buy, the first needed first.

    The plan of a week that is planned again covers all of it; the sticks of lots that have begun
    are in the shop already.
    """
    plan = index.plan
    rows = plan.buy
    if plan.replan is not None:
        begun = _begun_lots(index, plan.replan.now_min)
        slots = [s for s in plan.slots if index.operations[s.operation].lot not in begun]
        cut_lists = [cut_list for cut_list in plan.cut_lists if cut_list.lot not in begun]
        rows = buy_list(plan.stock, cut_lists, plan.operations, slots, index.start)
    return tuple(sorted(rows, key=lambda row: (row.needed_by, row.stock)))


def _begun_lots(index: Index, now_min: int) -> set[str]:
    begun = (slot for slot in index.plan.slots if slot.setup_start_min < now_min)
    keys = (*(slot.operation for slot in begun), *index.paused)
    return {index.operations[key].lot for key in keys}


def buy_note(index: Index) -> str:
    """What the buy list of a week that is planned again leaves out; empty for a first plan."""
    if index.plan.replan is None:
        return ""
    left = sum(row.count for row in index.plan.buy) - sum(row.count for row in to_buy(index))
    begun = f"without {plural(left, 'stick')} of lots that have begun; " if left else ""
    return f"{begun}take off what was ordered by the list before"


def buy_rows(index: Index) -> tuple[BuyRow, ...]:
    """What to buy, the first needed first."""
    return tuple(_buy_row(index, row) for row in to_buy(index))


def _buy_row(index: Index, row: BuyLine) -> BuyRow:
    item = index.stock[row.stock]
    currency = index.plan.shop.house.currency
    return BuyRow(
        buy=row,
        item=item,
        what=index.ruler.spec(item.spec),
        length=index.ruler.length(item.length_nm),
        each_cents=row.price_cents // max(1, row.count),
        each=money(row.price_cents // max(1, row.count), currency),
        sum=money(row.price_cents, currency),
        needed_by=when(row.needed_by),
    )


def buy_total(index: Index) -> str:
    """What all sticks to buy cost together."""
    total = sum(row.price_cents for row in to_buy(index))
    return money(total, index.plan.shop.house.currency)


def problem_rows(index: Index) -> tuple[ProblemRow, ...]:
    """Errors first, then warnings, each once with all its places."""
    return tuple(
        ProblemRow(told.severity, told.place, told.message, told.read, told.expected)
        for told in told_once(index.plan.findings)
    )


def order_rows(index: Index) -> tuple[OrderRow, ...]:
    """Every order line, those refused at the end."""
    lots = {line: lot.key for lot in index.plan.lots for line in lot.lines}
    done = {row.line: moment(row.done_min, index.start) for row in index.plan.done}
    planned = [
        _order_row(index, line, lots.get(line.key, ""), done.get(line.key))
        for line in index.plan.orders
    ]
    refused = [_order_row(index, line, "", None) for line in index.plan.refused]
    return (*planned, *refused)


def _order_row(index: Index, line: OrderLine, lot: str, done: datetime | None) -> OrderRow:
    blank = index.blanks.get(line.key)
    late = index.late.get(line.key)
    state = "refused" if line.key not in index.orders else "on time"
    return OrderRow(
        order=line,
        tube=index.ruler.spec(line.spec),
        shape={
            "cut": "cut length",
            "axis": "axis to axis",
            "bent": "bent",
            "blank": "bent from a blank",
        }[line.shape.kind],
        blank_nm=blank.length_nm if blank else None,
        due=line.due,
        done=done,
        late_min=late.late_min if late else 0,
        state=f"LATE {how_late(late.late_min)}" if late else state,
        lot=lot,
    )
