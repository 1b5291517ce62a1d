"""The sticks of issued cut lists among the stock as it is listed now.

The Stock sheet of a week that is planned again is read as it was on the week's first day: what
lots have taken since is taken off it here. Sticks keep their place by name; where a row was renamed
or moved, by tube spec, length and finish.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Mapping, Sequence

from planner.errors import Finding, Severity
from planner.records import CutList
from planner.stock import StockItem


class TakenStock:
    """Stock that lots take from, one after the other."""

    def __init__(self, issued: Sequence[StockItem], stock: Sequence[StockItem]) -> None:
        self.before = {item.key: item for item in issued}
        self.stock = {item.key: item for item in stock}
        self.taken: Counter[str] = Counter()
        self.findings: list[Finding] = []

    def keep(self, cut_list: CutList) -> CutList | None:
        """Take the sticks of a lot that has not begun; None when they are not there any more."""
        names = {key: name for key in used(cut_list) if (name := self._same(key)) is not None}
        if len(names) < len(used(cut_list)):
            return None
        renamed = _renamed(cut_list, names)
        after = self.taken + used(renamed)
        for key in used(renamed):
            count = self.stock[key].count
            if count is not None and after[key] > count:
                return None
        self.taken = after
        return renamed

    def insist(self, cut_list: CutList) -> CutList:
        """Take the sticks of a lot that has begun: they were there, whatever the list says."""
        names = {key: self._same(key) or self._again(key) for key in used(cut_list)}
        renamed = _renamed(cut_list, names)
        self.taken += used(renamed)
        for key in used(renamed):
            item = self.stock[key]
            if item.count is not None and self.taken[key] > item.count:
                self._say(
                    item,
                    f"Stock {key} lists {item.count}, but lots that have begun take "
                    f"{self.taken[key]}: counted as {self.taken[key]}. List what was there when "
                    "the week began.",
                )
                self.stock[key] = item.model_copy(update={"count": self.taken[key]})
        return renamed

    def _same(self, key: str) -> str | None:
        """Name of the stock item now that was called `key` in the issued plan."""
        wanted = _body(self.before[key])
        if key in self.stock and _body(self.stock[key]) == wanted:
            return key
        return next((item.key for item in self.stock.values() if _body(item) == wanted), None)

    def _again(self, key: str) -> str:
        """Put an item that is not listed any more back, as a name of its own."""
        name = key
        while name in self.stock:
            name += " (issued)"
        item = self.before[key].model_copy(update={"key": name})
        item = item if item.count is None else item.model_copy(update={"count": 0})
        self.stock[name] = item
        return name

    def _say(self, item: StockItem, message: str) -> None:
        self.findings.append(
            Finding(severity=Severity.WARNING, message=message, sheet="Stock", subject=item.key)
        )


def used(cut_list: CutList) -> Counter[str]:
    """Sticks of each stock item that a cut list takes."""
    return Counter(stick.stock for stick in cut_list.sticks)


def _body(item: StockItem) -> tuple[object, ...]:
    return item.spec, item.length_nm, item.finished, item.remnant, item.count is None


def _renamed(cut_list: CutList, names: Mapping[str, str]) -> CutList:
    sticks = tuple(
        stick.model_copy(update={"stock": names[stick.stock]}) for stick in cut_list.sticks
    )
    return cut_list.model_copy(update={"sticks": sticks})
