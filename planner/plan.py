"""The Plan, and how it is made: orders, stock and a shop in; a week out, ready for its audit.

`make_plan` is the whole system at a glance. Each line hands frozen data to one stage:

    make_blanks    what to cut for each order line, and what cannot be made    blanks.py
    choose         lots, cut lists and operations for the planner's lot policy drafts.py
    order          the run order                                               run_order.py
    _plan          slots, cards, ledger, late and buy lists                    this file
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from importlib.metadata import version

from planner.blanks import BlankResult, make_blanks
from planner.buying import buy_list, release_minutes
from planner.cards import Work, make_cards
from planner.cutting import rack_of
from planner.drafts import Desk, Draft, choose
from planner.engines import Engines
from planner.errors import Finding, NoPlanError, Severity
from planner.hours import DAY_MIN, due_minute, moment
from planner.ledger import ledger_rows, lines_done, yardstick
from planner.merging import mergers
from planner.options import Options
from planner.orders import OrderLine
from planner.records import Floor, FloorKind, LateLine, LineDone, Merger, Plan, Slot, Yardstick
from planner.run_order import RULE_NAMES, finals, slots_of
from planner.schedule import Result, Term
from planner.shop import Shop
from planner.standing import NOTHING, Standing, replan_record
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
    cut, order = engines.cutter(options), engines.orderer(options)
    draft = choose(desk, cut, order)
    result = order(draft.problem, 1.0)
    advice = () if standing.lots else mergers(desk, draft, cut)
    return _plan(desk, orders, stock, blanks, draft, result, advice)


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
        raise NoPlanError(blanks.findings or (_nothing(),))
    rack = rack_of(stock, release_minutes(stock, options.start, options.start_min // DAY_MIN))
    taken = [stick for cut_list in standing.cut_lists for stick in cut_list.sticks]
    return Desk(
        shop=shop,
        orders=able,
        blanks=by_line,
        rack=rack.without(taken),
        due_min={key: due_minute(line.due, options.start) for key, line in able.items()},
        options=options,
        standing=standing,
    )


def _nothing() -> Finding:
    return Finding(
        severity=Severity.ERROR,
        message="There is no order line to plan: fill in the sheet Orders.",
        sheet="Orders",
    )


def _plan(
    desk: Desk,
    orders: Sequence[OrderLine],
    stock: Sequence[StockItem],
    blanks: BlankResult,
    draft: Draft,
    result: Result,
    advice: tuple[Merger, ...],
) -> Plan:
    lines = {key: desk.orders[key] for lot in draft.lots for key in lot.lines}
    planned = tuple(line for line in orders if line.key in lines)
    last = finals(draft.lots, draft.operations)
    slots = slots_of(desk.shop, draft.operations, result.placed, desk.standing)
    done = lines_done(last, slots, desk.due_min)
    work = Work(
        shop=desk.shop,
        orders=lines,
        blanks=desk.blanks,
        lots={lot.key: lot for lot in draft.lots},
        cut_lists={cut.lot: cut for cut in draft.cut.cut_lists},
        operations={operation.key: operation for operation in draft.operations},
    )
    return Plan(
        version=version("brightrun"),
        options=desk.options,
        shop=desk.shop,
        orders=planned,
        refused=tuple(line for line in orders if line.key not in lines),
        stock=tuple(stock),
        findings=(
            *desk.standing.findings,
            *(_warned(finding, desk) for finding in blanks.findings),
            *draft.cut.findings,
        ),
        blanks=tuple(desk.blanks[line.key] for line in planned),
        lots=draft.lots,
        cut_lists=draft.cut.cut_lists,
        operations=draft.operations,
        slots=slots,
        cards=make_cards(work, slots),
        done=done,
        late=_late(desk, lines, done, result),
        buy=buy_list(stock, draft.cut.cut_lists, draft.operations, slots, desk.options.start),
        mergers=advice,
        ledger=ledger_rows(slots, desk.options.start),
        yardsticks=_yardsticks(desk, lines, draft, last, result, slots, done),
        floors=_floors(desk, draft, result, slots),
        status=result.status,
        replan=replan_record(desk.standing, slots, desk.options.start_min),
    )


def _warned(finding: Finding, desk: Desk) -> Finding:
    """What would refuse an order line is a warning where its lot stays all the same."""
    if finding.subject in desk.standing.blanks:
        return finding.model_copy(update={"severity": Severity.WARNING})
    return finding


def _late(
    desk: Desk, lines: Mapping[str, OrderLine], done: Sequence[LineDone], result: Result
) -> tuple[LateLine, ...]:
    reasons = {late.job: late.remedy for late in result.late}
    found = [
        LateLine(
            line=line.line,
            due=lines[line.line].due,
            done=moment(line.done_min, desk.options.start),
            late_min=line.done_min - line.due_min,
            reason=reasons.get(line.line, ""),
        )
        for line in done
        if line.done_min > line.due_min
    ]
    return tuple(sorted(found, key=lambda late: (-late.late_min, late.line)))


def _yardsticks(
    desk: Desk,
    lines: Mapping[str, OrderLine],
    draft: Draft,
    last: Mapping[str, str],
    result: Result,
    slots: Sequence[Slot],
    done: Sequence[LineDone],
) -> tuple[Yardstick, ...]:
    sticks = [yardstick("this plan", slots, done, lines)]
    for name, placed in result.rule_orders.items():
        others = slots_of(desk.shop, draft.operations, placed, desk.standing)
        sticks.append(
            yardstick(
                RULE_NAMES.get(name, name), others, lines_done(last, others, desk.due_min), lines
            )
        )
    return tuple(sticks)


def _floors(desk: Desk, draft: Draft, result: Result, slots: Sequence[Slot]) -> tuple[Floor, ...]:
    """The engine's floors; changeovers of done work are on both sides."""
    spent = sum(slot.setup_min for slot in slots if desk.standing.is_done(slot.operation))
    before = {Term.CHANGEOVER: spent}
    kinds = {floor.term: floor.kind for floor in reversed(result.floors)}
    cuts = draft.cut.cut_lists
    terms = ((FloorKind.LATENESS, Term.LATENESS), (FloorKind.CHANGEOVER, Term.CHANGEOVER))
    return (
        *(
            Floor(
                kind=kind,
                value=result.figures.terms[term] + before.get(term, 0),
                floor=result.floor(term) + before.get(term, 0),
                basis=kinds.get(term, "nothing proven"),
            )
            for kind, term in terms
        ),
        Floor(
            kind=FloorKind.MATERIAL,
            value=sum(cut.cost_cents for cut in cuts),
            floor=sum(cut.floor_cents for cut in cuts),
            basis="cut lists of these lots, each with the sticks that it may use",
        ),
    )
