"""Putting a plan together: slots, cards, ledger, late and buy lists, floors."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from importlib.metadata import version

from planner.advice import LotsTried, Merger
from planner.blanks import BlankResult
from planner.buying import buy_list
from planner.cards import Work, make_cards
from planner.drafts import Desk, Draft
from planner.errors import Finding, Severity
from planner.lateness import late_lines
from planner.ledger import ledger_rows, lines_done, yardstick
from planner.orders import OrderLine
from planner.records import Floor, FloorKind, LineDone, Plan, Slot, Yardstick
from planner.run_order import RULE_NAMES, finals, slots_of
from planner.schedule import Result, Term
from planner.standing import replan_record
from planner.stock import StockItem
from planner.stop import Status


def assemble(
    desk: Desk,
    orders: Sequence[OrderLine],
    stock: Sequence[StockItem],
    blanks: BlankResult,
    chosen: Draft,
    result: Result,
    advice: tuple[Merger, ...],
    tried: tuple[LotsTried, ...],
) -> Plan:
    """The plan of the lots that were chosen and the order that was found for them."""
    lines = {key: desk.orders[key] for lot in chosen.lots for key in lot.lines}
    planned = tuple(line for line in orders if line.key in lines)
    last = finals(chosen.lots, chosen.operations)
    slots = slots_of(desk.shop, chosen.operations, result.placed, desk.standing)
    done = lines_done(last, slots, desk.due_min)
    work = Work(
        shop=desk.shop,
        orders=lines,
        blanks=desk.blanks,
        lots={lot.key: lot for lot in chosen.lots},
        cut_lists={cut.lot: cut for cut in chosen.cut.cut_lists},
        operations={operation.key: operation for operation in chosen.operations},
    )
    floors = _floors(desk, chosen, result, slots)
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
            *desk.shelf(chosen.cut).findings(),
        ),
        blanks=tuple(desk.blanks[line.key] for line in planned),
        lots=chosen.lots,
        cut_lists=chosen.cut.cut_lists,
        operations=chosen.operations,
        slots=slots,
        cards=make_cards(work, slots),
        done=done,
        late=late_lines(lines, done, result.late, desk.options.start),
        buy=buy_list(stock, chosen.cut.cut_lists, chosen.operations, slots, desk.options.start),
        mergers=advice,
        lots_tried=tried,
        ledger=ledger_rows(slots, desk.options.start),
        yardsticks=_yardsticks(desk, lines, chosen, last, result, slots, done),
        floors=floors,
        status=Status.PROVEN if _is_proven(floors) else result.status,
        replan=replan_record(desk.standing, slots, desk.options.start_min),
    )


def _warned(finding: Finding, desk: Desk) -> Finding:
    """What would refuse an order line is a warning where its lot stays all the same."""
    if finding.subject in desk.standing.blanks:
        return finding.model_copy(update={"severity": Severity.WARNING})
    return finding


def _yardsticks(
    desk: Desk,
    lines: Mapping[str, OrderLine],
    chosen: Draft,
    last: Mapping[str, str],
    result: Result,
    slots: Sequence[Slot],
    done: Sequence[LineDone],
) -> tuple[Yardstick, ...]:
    """This plan, and every other order of the week that leaves held work where it is."""
    sticks = [yardstick("this plan", slots, done, lines)]
    for name, placed in result.rule_orders.items():
        if result.rules[name].terms[Term.VIOLATION]:
            continue
        others = slots_of(desk.shop, chosen.operations, placed, desk.standing)
        sticks.append(
            yardstick(
                RULE_NAMES.get(name, name), others, lines_done(last, others, desk.due_min), lines
            )
        )
    return tuple(sticks)


def _is_proven(floors: Sequence[Floor]) -> bool:
    """Whether no order of the week is less late, and none that is as punctual changes for less.
    The search itself does not say so while some line could still have more time to spare."""
    order = (FloorKind.LATENESS, FloorKind.CHANGEOVER)
    return all(floor.value == floor.floor for floor in floors if floor.kind in order)


def _floors(desk: Desk, chosen: Draft, result: Result, slots: Sequence[Slot]) -> tuple[Floor, ...]:
    """The engine's floors; changeovers of done work are on both sides."""
    spent = sum(slot.setup_min for slot in slots if desk.standing.is_done(slot.operation))
    before = {Term.CHANGEOVER: spent}
    kinds = {floor.term: floor.kind for floor in reversed(result.floors)}
    cuts = chosen.cut.cut_lists
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
