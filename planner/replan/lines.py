"""What became of each order line since the plan was issued: the same, more, fewer, gone, new.

A lot that has begun is finished and cut as it was issued. When its line has changed meanwhile,
what the new line needs beyond it becomes a line of its own, named after the first: `1187/2+1`.
A line that is not wanted any more is still cut with its lot, as straight blanks for stock.
"""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Collection, Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from datetime import datetime

from planner.blank_checks import located
from planner.errors import Finding, Severity
from planner.orders import CutLength, EndCut, OrderLine
from planner.records import Blank, Lot, Plan

_MORE = re.compile(r"\+[0-9]+$")


@dataclass(frozen=True, slots=True)
class Lines:
    """The lines to plan now, and the issued ones that are as they were."""

    orders: tuple[OrderLine, ...]
    same: frozenset[str]
    """Keys of issued lines that are made as they were, in the same quantity, and of all that
    are cut with a lot that stays."""
    findings: tuple[Finding, ...]
    remade: Mapping[str, str] = field(default_factory=dict[str, str])
    """Lines that make what was lost since, and nothing else, by the line that lost it."""


@dataclass(frozen=True, slots=True)
class Begun:
    """What the lines must know of the issued plan: which of its lots and lines have begun."""

    lots: Mapping[str, Lot]
    """Lots that stay whatever happens to their lines, by line."""
    others: Mapping[str, Lot]
    """The other lots, by line."""
    touched: Collection[str]
    """Lines with work of their own, after the saw, that has begun or must stay."""
    blanks: Mapping[str, Blank]
    far: datetime
    """Due date of what nobody waits for."""
    lost: Mapping[str, int] = field(default_factory=dict[str, int])
    """Pieces that were lost since the plan was issued, by the line as it is wanted now."""


def sort_lines(issued: Plan, orders: Sequence[OrderLine], begun: Begun) -> Lines:
    """Compare the order lines as they are now with the issued ones."""
    return _Sorter(issued, orders, begun).lines()


def pieces_issued(issued: Plan) -> Mapping[str, int]:
    """The pieces of each issued line, with those of lines that were added to it, by its own key;
    without those that are made once more."""
    pieces: Counter[str] = Counter()
    for line in issued.orders:
        pieces[_MORE.sub("", line.key)] += line.quantity
    for one in issued.scrap:
        pieces[_MORE.sub("", one.line)] -= one.pieces
    return +pieces


def own_key(key: str, wanted: Collection[str]) -> str:
    """The key of the wanted line that an issued one belongs to: `1187/2` for `1187/2+1`."""
    return key if key in wanted else _MORE.sub("", key)


def making(line: OrderLine) -> tuple[object, ...]:
    """All that decides how the pieces of a line are made."""
    ends = *line.ends, line.twist_mdeg
    return line.spec, line.recipe, line.shape, ends, line.route, line.touch_up_s


@dataclass
class _Sorter:
    issued: Plan
    orders: Sequence[OrderLine]
    begun: Begun
    found: list[OrderLine] = field(default_factory=list[OrderLine])
    same: set[str] = field(default_factory=set[str])
    findings: list[Finding] = field(default_factory=list[Finding])
    remade: dict[str, str] = field(default_factory=dict[str, str])

    def lines(self) -> Lines:
        wanted = {line.key for line in self.orders}
        before: dict[str, list[OrderLine]] = {}
        for old in self.issued.orders:
            before.setdefault(own_key(old.key, wanted), []).append(old)
        for line in self.orders:
            if line.key in wanted:
                wanted.remove(line.key)
                self._line(line, before.pop(line.key, []))
            else:
                self._say(line, f"Line {line.key} is entered twice: the first one is planned.")
        for old in (old for olds in before.values() for old in olds):
            self._gone(old)
        return Lines(
            tuple(self.found), frozenset(self.same), tuple(self.findings), dict(self.remade)
        )

    def _line(self, line: OrderLine, before: Sequence[OrderLine]) -> None:
        """A line that is still ordered, with the issued lines that were made of it."""
        cut = [old for old in before if old.key in self.begun.lots]
        right = [old for old in cut if making(old) == making(line)]
        for old in cut:
            if old in right:
                self._keep(line, old)
            else:
                self._stop(old, "was changed")
        need = line.quantity - sum(old.quantity for old in right)
        waiting = [old for old in before if old.key not in self.begun.lots]
        if len(waiting) == 1 and need == waiting[0].quantity and making(waiting[0]) == making(line):
            self._keep(line, waiting[0])
        elif need > 0:
            self._more(line, cut, need, [*cut, *waiting])
        if need < 0:
            lots = ", ".join(dict.fromkeys(self.begun.lots[old.key].key for old in right))
            self._say(
                line,
                f"Line {line.key} is now for {line.quantity} pieces, but lot {lots} had begun: "
                f"{-need} more than ordered are cut; put them on the rack.",
            )
        for old in waiting:
            if old.key not in self.same:
                self._say(line, self._anew(old, need))

    def _anew(self, old: OrderLine, need: int) -> str:
        """What becomes of an issued line that is not made as it was, in a lot that waits."""
        lot = self.begun.others[old.key].key
        if need > 0:
            return f"Line {old.key} was changed before lot {lot} had begun: it is in a new lot."
        return (
            f"Line {old.key}, lot {lot}, is left out, as lots that have begun make all that is "
            "wanted."
        )

    def _keep(self, line: OrderLine, old: OrderLine) -> None:
        self.found.append(line.model_copy(update={"line": old.line, "quantity": old.quantity}))
        self.same.add(old.key)

    def _more(
        self, line: OrderLine, cut: Sequence[OrderLine], need: int, before: Sequence[OrderLine]
    ) -> None:
        """A line for what the lots that have begun do not bring."""
        taken = {old.key for old in cut}
        names = (line.line, *(f"{line.line}+{number}" for number in range(1, len(before) + 2)))
        name = next(name for name in names if f"{line.order}/{name}" not in taken)
        more = line.model_copy(update={"line": name, "quantity": need})
        self.found.append(more)
        if cut and need == self.begun.lost.get(line.key):
            self.remade[line.key] = more.key
        elif cut:
            lots = ", ".join(dict.fromkeys(self.begun.lots[old.key].key for old in cut))
            self._say(
                line,
                f"Line {line.key}: lot {lots} had begun, so what is still needed, {need} "
                f"piece{'s' * (need > 1)}, is line {more.key}, in a lot of its own.",
            )

    def _gone(self, old: OrderLine) -> None:
        """An issued line that is not ordered any more."""
        if old.key in self.begun.lots:
            self._stop(old, "was cancelled")
            return
        lot = self.begun.others[old.key].key
        text = f"Line {old.key} was cancelled before lot {lot} had begun: its tube stays whole."
        self._say(old, text)

    def _stop(self, old: OrderLine, what: str) -> None:
        """A line that is not wanted, in a lot that has begun."""
        lot = self.begun.lots[old.key].key
        self.same.add(old.key)
        update: dict[str, object] = {"due": max(old.due, self.begun.far), "weight": 1}
        update["notes"] = f"{what} after lot {lot} had begun"
        if old.key in self.begun.touched:
            text = "its work goes on, last of all"
        else:
            text = "its pieces are cut as straight blanks for the rack and go no further"
            update |= {
                "shape": CutLength(length_nm=self.begun.blanks[old.key].length_nm),
                "ends": (EndCut(), EndCut()),
                "touch_up_s": 0,
            }
        self.found.append(old.model_copy(update=update))
        self._say(old, f"Line {old.key} {what} after lot {lot} had begun: {text}.")

    def _say(self, line: OrderLine, message: str) -> None:
        self.findings.append(located(line, Severity.WARNING, message))


def begun_of(
    issued: Plan,
    stays: Collection[str],
    touched: Collection[str],
    far: datetime,
    lost: Mapping[str, int] | None = None,
) -> Begun:
    """The issued lots by line, apart by whether they stay; `stays` has the keys of those, and
    `lost` the pieces that were lost since."""
    by_line = dict(_by_line(issued.lots))
    return Begun(
        lots={line: lot for line, lot in by_line.items() if lot.key in stays},
        others={line: lot for line, lot in by_line.items() if lot.key not in stays},
        touched=touched,
        blanks={blank.line: blank for blank in issued.blanks},
        far=far,
        lost=lost or {},
    )


def _by_line(lots: Sequence[Lot]) -> Iterator[tuple[str, Lot]]:
    for lot in lots:
        for line in lot.lines:
            yield line, lot
