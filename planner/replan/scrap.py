"""Pieces that were lost in a week that is planned again, and have to be made once more.

A plan keeps what was lost before it, so that its rows need not be kept.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass

from planner.errors import Finding, Severity
from planner.orders import OrderLine
from planner.records import Plan
from planner.replan.lines import own_key
from planner.scrap import Scrap, in_all


@dataclass(frozen=True, slots=True)
class Scrapped:
    """Lost pieces as a row of progress says it."""

    scrap: Scrap
    sheet: str | None = None
    cell: str | None = None
    """Where it was read."""


def made_again(
    orders: Sequence[OrderLine], issued: Plan, rows: Sequence[Scrapped]
) -> tuple[tuple[OrderLine, ...], tuple[Scrap, ...], tuple[Finding, ...]]:
    """The order lines with all lost pieces on top, what is lost, and what to tell of each."""
    lost = in_all(issued.scrap, [row.scrap for row in rows])
    wanted = {line.key for line in orders}
    more: Counter[str] = Counter()
    for one in lost:
        more[own_key(one.line, wanted)] += one.pieces
    raised = tuple(
        line.model_copy(update={"quantity": line.quantity + more[line.key]}) for line in orders
    )
    places = {row.scrap.what: row for row in rows}
    return raised, lost, tuple(_told(one, wanted, places.get(one.what)) for one in lost)


def _told(one: Scrap, wanted: set[str], row: Scrapped | None) -> Finding:
    pieces = f"{one.pieces} piece{'s' * (one.pieces > 1)} of line {one.line}"
    stick = f" with stick {one.stick}" if one.stick else ""
    is_wanted = own_key(one.line, wanted) in wanted
    again = "made once more" if is_wanted else "not made again, as it is not ordered now"
    return Finding(
        severity=Severity.WARNING,
        message=f"{pieces}, scrapped at {one.operation}{stick}: {again}.",
        sheet=row.sheet if row else None,
        cell=row.cell if row else None,
        subject=one.line,
    )
