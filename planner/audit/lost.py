"""Invariant 6, of what the floor lost: pieces and sticks that the lots of the plan really have.

How many pieces were ordered before some were lost cannot be told from the plan; that what its
papers say does not come was to come, can.
"""

from __future__ import annotations

from collections import Counter

from planner.audit.facts import Breaches, Facts, breach
from planner.scrap import Scrap


def check_lost(facts: Facts) -> Breaches:
    """All breaches of what is said to be lost."""
    lost = Counter[str]()
    for one in facts.plan.scrap:
        lot = _lot(facts, one)
        if lot is None or one.line not in facts.lots[lot].lines:
            yield breach(6, one.operation, f"does not work on {one.line}, and cannot lose any.")
            continue
        if one.told_at and not _is_renamed(facts, one):
            yield breach(6, one.operation, f"has lost nothing at {one.told_at}, as it is said.")
        lost[one.line] += one.pieces
        right = _on_stick(facts, lot, one) if one.stick else max(1, one.pieces)
        if one.pieces != right:
            of = f" of stick {one.stick}" if one.stick else ""
            text = f"is said to have lost {one.pieces} pieces of {one.line}{of}, not {right}."
            yield breach(6, one.operation, text)
    for line, pieces in lost.items():
        cut = facts.orders[line].quantity
        if pieces > cut:
            yield breach(6, line, f"is said to have lost {pieces} of its {cut} pieces.")
    said = Counter(one.what for one in facts.plan.scrap)
    for (where, line, stick), count in said.items():
        if count > 1:
            yield breach(6, stick or where, f"is said {count} times to have lost {line}.")


def _lot(facts: Facts, one: Scrap) -> str | None:
    """The lot that lost it; None where there is none such, or it was work on another line."""
    if one.operation in facts.lots:
        return one.operation
    operation = facts.operations.get(one.operation)
    return operation.lot if operation and operation.line in (None, one.line) else None


def _is_renamed(facts: Facts, one: Scrap) -> bool:
    """Whether the lot of lost pieces has an operation of the name at which they were told."""
    named = facts.operations.get(one.told_at)
    return not one.stick and named is not None and named.lot == one.operation


def _on_stick(facts: Facts, lot: str, one: Scrap) -> int:
    """The pieces of the line that were to be cut from the stick."""
    sticks = [stick for stick in facts.cut_lists[lot].sticks if stick.tag == one.stick]
    return sum(piece.line == one.line for stick in sticks for piece in stick.pieces)
