"""A cut list of one group put together from those of its parts.

What several lots are cut from, one lot of all of them can be cut from, too. So a lot is never
dearer than its parts, and a search for it may begin with theirs.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from dataclasses import replace

from planner.cutlist.problem import Problem
from planner.cutlist.result import Pattern, Result
from planner.stop import Status

Part = tuple[Problem, Result]
"""A group that is cut, and how."""


def joined(whole: Problem, parts: Sequence[Part]) -> Result | None:
    """The sticks of parts that have the pieces of the whole between them and are cut by the same
    saw; a result to go on from, or None where the whole has not all of these sticks."""
    stock_of = {kind.label: number for number, kind in enumerate(whole.stock)}
    patterns: list[Pattern] = []
    for problem, result in parts:
        for pattern in result.patterns:
            stock = stock_of.get(problem.stock[pattern.stock].label)
            if stock is None:
                return None
            patterns.append(replace(pattern, stock=stock))
    if not _are_there(whole, patterns):
        return None
    cost = sum(result.cost_cents for _, result in parts)
    return Result(Status.LIMIT, cost, 0, "cut lists of parts", tuple(patterns))


def _are_there(whole: Problem, patterns: Sequence[Pattern]) -> bool:
    """Whether there are as many sticks as the patterns take."""
    taken: Counter[int] = Counter()
    for pattern in patterns:
        taken[pattern.stock] += pattern.count
    limits = {stock: whole.stock[stock].count for stock in taken}
    return all(limit is None or taken[stock] <= limit for stock, limit in limits.items())
