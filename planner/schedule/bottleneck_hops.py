"""Hops among orders of the bottleneck: on one of its lines, or from one of them to another."""

from __future__ import annotations

import random
from collections.abc import Sequence

from planner.schedule.bottleneck import Bottleneck, Branch, Orders
from planner.schedule.line import LineChain

HANDED = 0.4
"""Share of the hops that hand work over to another line, where there is one."""
HANDED_LONGEST = 4
"""Operations in a row that go over together, at most."""
ASIDE = 8
"""Places by which they come earlier or later than they were, at most."""


class Hopper:
    """The lines of a bottleneck in the kernel; deterministic for its seed."""

    def __init__(self, neck: Bottleneck, orders: Orders, seed: int) -> None:
        self.dice = random.Random(seed)
        self.lines = [_OneLine(branch) for branch in neck.branches]
        for line, order in zip(self.lines, orders, strict=True):
            line.begin(order, seed)

    def hop(self, orders: Orders) -> tuple[Orders, int]:
        """Orders near these, and how many moves were judged for them."""
        here = self._any(orders)
        if len(orders) > 1 and self.dice.random() < HANDED:
            return self._hand_over(orders, here)
        order, moves = self.lines[here].hop(orders[here])
        return _with(orders, {here: order}), moves

    def _any(self, orders: Orders) -> int:
        """A line, by how much is on it."""
        if len(orders) == 1:
            return 0
        return self.dice.choices(range(len(orders)), [len(order) for order in orders])[0]

    def _hand_over(self, orders: Orders, here: int) -> tuple[Orders, int]:
        """A few operations in a row go over to another line, to about the same place."""
        dice, order = self.dice, orders[here]
        there = dice.choice([number for number in range(len(orders)) if number != here])
        place = dice.randrange(len(order))
        row = order[place : place + dice.randint(1, HANDED_LONGEST)]
        taken = [i for i in row if self.lines[there].takes(i)]
        other = list(orders[there])
        near = round(place * len(other) / len(order)) + dice.randint(-ASIDE, ASIDE)
        ends = [self.lines[there].insert(other, i, near + k) for k, i in enumerate(taken)]
        if not ends:
            return orders, 0
        left = tuple(i for i in order if i not in taken)
        kept, first_moves = self.lines[here].close_up(left, place, place + 1)
        grown, moves = self.lines[there].close_up(other, min(ends), max(ends) + 1)
        return _with(orders, {here: kept, there: grown}), first_moves + moves


def _with(orders: Orders, changed: dict[int, tuple[int, ...]]) -> Orders:
    return tuple(changed.get(number, order) for number, order in enumerate(orders))


class _OneLine:
    """Orders of one line, of operations as numbered in the whole."""

    def __init__(self, branch: Branch) -> None:
        self.chain = LineChain(branch.alone, branch.line)
        self.operations = tuple(branch.mode)
        self.number = {i: number for number, i in enumerate(branch.mode)}
        self.before = [{self.operations[p.operation] for p in op.preds} for op in branch.alone.ops]
        self.after = [{self.operations[succ] for succ in op.succs} for op in branch.alone.ops]

    def takes(self, operation: int) -> bool:
        """Whether it can be done there."""
        return operation in self.number

    def begin(self, order: Sequence[int], seed: int) -> None:
        """Put an order in."""
        self.chain.begin(self._numbers(order), seed)

    def hop(self, order: Sequence[int]) -> tuple[tuple[int, ...], int]:
        """An order near this one, and how many moves were judged for it."""
        if len(order) < 2:
            return tuple(order), 0
        found, moves = self.chain.hop(self._numbers(order))
        return self._operations(found), moves

    def close_up(self, order: Sequence[int], begin: int, end: int) -> tuple[tuple[int, ...], int]:
        """What becomes of an order when something has come or gone between two places."""
        if len(order) < 2:
            return tuple(order), 0
        found, moves = self.chain.close_up(self._numbers(order), begin, end)
        return self._operations(found), moves

    def insert(self, order: list[int], operation: int, near: int) -> int:
        """Put an operation in, as near to the place as those that it waits for let it, and those
        that wait for it; its place."""
        number = self.number[operation]
        before, after = self.before[number], self.after[number]
        first = max((place + 1 for place, i in enumerate(order) if i in before), default=0)
        last = min((place for place, i in enumerate(order) if i in after), default=len(order))
        place = min(max(near, first), last)
        order.insert(place, operation)
        return place

    def _numbers(self, order: Sequence[int]) -> list[int]:
        return [self.number[i] for i in order]

    def _operations(self, numbers: Sequence[int]) -> tuple[int, ...]:
        return tuple(self.operations[number] for number in numbers)
