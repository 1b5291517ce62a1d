"""A week drafted for one way of forming lots, and the choice between such ways."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass, replace

from planner import schedule
from planner.cutting import Cut, Rack, Solve, cut_lots
from planner.errors import NoPlanError
from planner.lots import make_lots
from planner.operations import Week, make_operations
from planner.options import LotPolicy, Options
from planner.orders import OrderLine
from planner.records import Blank, Lot, Operation
from planner.run_order import problem_of
from planner.schedule import Term
from planner.shop import Shop
from planner.standing import NOTHING, Standing

WINDOWS: Mapping[LotPolicy, tuple[int | None, ...]] = {
    LotPolicy.BY_DUE_DATE: (1,),
    LotPolicy.MERGE: (None,),
    LotPolicy.AUTO: (1, 2, 3, None),
}
"""How many days of due dates may share a lot, by policy; auto tries them all."""


@dataclass(frozen=True, slots=True)
class Desk:
    """All that is known before lots are formed: only lines that can be made, with blanks."""

    shop: Shop
    orders: Mapping[str, OrderLine]
    blanks: Mapping[str, Blank]
    rack: Rack
    due_min: Mapping[str, int]
    options: Options
    standing: Standing = NOTHING
    """What stays of a plan issued before; its sticks are off the rack already."""


@dataclass(frozen=True, slots=True)
class Draft:
    """Lots with cut lists and operations, ready to be ordered."""

    lots: tuple[Lot, ...]
    cut: Cut
    operations: tuple[Operation, ...]
    problem: schedule.Problem


Order = Callable[[schedule.Problem, float], schedule.Result]
"""Orders a problem with a share of the budget."""


def draft(desk: Desk, window_days: int | None, solve: Solve) -> Draft:
    """Form lots of the lines that are in none yet, cut them, and work out their operations;
    NoPlanError when none can be cut."""
    stays = desk.standing
    placed = {key for lot in stays.lots for key in lot.lines}
    lines = [line for key, line in desk.orders.items() if key not in placed]
    lots = make_lots(lines, desk.blanks, desk.due_min, window_days, stays.first_lot)
    cut = cut_lots(desk.shop, lots, desk.blanks, desk.rack, solve)
    lots = tuple(lot for lot in lots if lot.key not in cut.uncut)
    if not lots and not stays.lots:
        raise NoPlanError(cut.findings)
    week = Week(desk.shop, desk.orders, desk.blanks, desk.rack.release_min)
    operations = (*stays.operations, *make_operations(week, lots, cut.cut_lists))
    lots, cut = (*stays.lots, *lots), replace(cut, cut_lists=(*stays.cut_lists, *cut.cut_lists))
    problem = problem_of(
        desk.shop, lots, operations, desk.orders, desk.due_min, desk.options, stays
    )
    return Draft(lots, cut, operations, problem)


def choose(desk: Desk, solve: Solve, order: Order) -> int | None:
    """How many days of due dates share a lot under the planner's policy. Auto orders each
    distinct draft with a small share of the budget and takes the one that costs least, money
    and lateness together."""
    windows = WINDOWS[desk.options.lots]
    if len(windows) == 1:
        return windows[0]
    drafts = {window: draft(desk, window, solve) for window in windows}
    distinct = {_shape(one): window for window, one in reversed(drafts.items())}
    if len(distinct) == 1:
        return windows[0]
    share = 0.3 / len(distinct)

    def cents(window: int | None) -> float:
        return _cents(desk, drafts[window], order(drafts[window].problem, share))

    return min(distinct.values(), key=cents)


def _shape(one: Draft) -> tuple[tuple[str, ...], ...]:
    return tuple(lot.lines for lot in one.lots)


def _cents(desk: Desk, one: Draft, result: schedule.Result) -> float:
    """Sticks, changeover minutes and lateness of a draft in money; a lot that cannot be cut
    outweighs everything."""
    house, terms = desk.shop.house, result.figures.terms
    return (
        sum(cut_list.cost_cents for cut_list in one.cut.cut_lists)
        + terms[Term.CHANGEOVER] * house.minute_cents
        + terms[Term.LATENESS] * house.late_cents_h / 60
        + 1e12 * len(one.cut.uncut)
    )
