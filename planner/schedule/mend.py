"""A schedule mended around what had to change, so that little else moves.

One operation after the other is taken out and put where that costs least: first what is new or
must lie elsewhere, then what that moved. What an operation waits for is pulled along when it
goes ahead of that, and what waits for it is pushed behind it. The kernel judges every place.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from collections.abc import Set as AbstractSet

from planner.schedule.chain import Chain
from planner.schedule.compiled import NOWHERE, TERMS, Compiled
from planner.schedule.dispatch import Start

SWEEPS = 4
"""Times that all of it is gone through, at most."""
EFFORT = 1_200_000
"""Operations that all lists have which are judged: one takes 0.12 ms with 130 of them, 0.9 with
860 and 6.4 with 2,640 (processor time on generated weeks)."""
LEAST_PUT = 40
"""So many operations can be put somewhere at least; large weeks try fewer places for each."""


def mend(compiled: Compiled, start: Start) -> Start:
    """The schedule with operations that nobody has issued, or that are not where they were
    issued, each put where it costs least; `start` itself where that gains nothing."""
    mender = _Mender(compiled, start)
    unsettled = mender.unsettled()
    for _ in range(SWEEPS):
        before = mender.best
        for i in unsettled:
            mender.put(i)
        for i in mender.moved():
            mender.put(i)
        if mender.best is before:
            break
    return mender.best


class _Mender:
    """The best schedule so far, and how many more lists may be judged."""

    def __init__(self, compiled: Compiled, start: Start) -> None:
        self.compiled, self.best = compiled, start
        self.chain = Chain(compiled)
        self.weights = [0.0] * len(TERMS)
        self.left = EFFORT // max(1, len(compiled.ops))
        self.most_places = max(1, self.left // LEAST_PUT)
        self.uses = [_uses(compiled, i) for i in range(len(compiled.ops))]

    def unsettled(self) -> list[int]:
        """What is new or held elsewhere, the last in the list first: it pulls what it waits for."""
        ops = self.compiled.ops
        return [
            i for i in reversed(self.best.order) if self._is_free(i) and ops[i].issued_start < 0
        ]

    def moved(self) -> list[int]:
        """Issued operations that do not begin when they were to, in the order of the list."""
        ops, starts = self.compiled.ops, self._starts()
        return [
            i for i in self.best.order if self._is_free(i) and 0 <= ops[i].issued_start != starts[i]
        ]

    def put(self, i: int) -> None:
        """Put an operation where it costs least."""
        levels = self.compiled.levels
        orders = list(self._orders(i))
        for mode in self.compiled.ops[i].modes:
            modes = (*self.best.modes[:i], mode, *self.best.modes[i + 1 :])
            for order in orders[: max(0, self.left)]:
                terms = self._terms(order, modes)
                if levels(terms) < levels(self.best.terms):
                    self.best = Start(order, modes, terms)

    def _is_free(self, i: int) -> bool:
        op = self.compiled.ops[i]
        on_base = self.compiled.modes[op.modes[0]].base != NOWHERE
        return on_base and op.fixed_start < 0 and not op.done

    def _orders(self, i: int) -> Iterator[tuple[int, ...]]:
        before, after = self._related(i)
        others = [n for n, uses in enumerate(self.uses) if uses & self.uses[i]]
        near = before.union(after, others)
        return orders_around(self.best.order, i, before, after, near, self.most_places)

    def _related(self, i: int) -> tuple[set[int], set[int]]:
        """All that it waits for, and all that waits for it."""
        ops = self.compiled.ops
        before = _reached(i, [[pred.operation for pred in op.preds] for op in ops])
        return before, _reached(i, [op.succs for op in ops])

    def _starts(self) -> list[int]:
        self._terms(self.best.order, self.best.modes)
        return self.chain.times()[0]

    def _terms(self, order: Sequence[int], modes: Sequence[int]) -> tuple[int, ...]:
        self.left -= 1
        return self.chain.begin(Start(tuple(order), tuple(modes), ()), 0, self.weights)


def orders_around(
    order: Sequence[int],
    i: int,
    before: AbstractSet[int],
    after: AbstractSet[int],
    near: AbstractSet[int],
    most: int,
) -> Iterator[tuple[int, ...]]:
    """The lists with `i` elsewhere, the latest place first, `most` of them about evenly spread.

    Only behind what is `near`, as `i` may have to wait for it, is a place another one than the
    place before. Those of `before` that stood behind the place are pulled ahead of `i`, and those
    of `after` that stood ahead of it are pushed behind.
    """
    rest = [other for other in order if other != i]
    places = [p for p in range(len(rest), -1, -1) if p == 0 or rest[p - 1] in near]
    for place in places[:: -(-len(places) // most)]:
        ahead, behind = rest[:place], rest[place:]
        yield (
            *(x for x in ahead if x not in after),
            *(x for x in behind if x in before),
            i,
            *(x for x in ahead if x in after),
            *(x for x in behind if x not in before),
        )


def _uses(compiled: Compiled, i: int) -> set[tuple[str, int]]:
    """The bases and people that an operation may need."""
    modes = [compiled.modes[m] for m in compiled.ops[i].modes]
    bases = {("base", mode.base) for mode in modes if mode.base != NOWHERE}
    people = {("person", p) for mode in modes for crew in mode.crews for p in crew.people}
    return bases | people


def _reached(i: int, steps: Sequence[Sequence[int]]) -> set[int]:
    """All that can be reached from `i`, without itself."""
    found, ahead = set[int](), [i]
    while ahead:
        new = [x for x in steps[ahead.pop()] if x not in found]
        found.update(new)
        ahead.extend(new)
    return found
