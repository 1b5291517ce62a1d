"""What can be lost at a step, as its form asks for it: sticks before the saw, then pieces.

Sticks of one length are as good as each other until they are sawn, so that those at the end of the
cut list are the lost ones, or those of which that is known already.
"""

from __future__ import annotations

from collections import Counter, defaultdict
from collections.abc import Mapping
from dataclasses import dataclass

from planner.records import Operation, Stick
from planner.scrap import Scrap, in_all
from planner_io.taps import Stands
from planner_io.views.index import Index
from planner_io.views.losses import Losses, takes_sticks


@dataclass(frozen=True)
class Losable:
    """Sticks of a length, or pieces of an order line."""

    operation: str
    label: str
    hint: str
    most: int
    sticks: tuple[Stick, ...] = ()
    line: str = ""

    def scrap(self, count: int) -> tuple[Scrap, ...]:
        """So many of them, as they are kept."""
        if self.line:
            return (Scrap(operation=self.operation, line=self.line, pieces=count),) * bool(count)
        return tuple(
            Scrap(operation=self.operation, line=line, stick=stick.tag, pieces=pieces)
            for stick in self.sticks[len(self.sticks) - count :]
            for line, pieces in Counter(piece.line for piece in stick.pieces).items()
        )


def losses(index: Index, now: Mapping[str, Stands]) -> Losses:
    """What is lost by now: before the week was planned, and what was entered since."""
    entered = [one for it in now.values() if it.report for one in it.report.scrap]
    return Losses(index, in_all(index.plan.scrap, entered))


def losable(lost: Losses, operation: Operation) -> tuple[Losable, ...]:
    """What can be lost at a step."""
    if takes_sticks(lost.index, operation):
        return _sticks(lost, operation)
    return _pieces(lost, operation)


def _sticks(lost: Losses, operation: Operation) -> tuple[Losable, ...]:
    gone = lost.sticks(operation)
    lengths: dict[int, list[Stick]] = defaultdict(list)
    here = {one.stick for one in lost.scrap if one.operation == operation.key}
    sticks = lost.index.cut_lists[operation.lot].sticks
    for stick in sorted(sticks, key=lambda stick: stick.tag in here):
        if not stick.finished and stick.tag not in gone:
            lengths[stick.length_nm].append(stick)
    several = len(lengths) > 1
    return tuple(
        Losable(
            operation.key,
            f"Scrap: sticks of {lost.index.ruler.length(length)}" if several else "Scrap: sticks",
            f"blank for none of {len(sticks)}",
            len(sticks),
            sticks=tuple(sticks),
        )
        for length, sticks in lengths.items()
    )


def _pieces(lost: Losses, operation: Operation) -> tuple[Losable, ...]:
    gone: Counter[str] = Counter()
    for one in lost.before(operation):
        gone[one.line] += one.pieces
    left = {
        line: lost.index.orders[line].quantity - gone[line]
        for line in lost.index.lines_of(operation)
    }
    return tuple(
        Losable(
            operation.key,
            f"Scrap: pieces of {line}",
            f"blank for none of {count}",
            count,
            line=line,
        )
        for line, count in left.items()
        if count > 0
    )
