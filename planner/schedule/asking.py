"""Who is asked for people first: a list for work whose order on each base is given.

People are asked in the order of the list. By start, whoever begins a quarter of an hour earlier at
a base that has time takes somebody from the one that all wait for. So bases ask some minutes ahead
of their work, each as many as leave the least late.
"""

from __future__ import annotations

import heapq
from collections.abc import Sequence

from planner.schedule.chain import Chain
from planner.schedule.compiled import NOWHERE, Compiled
from planner.schedule.dispatch import Start
from planner.schedule.phases import energies

STEP_MIN = 30
"""By how much more or less ahead a base is tried to ask. Five people for two finishers: four orders
of 200 lots were late by 93,704 to 146,233 weighted minutes by start and by 44,567 to 83,223 where
finishers ask ahead; in steps of 15 minutes by 44,558 to 83,223, and by 43,188 to 72,922 where
stretches of one base asked ahead by minutes of their own."""
ROUNDS = 2


def asked_in_time(compiled: Compiled, order: Start, wished: Sequence[int]) -> Start:
    """`order` with the same work in the same order on each base, for the people of `compiled`.

    `wished` are the minutes at which each operation would begin were nobody needed.
    """
    chain, energy = Chain(compiled), energies(compiled, 0.0)
    bases = [compiled.modes[mode].base for mode in order.modes]

    def ahead_by(minutes: Sequence[int]) -> Start:
        asks = [
            wish - (0 if base == NOWHERE else minutes[base])
            for wish, base in zip(wished, bases, strict=True)
        ]
        listed = _listed(compiled, order.order, bases, asks)
        return Start(listed, order.modes, chain.begin(Start(listed, order.modes, ()), 0, energy))

    best, minutes = ahead_by([0] * len(compiled.bases)), [0] * len(compiled.bases)
    for base in [*range(len(minutes))] * ROUNDS:
        for step in (STEP_MIN, -STEP_MIN):
            while True:
                tried = [*minutes[:base], minutes[base] + step, *minutes[base + 1 :]]
                found = ahead_by(tried)
                if compiled.levels(found.terms) >= compiled.levels(best.terms):
                    break
                best, minutes = found, tried
    return best


def _listed(
    compiled: Compiled, order: Sequence[int], bases: Sequence[int], asks: Sequence[int]
) -> tuple[int, ...]:
    """By when they ask, what comes first on a base or in a route before what comes after it."""
    after: list[list[int]] = [[] for _ in order]
    waits = [0] * len(order)
    last: dict[int, int] = {}
    for op in order:
        before = [pred.operation for pred in compiled.ops[op].preds]
        if bases[op] != NOWHERE:
            before += [last[bases[op]]] if bases[op] in last else []
            last[bases[op]] = op
        for other in before:
            after[other].append(op)
        waits[op] = len(before)
    ready = [(asks[op], op) for op in order if not waits[op]]
    heapq.heapify(ready)
    listed: list[int] = []
    while ready:
        _, op = heapq.heappop(ready)
        listed.append(op)
        for other in after[op]:
            waits[other] -= 1
            if not waits[other]:
                heapq.heappush(ready, (asks[other], other))
    return tuple(listed)
