"""Pieces that were spoilt in a week that is planned again, and have to be made once more."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass

from planner.errors import Finding, Severity
from planner.orders import OrderLine
from planner.replan.lines import own_key


@dataclass(frozen=True, slots=True)
class Scrapped:
    """Pieces of an issued order line that are lost."""

    line: str
    """Key of the issued line, which may be one that was added to another: `1187/2+1`."""
    pieces: int
    sheet: str | None = None
    cell: str | None = None
    """Where it was read."""

    def told(self, message: str) -> Finding:
        """A warning about it."""
        return Finding(
            severity=Severity.WARNING,
            message=message,
            sheet=self.sheet,
            cell=self.cell,
            subject=self.line,
        )


def made_again(
    orders: Sequence[OrderLine], scrapped: Sequence[Scrapped]
) -> tuple[tuple[OrderLine, ...], tuple[Finding, ...]]:
    """The order lines with the scrapped pieces on top, and what to tell of each."""
    wanted = {line.key for line in orders}
    more: Counter[str] = Counter()
    told: list[Finding] = []
    for one in scrapped:
        key = own_key(one.line, wanted)
        more[key] += one.pieces
        pieces = f"{one.pieces} piece{'s' * (one.pieces > 1)} of line {one.line}"
        again = "made once more" if key in wanted else "not made again, as it is not ordered now"
        told.append(one.told(f"{pieces}: scrapped, and {again}."))
    raised = (
        line.model_copy(update={"quantity": line.quantity + more[line.key]}) for line in orders
    )
    return tuple(raised), tuple(told)
