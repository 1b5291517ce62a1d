"""Pieces that were lost in a week that is planned again, and have to be made once more.

A plan keeps what was lost before it, so that its rows need not be kept.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace

from planner.errors import Finding, InputError, Severity
from planner.orders import OrderLine
from planner.records import Plan
from planner.replan.lines import own_key
from planner.scrap import Scrap, in_all

What = tuple[str, str, str]
"""What a number of lost pieces is said of: `Scrap.what`."""


@dataclass(frozen=True, slots=True)
class Scrapped:
    """Lost pieces as a row of progress says it."""

    scrap: Scrap
    sheet: str | None = None
    cell: str | None = None
    """Where it was read."""


@dataclass(frozen=True, slots=True)
class Lost:
    """What is lost by now, and the order lines with that on top."""

    orders: tuple[OrderLine, ...]
    scrap: tuple[Scrap, ...]
    since: Mapping[str, int]
    """Pieces more than the issued plan knew of, by the line as it is wanted now."""
    places: Mapping[What, Scrapped]

    def told(self, remade: Mapping[str, str]) -> tuple[Finding, ...]:
        """What to tell of each; `remade` has the lines that make it once more, where they are of
        that alone."""
        wanted = {line.key for line in self.orders}
        return tuple(_told(one, wanted, remade, self.places.get(one.what)) for one in self.scrap)


def made_again(orders: Sequence[OrderLine], issued: Plan, rows: Sequence[Scrapped]) -> Lost:
    """The order lines with all lost pieces on top, and what is lost.

    Raises InputError where more is said to be lost than there was.
    """
    rows = [_as_told(row, issued) for row in rows]
    lost = in_all(issued.scrap, [row.scrap for row in rows])
    places = {row.scrap.what: row for row in rows}
    if wrong := [*_at_two_steps(rows), *_too_much(issued, lost, places)]:
        raise InputError(wrong)
    wanted = {line.key for line in orders}
    more, before = _by_line(lost, wanted), _by_line(issued.scrap, wanted)
    raised = tuple(
        line.model_copy(update={"quantity": line.quantity + more[line.key]}) for line in orders
    )
    return Lost(raised, lost, more - before, places)


def _by_line(lost: Sequence[Scrap], wanted: set[str]) -> Counter[str]:
    found: Counter[str] = Counter()
    for one in lost:
        found[own_key(one.line, wanted)] += one.pieces
    return found


def _as_told(row: Scrapped, issued: Plan) -> Scrapped:
    """A row about an operation of which a loss was told when another one had its name: it says
    that once more."""
    said = row.scrap
    for known in issued.scrap:
        if (known.told_at, known.line) == (said.operation, said.line) and not said.stick:
            update = {"operation": known.operation, "told_at": known.told_at}
            return replace(row, scrap=said.model_copy(update=update))
    return row


def _at_two_steps(rows: Sequence[Scrapped]) -> Iterator[Finding]:
    """Sticks of which two rows say that they were lost, each at another step."""
    first: dict[What, str] = {}
    for row in rows:
        stick, at = row.scrap.stick, row.scrap.operation
        before = first.setdefault(row.scrap.what, at)
        if at != before:
            text = f"Stick {stick} is said to be lost at {before} and at {at}: delete one row."
            yield _finding(Severity.ERROR, text, row.scrap, row)


def _too_much(
    issued: Plan, lost: Sequence[Scrap], places: Mapping[What, Scrapped]
) -> Iterator[Finding]:
    """Lines that lose more pieces than they have."""
    quantity = {line.key: line.quantity for line in issued.orders}
    pieces: Counter[str] = Counter()
    for one in lost:
        pieces[one.line] += one.pieces
        if pieces[one.line] > quantity.get(one.line, 0):
            text = f"{pieces[one.line]} pieces of line {one.line} are said to be lost in all"
            most = f"it has {quantity.get(one.line, 0)} in the plan that was issued"
            text = f"{text}, but {most}: correct Pieces."
            yield _finding(Severity.ERROR, text, one, places.get(one.what))


def _told(one: Scrap, wanted: set[str], remade: Mapping[str, str], row: Scrapped | None) -> Finding:
    pieces = f"{one.pieces} piece{'s' * (one.pieces > 1)} of line {one.line}"
    stick = f" with stick {one.stick}" if one.stick else ""
    key = own_key(one.line, wanted)
    again = "made once more" if key in wanted else "not made again, as it is not ordered now"
    again += f", as line {remade[key]}, in a lot of its own" if key in remade else ""
    text = f"{pieces}, scrapped at {one.operation}{stick}: {again}."
    if one.told_at and row:
        text = (
            f"{text} The row says so of {one.told_at}, which was another pass when that was told; "
            f"what is lost at {one.told_at} as it is now write in a row of lot {one.operation}."
        )
    return _finding(Severity.WARNING, text, one, row)


def _finding(severity: Severity, message: str, one: Scrap, row: Scrapped | None) -> Finding:
    """A finding at the row that says what was lost."""
    return Finding(
        severity=severity,
        message=message,
        sheet=row.sheet if row else None,
        cell=row.cell if row else None,
        subject=one.line,
    )
