"""All groups of a week at once, over processes, within one budget."""

from __future__ import annotations

from collections.abc import Callable, Sequence

from planner.cutlist.chain import solve
from planner.cutlist.problem import Problem
from planner.cutlist.result import Result
from planner.stop import Stop

Progress = Callable[[int, int], None]
"""Called with the number of groups closed and the number of groups."""


def solve_all(
    problems: Sequence[Problem],
    stop: Stop | None = None,
    seed: int = 0,
    work: float = 60.0,
    workers: int = 1,
    progress: Progress | None = None,
) -> tuple[Result, ...]:
    """Solve every group; `work` nominal seconds in all, the same result for any `workers`."""
    results: list[Result] = []
    for problem in problems:
        results.append(solve(problem, stop, seed, work / max(1, len(problems))))
        if progress:
            progress(len(results), len(problems))
    return tuple(results)
