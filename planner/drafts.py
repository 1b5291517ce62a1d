"""A week drafted for one way of forming lots, and what it costs."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace

from planner import schedule
from planner.cutting import Cut, Rack, Solve, cut_lots
from planner.errors import Finding, NoPlanError
from planner.hours import DAY_MIN
from planner.lots import Grouping, make_lots
from planner.operations import Given, make_operations
from planner.options import Options
from planner.orders import OrderLine
from planner.records import Blank, Lot, Operation
from planner.run_order import SPENT, run_order_problem
from planner.schedule import Term
from planner.shop import Shop
from planner.shortage import Shelf
from planner.standing import NOTHING, Standing
from planner.wiping import oiled_items


@dataclass(frozen=True, slots=True)
class Desk:
    """All that is known before lots are formed."""

    shop: Shop
    entered: tuple[OrderLine, ...]
    """Every order line of the week."""
    findings: tuple[Finding, ...]
    """What speaks against some of them."""
    orders: Mapping[str, OrderLine]
    """By key, those that can be made."""
    blanks: Mapping[str, Blank]
    rack: Rack
    due_min: Mapping[str, int]
    options: Options
    standing: Standing = NOTHING
    """What stays of a plan issued before; its sticks are off the rack already."""

    @property
    def free(self) -> list[OrderLine]:
        """The lines that are in no lot yet."""
        placed = {key for lot in self.standing.lots for key in lot.lines}
        return [line for key, line in self.orders.items() if key not in placed]

    def shelf(self, cut: Cut) -> Shelf:
        """What was cut, and what is left to cut from."""
        before = {one.lot for one in self.standing.cut_lists}
        new = [one for one in cut.cut_lists if one.lot not in before]
        sticks = [stick for one in new for stick in one.sticks]
        return Shelf(self.shop, self.orders, self.blanks, self.rack.without(sticks), cut)


@dataclass(frozen=True, slots=True)
class Draft:
    """Lots with cut lists and operations, ready to be ordered."""

    lots: tuple[Lot, ...]
    cut: Cut
    operations: tuple[Operation, ...]
    problem: schedule.Problem

    @property
    def material_cents(self) -> int:
        """What the cut lists cost."""
        return sum(cut_list.cost_cents for cut_list in self.cut.cut_lists)


def draft(desk: Desk, groups: Grouping, solve: Solve) -> Draft:
    """Make a lot of each group of lines that are in none yet, cut them, and work out their
    operations; NoPlanError when none can be cut."""
    stays = desk.standing
    today = desk.options.start_min // DAY_MIN
    lots = make_lots(groups, desk.orders, desk.blanks, desk.due_min, stays.first_lot, today)
    cut = cut_lots(desk.shop, lots, desk.blanks, desk.rack, solve)
    without = {uncut.lot.key for uncut in cut.uncut}
    lots = tuple(lot for lot in lots if lot.key not in without)
    if not lots and not stays.lots:
        raise NoPlanError(tuple(desk.shelf(cut).findings()))
    oiled = oiled_items(desk.rack.items)
    given = Given(desk.shop, desk.orders, desk.blanks, desk.rack.release_min, oiled)
    operations = (*stays.operations, *make_operations(given, lots, cut.cut_lists))
    lots, cut = (*stays.lots, *lots), replace(cut, cut_lists=(*stays.cut_lists, *cut.cut_lists))
    problem = run_order_problem(
        desk.shop, lots, operations, desk.orders, desk.due_min, desk.options, stays
    )
    return Draft(lots, cut, operations, problem)


UNDONE_CENTS = 1e12
"""A line that cannot be cut, or a minute by which held work is missed, outweighs everything."""


def cost_cents(desk: Desk, one: Draft, figures: schedule.Figures) -> float:
    """Sticks, changeover minutes and lateness of a draft in money. Overtime, moves of issued work
    and time that is not spared count as the run order counts them, in changeover minutes."""
    house, terms = desk.shop.house, figures.terms
    minutes = sum(terms[t] for t in (Term.CHANGEOVER, Term.OVERTIME, Term.DISTURBANCE))
    unspared = house.spare_worth_min * terms[Term.TIGHTNESS] / SPENT
    return (
        one.material_cents
        + (minutes + unspared) * house.minute_cents
        + terms[Term.LATENESS] * house.late_cents_h / 60
        + UNDONE_CENTS * undone(desk, one, figures)
    )


def undone(desk: Desk, one: Draft, figures: schedule.Figures) -> int:
    """Lines that a draft cannot cut, and the minutes by which its order misses held work."""
    uncut = len(desk.orders) - sum(len(lot.lines) for lot in one.lots)
    return uncut + figures.terms[Term.VIOLATION]


@dataclass(frozen=True, slots=True)
class OrderedDraft:
    """A grouping, its draft, the run order known for it and what that costs."""

    groups: Grouping
    draft: Draft
    settled: schedule.Settled
    cents: float
    undone: int

    @classmethod
    def of(
        cls, desk: Desk, groups: Grouping, made: Draft, settled: schedule.Settled
    ) -> OrderedDraft:
        """A draft with the run order found for it, and their cost."""
        figures = settled.figures
        cents, left = cost_cents(desk, made, figures), undone(desk, made, figures)
        return cls(groups, made, settled, cents, left)


def by_cents(one: OrderedDraft) -> float:
    """What it costs, to find the cheapest by."""
    return one.cents
