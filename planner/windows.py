"""Order lines in lots by how many days of due dates may share one, and a first look at each way."""

from __future__ import annotations

from collections.abc import Collection, Mapping

from planner.cutting import Solve, cut_lots, usable
from planner.drafts import Desk, OrderedDraft, draft
from planner.engines import Engines, Orderer
from planner.errors import NoPlanError
from planner.lots import Grouping, grouping, make_lots, windowed
from planner.options import LotPolicy
from planner.records import Lot

WINDOWS: Mapping[LotPolicy, tuple[int | None, ...]] = {
    LotPolicy.BY_DUE_DATE: (1,),
    LotPolicy.MERGE: (None,),
    LotPolicy.AUTO: (None, 1, 2, 3),
}
"""How many days of due dates may share a lot, by policy; auto looks at them all, and at one lot
for all of a kind first."""


def wished(desk: Desk) -> list[Grouping]:
    """The lines by each window of the planner's policy; one alone where no two lines are of a
    kind."""
    windows = WINDOWS[desk.options.lots]
    found = [windowed(desk.free, desk.blanks, desk.due_min, days) for days in windows]
    return found[:1] if all(len(group) == 1 for group in found[0]) else found


def as_far_as_tube_goes(desk: Desk, groups: Grouping, solve: Solve) -> Grouping:
    """The groups; where tube is short for one, the lines that are due last leave it, one after the
    other, until there is enough for the rest, and each is a group of its own."""
    while short := [group for group in _uncut(desk, groups, solve) if len(group) > 1]:
        parts = [(g[:-1], g[-1:]) if g in short else (g,) for g in groups]
        groups = grouping((part for each in parts for part in each), desk.due_min)
    return groups


def _uncut(desk: Desk, groups: Grouping, solve: Solve) -> set[tuple[str, ...]]:
    """Groups that cannot be cut, of those whose sticks are all counted."""
    lots = make_lots(groups, desk.orders, desk.blanks, desk.due_min)
    scarce = [lot for lot in lots if _is_scarce(desk, lot)]
    cut = cut_lots(desk.shop, scarce, desk.blanks, desk.rack, solve)
    return {uncut.lot.lines for uncut in cut.uncut}


def _is_scarce(desk: Desk, lot: Lot) -> bool:
    return all(item.count is not None for item in usable(desk.shop, lot, desk.rack))


def looks(
    desk: Desk,
    ways: Collection[Grouping],
    solve: Solve,
    orderer: Orderer,
    share: float,
    engines: Engines,
) -> list[OrderedDraft]:
    """The groupings cut and ordered with a small share of the budget each, those that were reached
    before a stop was asked for and can be planned; NoPlanError where none can."""
    found: list[OrderedDraft] = []
    refused: list[NoPlanError] = []
    for number, groups in enumerate(ways, start=1):
        if found and engines.stop():
            break
        engines.announce("lots", 0.0, f"windows of due dates, {number} of {len(ways)}")
        try:
            made = draft(desk, groups, solve)
            found.append(OrderedDraft.of(desk, groups, made, orderer.first(made.problem, share)))
        except NoPlanError as error:
            refused.append(error)
    if not found:
        raise refused[0]
    return found
