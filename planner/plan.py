"""The Plan, and how it is made: orders, stock and a shop in; a week out, ready for its audit.

`make_plan` is the whole system at a glance. Each line hands frozen data to one stage:

    make_blanks    what to cut for each order line, and what cannot be made    blanks.py
    choose         which lines share a lot, for the planner's lot policy       choosing.py
      draft        their lots, cut lists and operations                        drafts.py
      whole        the run order of one such draft                             engines.py
    assemble       slots, cards, ledger, late and buy lists                    assembly.py
"""

from __future__ import annotations

from collections.abc import Sequence

from planner.assembly import assemble
from planner.blanks import BlankResult, make_blanks, nothing_to_plan
from planner.buying import release_minutes
from planner.choosing import choose
from planner.cutting import rack_of
from planner.drafts import Desk
from planner.engines import Engines
from planner.errors import NoPlanError
from planner.hours import DAY_MIN, due_minute
from planner.merging import mergers
from planner.options import Options
from planner.orders import OrderLine
from planner.records import Plan
from planner.shop import Shop
from planner.standing import NOTHING, Standing
from planner.stock import StockItem

__all__ = ["Plan", "make_plan", "plan_on"]


def make_plan(
    orders: Sequence[OrderLine],
    stock: Sequence[StockItem],
    shop: Shop,
    options: Options,
    engines: Engines | None = None,
) -> Plan:
    """Plan a week: refuse what cannot be made, form lots, cut them, order and set up the runs.

    `planner.audit` has not seen the result yet. Raises InputError where the shop itself is
    not sound, NoPlanError where nothing is left to plan or it does not fit the horizon.
    """
    return plan_on(NOTHING, orders, stock, shop, options, engines or Engines())


def plan_on(
    standing: Standing,
    orders: Sequence[OrderLine],
    stock: Sequence[StockItem],
    shop: Shop,
    options: Options,
    engines: Engines,
) -> Plan:
    """Plan a week on what stands of one issued before, as `make_plan` does on an empty shop."""
    blanks = make_blanks(orders, stock, shop)
    desk = _desk(standing, orders, stock, shop, options, blanks)
    cutter, orderer = engines.cutter(options), engines.orderer(options)
    chosen = choose(desk, cutter, orderer, engines)
    advice = () if standing.lots else mergers(desk, chosen.draft, cutter.quick)
    return assemble(desk, chosen.draft, chosen.result, advice, chosen.tried)


def _desk(
    standing: Standing,
    orders: Sequence[OrderLine],
    stock: Sequence[StockItem],
    shop: Shop,
    options: Options,
    blanks: BlankResult,
) -> Desk:
    by_line = {blank.line: blank for blank in blanks.blanks} | dict(standing.blanks)
    able = {line.key: line for line in orders if line.key in by_line}
    if not able:
        raise NoPlanError(blanks.findings or (nothing_to_plan(),))
    rack = rack_of(stock, release_minutes(stock, options.start, options.start_min // DAY_MIN))
    taken = [stick for cut_list in standing.cut_lists for stick in cut_list.sticks]
    return Desk(
        shop=shop,
        entered=tuple(orders),
        findings=blanks.findings,
        orders=able,
        blanks=by_line,
        rack=rack.without(taken),
        due_min={key: due_minute(line.due, options.start) for key, line in able.items()},
        options=options,
        standing=standing,
    )
