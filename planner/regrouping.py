"""Which order lines share a lot: the best window of due days first, then lot by lot.

A lot that two lines share wastes less tube and is set up once; a line on its own need not wait
for the other. What that is worth shows only in the plan, so every change of the grouping is cut
and put in the run order known so far, its operations where those of the same lines stood. If it
costs more there, a short search may mend it. A change that is kept has to beat what the old
grouping makes of a search just as long.
"""

from __future__ import annotations

from collections.abc import Collection, Mapping, Sequence
from dataclasses import dataclass, field

from planner.advice import LotsTried
from planner.cutting import Solve, cut_lots, usable
from planner.drafts import Desk, Draft, cost_cents, draft, undone
from planner.engines import Engines, Orderer
from planner.errors import NoPlanError
from planner.hours import DAY_MIN
from planner.known_order import Place, Places, listed, places_of
from planner.lots import Grouping, grouping, make_lots, windowed
from planner.neighbours import Neighbour, lot_figures, neighbours
from planner.options import LotPolicy
from planner.records import Lot
from planner.schedule import Settled, Term

WINDOWS: Mapping[LotPolicy, tuple[int | None, ...]] = {
    LotPolicy.BY_DUE_DATE: (1,),
    LotPolicy.MERGE: (None,),
    LotPolicy.AUTO: (1, 2, 3, None),
}
"""How many days of due dates may share a lot, by policy; auto tries them all."""
WINDOWS_SHARE, TRIES_SHARE, LAST_SHARE = 0.1, 0.6, 0.6
"""What auto spends of the budget to order the windows' drafts, on single changes, and to order
what it chose; what single changes leave goes there too."""
BUILD_S, BUILD_OPERATION_S = 0.02, 0.0001
"""What a try costs before any search, in nominal seconds: cutting and writing it down."""
SEARCH_OPERATION_S = 0.0004
"""How long a short search is, for each operation."""


@dataclass(frozen=True, slots=True)
class Chosen:
    """The grouping to plan with, what is known of its run order, and what else was tried."""

    groups: Grouping
    share: float = 1.0
    """What is left to order it, of the orderer's seconds."""
    places: Places = field(default_factory=dict[tuple[str, str], Place])
    tried: tuple[Tried, ...] = ()


@dataclass(frozen=True, slots=True)
class Tried:
    """Groups that a grouping has, others that were tried instead, and what those would add."""

    groups: Grouping
    instead: Grouping
    cost_cents: float
    """All of it; the rest says of what."""
    material_cents: int
    changeover_min: int
    late_min: int
    """Weighted."""
    undone: int
    """Lines that the others cannot cut besides, such as for want of tube: they are no other way to
    make the same then, and what they cost says nothing."""

    def record(self, lot_of: Mapping[tuple[str, ...], str]) -> LotsTried:
        """As the plan tells it, by the names of its lots."""
        return LotsTried(
            lots=tuple(lot_of[group] for group in self.groups),
            instead=self.instead,
            cost_cents=round(self.cost_cents),
            material_cents=self.material_cents,
            changeover_min=self.changeover_min,
            late_min=self.late_min,
        )


def choose(desk: Desk, solve: Solve, orderer: Orderer, engines: Engines) -> Chosen:
    """The grouping under the planner's policy. Auto orders a draft for each window of due days
    with a small share of the budget, takes the one that costs least, money and lateness
    together, and changes it lot by lot."""
    windows = WINDOWS[desk.options.lots]
    wished = [windowed(desk.free, desk.blanks, desk.due_min, days) for days in windows]
    if len(windows) == 1 or all(len(kind) == 1 for kind in wished[-1]):
        return Chosen(_as_far_as_tube_goes(desk, wished[0], solve))
    ways = dict.fromkeys(_as_far_as_tube_goes(desk, groups, solve) for groups in wished)
    share = WINDOWS_SHARE / len(ways)
    best = best_window(desk, ways, solve, orderer, share, engines)
    return LotByLot(desk, solve, orderer, best).run(engines)


def _as_far_as_tube_goes(desk: Desk, groups: Grouping, solve: Solve) -> Grouping:
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


def best_window(
    desk: Desk,
    ways: Collection[Grouping],
    solve: Solve,
    orderer: Orderer,
    share: float,
    engines: Engines,
) -> OrderedDraft:
    """The grouping whose draft costs least of those tried before a stop was asked for; NoPlanError
    where none can be planned."""
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
    return min(found, key=_cents)


@dataclass(frozen=True, slots=True)
class OrderedDraft:
    """A grouping, its draft, the run order known for it and what that costs."""

    groups: Grouping
    draft: Draft
    settled: Settled
    cents: float
    undone: int

    @classmethod
    def of(cls, desk: Desk, groups: Grouping, made: Draft, settled: Settled) -> OrderedDraft:
        """A draft with the run order found for it, and their cost."""
        figures = settled.figures
        cents, left = cost_cents(desk, made, figures), undone(desk, made, figures)
        return cls(groups, made, settled, cents, left)


def lots_tried(chosen: Chosen, made: Draft) -> tuple[LotsTried, ...]:
    """For each set of lots of the plan the cheapest other grouping that was tried and makes all
    that the plan makes."""
    lot_of = {lot.lines: lot.key for lot in made.lots}
    cheapest: dict[Grouping, Tried] = {}
    for one in sorted(chosen.tried, key=lambda one: (one.cost_cents, one.instead)):
        if not one.undone and all(group in lot_of for group in one.groups):
            cheapest.setdefault(one.groups, one)
    return tuple(one.record(lot_of) for one in reversed(cheapest.values()))


class LotByLot:
    """Changes one grouping lot by lot while that pays and the budget lasts.

    Two lots never cut for less than as one, so a line is not handed from one to the other
    for the sake of the tube when cutting them as one was seen to save nothing.
    """

    def __init__(self, desk: Desk, solve: Solve, orderer: Orderer, best: OrderedDraft) -> None:
        self.desk, self.solve, self.orderer = desk, solve, orderer
        self.best = best
        self.left_s = TRIES_SHARE * orderer.seconds
        self.seen = {best.groups}
        self.joining: dict[Grouping, int] = {}
        """What cutting two groups as one was seen to save, in cents."""
        self.tried: list[Tried] = []

    def run(self, engines: Engines) -> Chosen:
        """The best grouping found, and how it was ordered."""
        kept, queue = 0, self._queue()
        while queue and self.left_s > 0 and not engines.stop():
            if self._try(queue.pop()):
                kept, queue = kept + 1, self._queue()
            done = 1 - max(0.0, self.left_s) / (TRIES_SHARE * self.orderer.seconds)
            engines.announce("lots", done, f"{kept} of {len(self.tried)} changes tried are kept")
        share = LAST_SHARE + max(0.0, self.left_s) / self.orderer.seconds
        places = places_of(self.best.draft, self.best.settled.turns)
        return Chosen(self.best.groups, share, places, tuple(self.tried))

    def _queue(self) -> list[Neighbour]:
        """What may be tried, the most promising last."""
        figures = lot_figures(self.desk, self.best.draft, self.best.settled.turns)
        return neighbours(self.desk, figures, self.best.groups)[::-1]

    def _try(self, neighbour: Neighbour) -> bool:
        """Cut and place it; keep it if it costs less, as it is or after a short search."""
        if neighbour.promise_cents + self.joining.get(neighbour.away, 1) <= 0:
            return False
        rest = [group for group in self.best.groups if group not in neighbour.away]
        groups = grouping((*rest, *neighbour.instead), self.desk.due_min)
        if groups in self.seen:
            return False
        self.seen.add(groups)
        made = draft(self.desk, groups, self.solve)
        self.left_s -= BUILD_S + BUILD_OPERATION_S * len(made.operations)
        if len(neighbour.away) == 1 and made.material_cents < self.best.draft.material_cents:
            self._cut_again()
        before = self.best
        saves = before.draft.material_cents - made.material_cents
        if len(neighbour.instead) == 1:
            self.joining[neighbour.away] = saves
        if saves + neighbour.promise_cents <= 0:
            return False
        after = self._placed(groups, made, neighbour)
        if after.cents >= before.cents:
            after = self._searched(after)
            if after.cents < before.cents:
                before = self.best = min(before, self._searched(before), key=_cents)
        self.tried.append(_noted(neighbour, before, after))
        if after.cents < before.cents:
            self.best = after
        return after.cents < before.cents

    def _cut_again(self) -> None:
        """Cut the best grouping once more: parts that cost less than their lot show that it can
        be cut for less itself, and now there are theirs to begin with."""
        known = self.best
        made = draft(self.desk, known.groups, self.solve)
        self.left_s -= BUILD_S + BUILD_OPERATION_S * len(made.operations)
        start = listed(made, places_of(known.draft, known.settled.turns))
        settled = self.orderer.short(made.problem, [start], 0.0)
        self.best = min(known, OrderedDraft.of(self.desk, known.groups, made, settled), key=_cents)

    def _placed(self, groups: Grouping, made: Draft, neighbour: Neighbour) -> OrderedDraft:
        """The new lots where the work of their lines stood, or the last of them a day ahead of
        its due date, as that may let others go first."""
        known = places_of(self.best.draft, self.best.settled.turns)
        starts = [listed(made, known), listed(made, known, max)]
        if len(neighbour.instead) == 2:
            starts.append(listed(made, self._put_off(known, neighbour.instead[1])))
        settled = self.orderer.short(made.problem, starts, 0.0)
        return OrderedDraft.of(self.desk, groups, made, settled)

    def _put_off(self, known: Places, lines: Sequence[str]) -> Places:
        """Places with the work of these lines put off until a day before the first is due."""
        turns = self.best.settled.turns
        until = min(self.desk.due_min[line] for line in lines) - DAY_MIN
        first = next((n for n, turn in enumerate(turns) if turn.end_min >= until), len(turns))
        return {
            name: (max(place, first) if name[0] in lines else place, station)
            for name, (place, station) in known.items()
        }

    def _searched(self, known: OrderedDraft) -> OrderedDraft:
        """The same grouping after a short search from its order."""
        seconds = SEARCH_OPERATION_S * len(known.draft.operations)
        self.left_s -= seconds
        settled = self.orderer.short(known.draft.problem, [known.settled.turns], seconds)
        return OrderedDraft.of(self.desk, known.groups, known.draft, settled)


def _cents(one: OrderedDraft) -> float:
    return one.cents


def _noted(neighbour: Neighbour, before: OrderedDraft, after: OrderedDraft) -> Tried:
    """What the dearer of the two groupings would add to the other."""
    kept = after.cents < before.cents
    groups, instead = neighbour.away, neighbour.instead
    if kept:
        groups, instead, before, after = instead, groups, after, before

    def more(term: Term) -> int:
        return after.settled.figures.terms[term] - before.settled.figures.terms[term]

    return Tried(
        groups=groups,
        instead=instead,
        cost_cents=after.cents - before.cents,
        material_cents=after.draft.material_cents - before.draft.material_cents,
        changeover_min=more(Term.CHANGEOVER),
        late_min=more(Term.LATENESS),
        undone=after.undone - before.undone,
    )
