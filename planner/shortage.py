"""What lots lack that could not be cut: how many sticks more, and which lines use what there is."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace

from planner import cutlist
from planner.blank_checks import located
from planner.cutting import Cut, Rack, Uncut, cut_list_problem
from planner.errors import Finding, Severity
from planner.orders import OrderLine
from planner.records import Blank, Lot
from planner.shop import Shop
from planner.sticks import sticks_for
from planner.stock import StockItem
from planner.stop import Status
from planner.tube import TubeSpec, spec_name
from planner.units import NM_PER_MM, format_length

WORK = 0.2
"""Budget of the search for the fewest sticks more, in nominal seconds."""
MORE = ""
"""Name of a stock kind that stands for sticks that are not there: no stock item's."""


@dataclass(frozen=True, slots=True)
class Shelf:
    """What a shop had for its lines, and the cut lists that were made of it."""

    shop: Shop
    orders: Mapping[str, OrderLine]
    blanks: Mapping[str, Blank]
    left: Rack
    """After all of `cut` has been taken."""
    cut: Cut

    def findings(self) -> Iterator[Finding]:
        """An error for each order line of a lot that has no cut list."""
        by_spec: dict[TubeSpec, list[Uncut]] = {}
        for uncut in self.cut.uncut:
            by_spec.setdefault(uncut.lot.spec, []).append(uncut)
        for spec, same in by_spec.items():
            text = self._lack(spec, same)
            for key in (key for uncut in same for key in uncut.lot.lines):
                yield located(self.orders[key], Severity.ERROR, f"Line {key}: {text}.")

    def _lack(self, spec: TubeSpec, same: Sequence[Uncut]) -> str:
        more = self._more(same)
        if not more:
            return same[0].reasons[0].told(self._length)
        lines = [key for uncut in same for key in uncut.lot.lines]
        together = f", for {', '.join(lines)} together" if len(lines) > 1 else ""
        name = spec_name(spec, self.shop.house.unit)
        return (
            f"missing {self._sticks(more)} of {name}{together}; {self._used(same)}: enter more "
            "in Stock, or clear Count there for sticks that are bought as needed"
        )

    def _items(self, lot: Lot) -> tuple[StockItem, ...]:
        return sticks_for(self.shop, lot.spec, lot.recipe, lot.saw_first, self.left.items)

    def _more(self, same: Sequence[Uncut]) -> Counter[int]:
        """Sticks more, by length, with which lots can be cut one after the other; none where more
        sticks do not help."""
        rack, more = self.left, Counter[int]()
        for uncut in same:
            items = self._items(uncut.lot)
            problem = _with_more(cut_list_problem(self.shop, uncut.lot, self.blanks, rack), items)
            result = cutlist.solve(problem, work=WORK)
            if result.status is Status.NO_PLAN:
                return Counter()
            kinds = [problem.stock[result.patterns[one.pattern].stock] for one in result.sticks]
            more.update(kind.length_nm for kind in kinds if kind.label == MORE)
            rack = _less(rack, Counter(kind.label for kind in kinds))
        return more

    def _used(self, same: Sequence[Uncut]) -> str:
        """What there was, and which lines it goes to."""
        items = {item.key: item for uncut in same for item in self._items(uncut.lot)}.values()
        there = Counter[int]()
        for item in items:
            there[item.length_nm] += item.count or 0
        length = {item.key: item.length_nm for item in items}
        sticks = [
            s for cut_list in self.cut.cut_lists for s in cut_list.sticks if s.stock in length
        ]
        lines = dict.fromkeys(piece.line for stick in sticks for piece in stick.pieces)
        words = f"Stock has {self._sticks(there)}"
        if not sticks:
            return words
        gone = Counter(length[stick.stock] for stick in sticks)
        share = "all go" if gone == there else f"{self._sticks(gone)} go"
        return f"{words}, of which {share} to {', '.join(lines)}"

    def _sticks(self, counts: Counter[int]) -> str:
        return ", ".join(
            f"{counts[nm]} × {self._length(nm)}" for nm in sorted(counts) if counts[nm]
        )

    def _length(self, length_nm: int) -> str:
        return format_length(length_nm, self.shop.house.unit, self.shop.house.denominator)


def _with_more(problem: cutlist.Problem, items: Sequence[StockItem]) -> cutlist.Problem:
    """The same question with sticks more than there are, as few millimetres of them as will do;
    whole sticks only, unless there are nothing but remnants."""
    whole = [item for item in items if not item.remnant] or items
    lengths = sorted({item.length_nm for item in whole})
    more = [cutlist.StockKind(MORE, length, length // NM_PER_MM) for length in lengths]
    left = [replace(kind, price_cents=0) for kind in problem.stock]
    return replace(
        problem,
        stock=(*left, *more),
        drop_values=(),
        shortest_remnant_nm=None,
        finish_cents_per_m=0,
    )


def _less(rack: Rack, taken: Mapping[str, int]) -> Rack:
    left = {key: count - taken.get(key, 0) for key, count in rack.left.items()}
    return Rack(rack.items, left, rack.release_min)
