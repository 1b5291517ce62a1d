"""Putting a plan together: slots, cards, ledger, late and buy lists, floors."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from importlib.metadata import version

from planner.advice import LotsTried, Merger
from planner.buying import buy_list
from planner.cards import Work, make_cards
from planner.changeovers import setup_minutes
from planner.drafts import Desk, Draft
from planner.errors import Finding, Severity
from planner.lateness import late_lines
from planner.ledger import ledger_rows, lines_done, yardstick
from planner.operations import finals
from planner.records import Floor, FloorKind, LineDone, Plan, Slot
from planner.schedule import Placed, Result, Term
from planner.slots import slots_of
from planner.standing import replan_record
from planner.stop import Status
from planner.wiping import oiled_items
from planner.yardsticks import BY_DUE_DATE, THIS_PLAN, Yardstick

RULE_NAMES = {
    "as entered": "as entered",
    "due date": BY_DUE_DATE,
    "by state": "by OD",
    "ATCS": "by urgency and changeover",
    "cheapest changeover in time": "cheapest changeover in time",
}
"""The engine's dispatch rules in the words of the ledger; other names say what they are."""


def assemble(
    desk: Desk, draft: Draft, result: Result, advice: Sequence[Merger], tried: Sequence[LotsTried]
) -> Plan:
    """The plan of the lots that were chosen and the order that was found for them."""
    week = _Week(desk, draft)
    slots = week.slots(result.placed)
    done = week.done(slots)
    planned = tuple(line for line in desk.entered if line.key in week.lines)
    cut_lists, operations, start = draft.cut.cut_lists, draft.operations, desk.options.start
    floors = _floors(desk, draft, result, slots)
    return Plan(
        version=version("brightrun"),
        options=desk.options,
        shop=desk.shop,
        orders=planned,
        refused=tuple(line for line in desk.entered if line.key not in week.lines),
        stock=desk.rack.items,
        findings=tuple(_findings(desk, draft)),
        blanks=tuple(desk.blanks[line.key] for line in planned),
        lots=draft.lots,
        cut_lists=cut_lists,
        operations=operations,
        slots=slots,
        cards=make_cards(week.work, slots),
        done=done,
        late=late_lines(week.lines, done, result.late, start),
        buy=buy_list(desk.rack.items, cut_lists, operations, slots, start),
        mergers=tuple(advice),
        lots_tried=tuple(tried),
        ledger=ledger_rows(slots, start, desk.standing.parts),
        yardsticks=tuple(_yardsticks(week, result, slots)),
        floors=floors,
        status=Status.PROVEN if _is_proven(floors) else result.status,
        replan=replan_record(desk.standing, slots, desk.options.start_min),
    )


class _Week:
    """The lots that were chosen, and what an order of their work comes to."""

    def __init__(self, desk: Desk, draft: Draft) -> None:
        self.desk, self.draft = desk, draft
        self.lines = {key: desk.orders[key] for lot in draft.lots for key in lot.lines}
        self.finals = finals(draft.lots, draft.operations)

    @property
    def work(self) -> Work:
        """What the cards read."""
        return Work(
            shop=self.desk.shop,
            orders=self.lines,
            blanks=self.desk.blanks,
            lots={lot.key: lot for lot in self.draft.lots},
            cut_lists={cut.lot: cut for cut in self.draft.cut.cut_lists},
            oiled=oiled_items(self.desk.rack.items),
            operations={operation.key: operation for operation in self.draft.operations},
        )

    def slots(self, placed: Sequence[Placed]) -> tuple[Slot, ...]:
        """The engine's order as slots."""
        return slots_of(self.desk.shop, self.draft.operations, placed, self.desk.standing)

    def done(self, slots: Sequence[Slot]) -> tuple[LineDone, ...]:
        """When each order line is complete."""
        return lines_done(self.finals, slots, self.desk.due_min)

    def yardstick(self, name: str, slots: Sequence[Slot]) -> Yardstick:
        """What the order costs in changeovers and lateness."""
        parts = self.desk.standing.parts
        return yardstick(name, slots, self.done(slots), self.lines, parts)


def _findings(desk: Desk, draft: Draft) -> Iterator[Finding]:
    """Everything that was found, from what was issued before to what lacks tube now."""
    yield from desk.standing.findings
    for finding in desk.findings:
        yield _warned(finding, desk)
    yield from desk.shelf(draft.cut).findings()


def _warned(finding: Finding, desk: Desk) -> Finding:
    """What would refuse an order line is a warning where its lot stays all the same."""
    if finding.subject in desk.standing.blanks:
        return finding.model_copy(update={"severity": Severity.WARNING})
    return finding


def _yardsticks(week: _Week, result: Result, slots: Sequence[Slot]) -> Iterator[Yardstick]:
    """This plan, and every other order of the week that leaves held work where it is."""
    yield week.yardstick(THIS_PLAN, slots)
    for name, placed in result.rule_orders.items():
        if not result.rules[name].terms[Term.VIOLATION]:
            yield week.yardstick(RULE_NAMES.get(name, name), week.slots(placed))


def _is_proven(floors: Sequence[Floor]) -> bool:
    """Whether no order of the week is less late, and none that is as punctual changes for less.
    The search itself does not say so while some line could still have more time to spare."""
    order = (FloorKind.LATENESS, FloorKind.CHANGEOVER)
    return all(floor.value == floor.floor for floor in floors if floor.kind in order)


def _floors(desk: Desk, draft: Draft, result: Result, slots: Sequence[Slot]) -> tuple[Floor, ...]:
    """The engine's floors; changeovers of work and parts that are done are on both sides."""
    spent = sum(slot.setup_min for slot in slots if desk.standing.is_done(slot.operation))
    spent += sum(setup_minutes(part.changes) for part in desk.standing.parts)
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
