"""Which order lines share a lot: whole plans are compared, and the cheapest is kept.

Auto orders a draft for each window of due days with a small share of the budget. Where one lot
for all lines of a kind might win, those lots are cut and ordered just as `--lots merge` does it,
and what is changed lot by lot from there has to beat that plan once it is finished itself. Where
such lots are late and other windows cheaper, most of the budget goes to those, and merged lots
are put in the order that was found for them before that is kept.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from planner.advice import LotsTried
from planner.drafts import Desk, Draft, OrderedDraft, by_cents, draft
from planner.engines import Cutter, Engines, Orderer
from planner.known_order import listed, places_of
from planner.lots import Grouping
from planner.regrouping import SEARCH_OPERATION_S, LotByLot, Tried, added
from planner.schedule import Result, Settled, Term, turns_of
from planner.windows import as_far_as_tube_goes, looks, wished

LOOKS_SHARE = 0.1
"""What auto spends of the budget to order the windows' drafts."""
TRIES_SHARE, LAST_SHARE = 0.6, 0.6
"""What it spends on single changes and to order what it chose, where merged lots are out of the
running; what single changes leave goes to the last search, too."""
TRIES_BESIDE_SHARE, LAST_BESIDE_SHARE = 0.2, 0.1
"""The same from merged lots on, after a full search for them."""
LONGER_SHARE, MENDED = 0.1, 0.75
"""A longer look at merged lots, and what it leaves of their lateness at most where more search may
well put them on time. Of seven generated weeks that looked late, with 3 and 8 s, it left 67 and 0 %
in the one that a full search puts on time, and 98 to 104 % in the others."""


@dataclass(frozen=True, slots=True)
class Chosen:
    """The lots of a plan, their run order, and what else was tried."""

    draft: Draft
    result: Result
    tried: tuple[LotsTried, ...] = ()


@dataclass(frozen=True, slots=True)
class _Finished:
    """A grouping as it would be planned: cut thoroughly, and its order searched for."""

    ordered: OrderedDraft
    result: Result

    @property
    def cents(self) -> float:
        return self.ordered.cents


def choose(desk: Desk, cutter: Cutter, orderer: Orderer, engines: Engines) -> Chosen:
    """Lots by the planner's policy, and their order."""
    return _Choice(desk, cutter, orderer, engines).made()


class _Choice:
    """One choice of lots, with what it may spend."""

    def __init__(self, desk: Desk, cutter: Cutter, orderer: Orderer, engines: Engines) -> None:
        self.desk, self.cutter, self.orderer, self.engines = desk, cutter, orderer, engines

    def made(self) -> Chosen:
        first, *others = wished(self.desk)
        merged = as_far_as_tube_goes(self.desk, first, self.cutter.quick)
        if not others:
            return _chosen(self._as_alone(merged, self.cutter), ())
        cutter = self.cutter.apart()
        rest = (as_far_as_tube_goes(self.desk, groups, self.cutter.quick) for groups in others)
        ways = dict.fromkeys((merged, *rest))
        share = LOOKS_SHARE / len(ways)
        found = looks(self.desk, ways, self.cutter.quick, self.orderer, share, self.engines)
        looked = [one for one in found if one.groups == merged]
        if any(self._may_win(one, min(found, key=by_cents)) for one in looked):
            return self._beside(self._as_alone(merged, cutter), cutter, found)
        return self._without(merged, cutter, found)

    def _as_alone(self, groups: Grouping, cutter: Cutter) -> _Finished:
        """A grouping with the whole budget, as where there is no other to choose."""
        return self._finished(groups, draft(self.desk, groups, cutter.thorough), 1.0)

    def _may_win(self, merged: OrderedDraft, best: OrderedDraft) -> bool:
        """Whether merged lots are on time, or the cheapest, as far as a look shows; or would be
        with nothing late, and a longer look takes much of their lateness away."""
        house, late = self.desk.shop.house, _late(merged.settled)
        if merged is best or not late:
            return True
        if _at_floor(merged) - late * house.late_cents_h / 60 >= best.cents:
            return False
        longer = self.orderer.first(merged.draft.problem, LONGER_SHARE)
        return _late(longer) <= MENDED * late

    def _beside(self, merged: _Finished, cutter: Cutter, found: Sequence[OrderedDraft]) -> Chosen:
        """What beats the finished plan of merged lots, or that."""
        self.cutter.learn(cutter)
        known = merged.ordered
        others = [self._again(one, known) for one in found if one.groups != known.groups]
        best = min([known, *others], key=by_cents)
        alone = best is known
        by_lot = self._lot_by_lot(best, TRIES_BESIDE_SHARE if alone else TRIES_SHARE)
        made = draft(self.desk, by_lot.best.groups, self.cutter.thorough)
        if by_lot.best is known and made.material_cents >= known.draft.material_cents:
            return _chosen(merged, by_lot.tried)
        own = self._last(by_lot, made, LAST_BESIDE_SHARE if alone else LAST_SHARE)
        return _cheaper(merged, own, by_lot.tried)

    def _without(self, merged: Grouping, cutter: Cutter, found: Sequence[OrderedDraft]) -> Chosen:
        """The best window changed lot by lot, unless merged lots cost less in its order."""
        by_lot = self._lot_by_lot(min(found, key=by_cents), TRIES_SHARE)
        made = draft(self.desk, by_lot.best.groups, self.cutter.thorough)
        own = self._last(by_lot, made, LAST_SHARE)
        looked = [one for one in found if one.groups == merged != own.ordered.groups]
        for known in (self._again(one, own.ordered) for one in looked):
            if _at_floor(known) < own.cents:
                cutter.learn(self.cutter)
                made = draft(self.desk, merged, cutter.thorough)
                last = self._finished(merged, made, LAST_BESIDE_SHARE, known)
                return _cheaper(last, own, by_lot.tried)
        return _chosen(own, by_lot.tried)

    def _again(self, one: OrderedDraft, known: OrderedDraft) -> OrderedDraft:
        """A draft in the order that is known for another, or in its own, after a short search."""
        places = places_of(known.draft, known.settled.turns)
        starts = [one.settled.turns, listed(one.draft, places), listed(one.draft, places, max)]
        seconds = SEARCH_OPERATION_S * len(one.draft.operations)
        settled = self.orderer.short(one.draft.problem, starts, seconds)
        return OrderedDraft.of(self.desk, one.groups, one.draft, settled)

    def _lot_by_lot(self, best: OrderedDraft, share: float) -> LotByLot:
        """Changes of the best grouping so far, tried with a share of the budget."""
        seconds = share * self.orderer.seconds
        by_lot = LotByLot(self.desk, self.cutter.quick, self.orderer, best, seconds)
        by_lot.run(self.engines)
        return by_lot

    def _last(self, by_lot: LotByLot, made: Draft, share: float) -> _Finished:
        """What changes lot by lot came to, with what they left of the budget."""
        share += max(0.0, by_lot.left_s) / self.orderer.seconds
        return self._finished(by_lot.best.groups, made, share, by_lot.best)

    def _finished(
        self, groups: Grouping, made: Draft, share: float, known: OrderedDraft | None = None
    ) -> _Finished:
        """A grouping that is cut as it would be planned, ordered so, also from a known order."""
        start = listed(made, places_of(known.draft, known.settled.turns)) if known else ()
        result = self.orderer.whole(made.problem, share, start)
        settled = Settled(result.figures, turns_of(result.placed))
        return _Finished(OrderedDraft.of(self.desk, groups, made, settled), result)


def _late(settled: Settled) -> int:
    """Weighted minutes."""
    return settled.figures.terms[Term.LATENESS]


def _at_floor(one: OrderedDraft) -> float:
    """What it would cost if no cut list could be any dearer than is proven."""
    floor = sum(cut_list.floor_cents for cut_list in one.draft.cut.cut_lists)
    return one.cents - one.draft.material_cents + floor


def _cheaper(merged: _Finished, own: _Finished, tried: Sequence[Tried]) -> Chosen:
    """Of two finished plans the one that costs less; merged lots where both cost the same."""
    if own.cents < merged.cents:
        return _chosen(own, tried)
    mine, theirs = set(merged.ordered.groups), set(own.ordered.groups)
    groups = tuple(group for group in merged.ordered.groups if group not in theirs)
    instead = tuple(group for group in own.ordered.groups if group not in mine)
    if not instead:
        return _chosen(merged, tried)
    return _chosen(merged, (*tried, added(groups, instead, merged.ordered, own.ordered)))


def _chosen(one: _Finished, tried: Sequence[Tried]) -> Chosen:
    """A finished plan, and for each set of its lots the cheapest other grouping that was tried and
    makes all that the plan makes."""
    lot_of = {lot.lines: lot.key for lot in one.ordered.draft.lots}
    cheapest: dict[Grouping, Tried] = {}
    for other in sorted(tried, key=lambda other: (other.cost_cents, other.instead)):
        if not other.undone and all(group in lot_of for group in other.groups):
            cheapest.setdefault(other.groups, other)
    told = tuple(other.record(lot_of) for other in reversed(cheapest.values()))
    return Chosen(one.ordered.draft, one.result, told)
