"""Search by the bottleneck: orders of its line, each judged by what it makes of the whole shop.

A line proposes: it is disturbed in one place and goes down from there by moves that cost a few
nanoseconds each. The shop disposes: hour by hour each station takes up what is next, the line's
work in its order and all other by due date or by ATCS, and what that comes to decides, as in
annealing. So the line only has to be right about which orders are worth a look. That costs about
as much as a few hundred moves of annealing of the whole list, where hardly one is taken and each
taken one shifts all that comes after.

All stations go forward in time together because people do: were the line placed first, whoever
runs it could do nothing else until its last hour.
"""

from __future__ import annotations

import math
import random
from collections.abc import Sequence
from dataclasses import dataclass, replace
from functools import partial

from planner.schedule.bottleneck import Bottleneck, Orders, as_bottleneck
from planner.schedule.bottleneck_hops import Hopper
from planner.schedule.compiled import Compiled
from planner.schedule.dispatch import Start, urgencies
from planner.schedule.dispatcher import Dispatcher, DispatchRule, Kind
from planner.schedule.lanes import Enough, Hear, best_of_lanes, ranked, seeds_of
from planner.schedule.phases import energies
from planner.schedule.rates import LINE_NS
from planner.schedule.rules import atcs_rules
from planner.stop import Stop

EARLIER_MIN = (100, 50)
"""By how many minutes, lane by lane, work is due before what follows it must begin."""
WARMTH = 0.03
"""Temperature at the beginning of a round, in energies of the order; at its end there is none."""
ROUND_S = 0.0025
"""Of the budget, for each operation, in each round if there are several; the later ones begin from
the best order. With people and two finishers four rounds came to 29,890 and 38,389 weighted minutes
late, one to 31,835 and 46,409 (the first 193 and 201 jobs of weeks 600/23 and 600/29, 8 s, two
seeds each); one finisher, or nobody needed, to 1 to 9 % less."""
HOPELESS = 0.2
"""Share of the budget after which a lane gives up that has found nothing better than the starts:
the line is then no guide to the shop."""
PLACED_NS = 600
"""What it costs to place an operation by a rule."""


@dataclass(frozen=True, slots=True)
class Led:
    """The best schedule that the bottleneck led to, and what that took."""

    best: Start
    tried: int
    """Orders that were judged, in all lanes."""
    seconds: float
    """Of the budget, by the slowest lane."""


def search_bottleneck(
    compiled: Compiled,
    starts: Sequence[Start],
    seconds: float,
    stop: Stop,
    seed: int,
    hear: Hear,
    enough: Enough,
) -> Led | None:
    """Search among orders of the bottleneck, beginning with that of the best of `starts`; None
    where it is more than lines."""
    known = ranked(compiled, starts)
    necks = [as_bottleneck(compiled, earlier_min) for earlier_min in EARLIER_MIN]
    lanes = [
        _Lane(neck, known, each_seed, seconds)
        for neck, each_seed in zip(necks, seeds_of(seed, 0), strict=True)
        if neck is not None
    ]
    if not lanes:
        return None
    running = [partial(lane.run, stop, enough) for lane in lanes]
    best = best_of_lanes(compiled, running, known[0], hear)
    return Led(best, sum(lane.tried for lane in lanes), max(lane.seconds for lane in lanes))


class _Lane:
    def __init__(
        self, neck: Bottleneck, starts: Sequence[Start], seed: int, seconds: float
    ) -> None:
        self.neck = neck
        self.starts = starts
        self.seed = seed
        self.most_s = seconds
        self.rounds = max(1, int(seconds / (ROUND_S * len(neck.whole.ops))))
        self.tried = 0
        self.seconds = 0.0

    def run(self, stop: Stop, enough: Enough, tell: Hear) -> Start:
        """Rounds of hops; the best schedule is returned."""
        shop, dice = _Shop(self.neck), random.Random(self.seed)
        orders = shop.fit([self.neck.orders_in(start) for start in self.starts])
        hopper = Hopper(self.neck, orders, self.seed)
        best, least, energy = orders, shop.levels(orders), shop.energy(orders)
        best_energy, number = energy, 0
        terms, known = shop.terms, shop.compiled.levels(self.starts[0].terms)
        while self.seconds < self.most_s and not stop() and not enough(shop.terms):
            if self.seconds > HOPELESS * self.most_s and least >= known:
                break
            if self._round() > number:
                orders, energy, number = best, best_energy, self._round()
            other, moves = hopper.hop(orders)
            found = shop.energy(other)
            levels = shop.compiled.levels(shop.terms)
            if found <= energy * (1 - self._warmth() * math.log(1 - dice.random())):
                orders, energy = other, found
            if levels < least:
                best, least, best_energy, terms = other, levels, found, shop.terms
            self.tried += 1
            self.seconds += (moves * LINE_NS + shop.placing_ns) / 1e9
            tell(self.seconds / self.most_s, terms)
        return shop.build(best)

    def _round(self) -> int:
        return int(self.rounds * self.seconds / self.most_s)

    def _warmth(self) -> float:
        return WARMTH * (1 - self.rounds * self.seconds / self.most_s % 1)


class _Shop:
    """What orders of the lines come to when the rest of the work is taken up by a rule."""

    def __init__(self, neck: Bottleneck) -> None:
        self.neck = neck
        self.compiled = neck.whole
        self.dispatcher = Dispatcher(neck.whole, urgencies(neck.whole))
        self.rule = DispatchRule(Kind.RANKED, self.dispatcher.due_rank)
        self.weights = energies(neck.whole, 0.0)
        self.placing_ns = PLACED_NS * len(neck.whole.ops)
        self.terms: tuple[int, ...] = ()
        """Of the order that was asked about last."""

    def fit(self, known: Sequence[Orders]) -> Orders:
        """The best of these orders; the rest is taken up by the rule that suits it best."""
        orders = min(known, key=self.levels)
        rules = [self.rule, *atcs_rules(self.compiled, self.dispatcher)]

        def levels(rule: DispatchRule) -> tuple[int, ...]:
            self.rule = rule
            return self.levels(orders)

        self.rule = min(rules, key=levels)
        return orders

    def build(self, orders: Orders) -> Start:
        """The whole schedule."""
        return self.dispatcher.build(self._led(orders))

    def levels(self, orders: Orders) -> tuple[int, ...]:
        """Its levels."""
        self.terms = self.dispatcher.terms(self._led(orders))
        return self.compiled.levels(self.terms)

    def energy(self, orders: Orders) -> float:
        """Its energy in annealing."""
        self.terms = self.dispatcher.terms(self._led(orders))
        return sum(w * term for w, term in zip(self.weights, self.terms, strict=True))

    def _led(self, orders: Orders) -> DispatchRule:
        rank = self.neck.ranks(orders, self.dispatcher.due_rank)
        return replace(self.rule, rank=rank, lines=self.neck.lines(orders))
