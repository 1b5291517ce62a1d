"""Lots changed one by one while that pays: joined, split, or handed a line of another.

A lot that two lines share wastes less tube and is set up once; a line on its own need not wait
for the other. What that is worth shows only in the plan, so every change of the grouping is cut
and put in the run order known so far, its operations where those of the same lines stood. If it
costs more there, a short search may mend it. A change that is kept has to beat what the old
grouping makes of a search just as long.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from planner.advice import LotsTried
from planner.cutting import Solve
from planner.drafts import Desk, Draft, OrderedDraft, by_cents, draft
from planner.engines import Engines, Orderer
from planner.hours import DAY_MIN
from planner.known_order import Places, listed, places_of
from planner.lots import Grouping, grouping
from planner.neighbours import Neighbour, lot_figures, neighbours
from planner.schedule import Term

BUILD_S, BUILD_OPERATION_S = 0.02, 0.0001
"""What a try costs before any search, in nominal seconds: cutting and writing it down."""
SEARCH_OPERATION_S = 0.0004
"""How long a short search is, for each operation."""


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


class LotByLot:
    """Changes one grouping lot by lot while that pays and the budget lasts.

    Two lots never cut for less than as one, so a line is not handed from one to the other
    for the sake of the tube when cutting them as one was seen to save nothing.
    """

    def __init__(
        self, desk: Desk, solve: Solve, orderer: Orderer, best: OrderedDraft, seconds: float
    ) -> None:
        self.desk, self.solve, self.orderer = desk, solve, orderer
        self.best = best
        """The cheapest grouping so far, and the order known for it."""
        self.seconds = self.left_s = seconds
        self.seen = {best.groups}
        self.joining: dict[Grouping, int] = {}
        """What cutting two groups as one was seen to save, in cents."""
        self.tried: list[Tried] = []

    def run(self, engines: Engines) -> None:
        """Try changes, the most promising first, until the seconds are spent or none is left."""
        kept, queue = 0, self._queue()
        while queue and self.left_s > 0 and not engines.stop():
            if self._try(queue.pop()):
                kept, queue = kept + 1, self._queue()
            done = 1 - max(0.0, self.left_s) / self.seconds
            engines.announce("lots", done, f"{kept} of {len(self.tried)} changes tried are kept")

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
                before = self.best = min(before, self._searched(before), key=by_cents)
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
        self.best = min(
            known, OrderedDraft.of(self.desk, known.groups, made, settled), key=by_cents
        )

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


def _noted(neighbour: Neighbour, before: OrderedDraft, after: OrderedDraft) -> Tried:
    """What the dearer of the two groupings would add to the other."""
    groups, instead = neighbour.away, neighbour.instead
    if after.cents < before.cents:
        groups, instead, before, after = instead, groups, after, before
    return added(groups, instead, before, after)


def added(groups: Grouping, instead: Grouping, kept: OrderedDraft, other: OrderedDraft) -> Tried:
    """What another grouping, which has some groups instead of others, would add to the one kept."""

    def more(term: Term) -> int:
        return other.settled.figures.terms[term] - kept.settled.figures.terms[term]

    return Tried(
        groups=groups,
        instead=instead,
        cost_cents=other.cents - kept.cents,
        material_cents=other.draft.material_cents - kept.draft.material_cents,
        changeover_min=more(Term.CHANGEOVER),
        late_min=more(Term.LATENESS),
        undone=other.undone - kept.undone,
    )
