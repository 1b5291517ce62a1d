"""What a dispatch rule begins with and makes: urgencies of operations, and a complete list."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from heapq import heapify, heappop, heappush

from planner.schedule.compiled import Compiled


@dataclass(frozen=True, slots=True)
class Start:
    """A complete list: operations in an order that respects precedence, and their modes."""

    order: tuple[int, ...]
    modes: tuple[int, ...]
    """The mode of each operation, by operation number."""
    terms: tuple[int, ...]


@dataclass(frozen=True, slots=True)
class Urgency:
    """Per operation: when it should be done for its jobs, and what they weigh."""

    due: tuple[int, ...]
    weight: tuple[int, ...]


def urgencies(compiled: Compiled) -> Urgency:
    """Due dates and weights of jobs, handed back along the arcs less the work that follows."""
    n = len(compiled.ops)
    due, weight = [math.inf] * n, [0] * n
    for i in reversed(topological(compiled)):
        op = compiled.ops[i]
        for job in op.jobs:
            due[i] = min(due[i], compiled.due[job])
            weight[i] += compiled.weight[job]
        for after in op.succs:
            follows = min(compiled.modes[m].duration for m in compiled.ops[after].modes)
            due[i] = min(due[i], due[after] - follows)
            weight[i] = max(weight[i], weight[after])
    latest = 1 << 30
    return Urgency(tuple(latest if d == math.inf else int(d) for d in due), tuple(weight))


def topological(compiled: Compiled, priority: Sequence[int] | None = None) -> list[int]:
    """All operations, predecessors first, otherwise by `priority` or in the order entered."""
    waits = [len({p.operation for p in op.preds}) for op in compiled.ops]
    rank = range(len(waits)) if priority is None else priority
    ready = [(rank[i], i) for i, wait in enumerate(waits) if wait == 0]
    heapify(ready)
    order: list[int] = []
    while ready:
        _, i = heappop(ready)
        order.append(i)
        for after in compiled.ops[i].succs:
            waits[after] -= 1
            if waits[after] == 0:
                heappush(ready, (rank[after], after))
    return order
