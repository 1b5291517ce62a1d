"""Lots that stay as they were issued, with their cut lists, and why others do not."""

from __future__ import annotations

from collections.abc import Callable, Collection, Mapping, Sequence
from dataclasses import dataclass

from planner.blanks import make_blank
from planner.errors import Finding, InputError, Severity, input_error
from planner.hours import due_minute
from planner.material import Prices, saw_settings
from planner.orders import OrderLine, sawn_first
from planner.records import Blank, CutList, Lot, Plan
from planner.replan.lines import Lines
from planner.replan.rack import TakenStock
from planner.shop import Shop
from planner.stock import StockItem
from planner.stop import Status


@dataclass(frozen=True, slots=True)
class Kept:
    """What of the issued lots stays, and the stock as it must be counted for that."""

    lots: tuple[Lot, ...]
    cut_lists: tuple[CutList, ...]
    blanks: Mapping[str, Blank]
    stock: tuple[StockItem, ...]
    findings: tuple[Finding, ...]


def keep_lots(
    issued: Plan,
    lines: Lines,
    stays: Collection[str],
    stock: Sequence[StockItem],
    shop: Shop,
) -> Kept:
    """Lots of `stays`, and every other lot whose lines, sticks and saw are as they were.

    Lots of `stays` come first at the rack. Raises InputError for one of them that the shop as
    it is now would make otherwise.
    """
    rack = TakenStock(issued.stock, stock)
    cuts = {cut_list.lot: cut_list for cut_list in issued.cut_lists}
    orders = {line.key: line for line in lines.orders}
    kept: dict[str, CutList] = {}
    blanks: dict[str, Blank] = {}
    findings: list[Finding] = []
    for lot in sorted(issued.lots, key=lambda lot: lot.key not in stays):
        firm = lot.key in stays
        if not lines.same.issuperset(lot.lines):
            continue
        own = {key: orders[key] for key in lot.lines}
        why, made = _changed(lot, cuts[lot.key], own, shop)
        if why and firm:
            raise _stuck(lot, why)
        cut = None if why else (rack.insist if firm else rack.keep)(cuts[lot.key])
        if cut is None:
            findings.append(_anew(lot, why or "its sticks are not on the rack any more"))
        else:
            kept[lot.key] = cut
            blanks |= made
    start, lots = issued.options.start, [lot for lot in issued.lots if lot.key in kept]
    listed = tuple(rack.stock.values())
    return Kept(
        lots=tuple(_due(lot, lambda key: due_minute(orders[key].due, start)) for lot in lots),
        cut_lists=tuple(_priced(kept[lot.key], lot, listed, shop) for lot in lots),
        blanks=blanks,
        stock=listed,
        findings=(*findings, *rack.findings),
    )


def _stuck(lot: Lot, why: str) -> InputError:
    return input_error(
        f"Lot {lot.key} has begun or must stay, but {why}: plan with the shop as it was when the "
        "plan was issued, or let the lot go.",
        subject=lot.key,
    )


def _anew(lot: Lot, why: str) -> Finding:
    text = f"Lot {lot.key} is formed anew: {why}."
    return Finding(severity=Severity.WARNING, message=text, subject=lot.key)


def _due(lot: Lot, due_min: Callable[[str], int]) -> Lot:
    return lot.model_copy(update={"due_min": min(map(due_min, lot.lines))})


def _changed(
    lot: Lot, cut_list: CutList, lines: Mapping[str, OrderLine], shop: Shop
) -> tuple[str, dict[str, Blank]]:
    """What of a lot the shop would now make otherwise, empty when nothing; and its blanks."""
    blanks: dict[str, Blank] = {}
    lengths = {p.line: p.length_nm for stick in cut_list.sticks for p in stick.pieces}
    for key, line in lines.items():
        try:
            blanks[key] = make_blank(line, shop)
        except InputError as problem:
            return f"line {key} cannot be made any more ({problem})", {}
        if blanks[key].length_nm != lengths[key]:
            return f"line {key} is now cut to another length", {}
        if sawn_first(blanks[key].steps) != lot.saw_first:
            return f"line {key} now goes another way through the shop", {}
    saw = saw_settings(shop, lot.spec)
    now = (saw.kerf_nm, saw.stick_trim_nm, saw.end_trim_nm)
    if now != (cut_list.kerf_nm, cut_list.stick_trim_nm, cut_list.end_trim_nm):
        return "the saw's kerf or trims are others now", {}
    return "", blanks


def _priced(cut_list: CutList, lot: Lot, stock: Sequence[StockItem], shop: Shop) -> CutList:
    """The cut list at the prices of now; what was proven at others is forgotten."""
    cents = Prices(shop, stock, lot).cost_cents(cut_list.sticks)
    if cents == cut_list.cost_cents:
        return cut_list
    status = Status.GAP if cents else Status.PROVEN
    update = {"cost_cents": cents, "floor_cents": 0, "status": status}
    return cut_list.model_copy(update=update)
