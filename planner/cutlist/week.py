"""All groups of a week at once, over processes, within one budget.

Work goes in rounds. The first gives every group a small share of the budget, which closes most
of them; each later round gives the groups that are still open, the largest money gap first,
twice what they had before, until the budget is spent. Budgets count work and not seconds, and
a round begins only when the one before is complete: so the result is the same for a seed,
whatever the number of processes.
"""

from __future__ import annotations

import multiprocessing
from collections.abc import Callable, Generator, Iterator, Sequence
from concurrent.futures import FIRST_COMPLETED, Future, ProcessPoolExecutor, wait
from contextlib import contextmanager
from dataclasses import replace
from typing import Protocol

from planner.cutlist.chain import solve
from planner.cutlist.problem import Problem
from planner.cutlist.result import Result
from planner.stop import Status, Stop

Progress = Callable[[int, int], None]
"""Called with the number of groups closed so far and the number of groups."""
FIRST_SHARE = 0.25
"""Of the budget, what the first round spends at most, all groups together."""
LEAST_WORK = 0.05
"""Nominal seconds that a group gets in the first round, however many groups there are."""
Task = tuple[Problem, int, float, Result | None]
"""A group, a seed, its budget, and the result to go on from."""
Runner = Callable[[Sequence[Task]], Iterator[tuple[int, Result]]]
SHARED_WORK = 4.0
"""Nominal seconds from which on processes save more than the second that it takes to start them."""
LOOK_UP_SECONDS = 0.2
"""How often to see whether a stop was asked for while processes work."""


class _Flag(Protocol):
    def is_set(self) -> bool: ...
    def set(self) -> None: ...


class _SharedStop(Stop):
    """A stop whose request reaches other processes through a flag."""

    def __init__(self, stop: Stop, flag: _Flag) -> None:
        super().__init__()
        self._stop, self._flag = stop, flag

    def __call__(self) -> bool:
        return self._flag.is_set() or self._stop()

    def left(self) -> float:
        return 0.0 if self._flag.is_set() else self._stop.left()


def solve_all(
    problems: Sequence[Problem],
    stop: Stop | None = None,
    seed: int = 0,
    work: float = 60.0,
    workers: int = 1,
    progress: Progress | None = None,
    begun: Sequence[Result] = (),
) -> tuple[Result, ...]:
    """Solve every group; `work` nominal seconds in all, the same result for any `workers`, which
    are used where there is much of it.

    `begun` are results of the groups to go on from, whose work is not counted again.
    `stop` guards the clock: when it strikes, every group still gets a valid cut list.
    """
    stop = stop or Stop()
    results: list[Result | None] = [None] * len(problems)
    results[: len(begun)] = [replace(result, work=0.0) for result in begun]
    budget = max(LEAST_WORK, FIRST_SHARE * work / max(1, len(problems)))
    left, queue = work, list(range(len(problems)))
    shared = min(workers, len(problems)) if work >= SHARED_WORK else 1
    with _runner(stop, shared) as run:
        number = 0
        while queue:
            tasks = [(problems[i], seed + number, budget, results[i]) for i in queue]
            spent = [0.0] * len(tasks)
            for position, result in run(tasks):
                spent[position] = result.work
                results[queue[position]] = _joined(results[queue[position]], result)
                if progress:
                    progress(sum(r is not None and _is_closed(r) for r in results), len(problems))
            left -= sum(spent)
            number, budget = number + 1, budget * 2
            queue = [] if stop() else _next_queue(results, left, budget)
    return tuple(result for result in results if result is not None)


def _joined(before: Result | None, now: Result) -> Result:
    return now if before is None else replace(now, work=before.work + now.work)


def _is_closed(result: Result) -> bool:
    return result.gap_cents == 0


def _next_queue(results: Sequence[Result | None], left: float, budget: float) -> list[int]:
    """The open groups that the rest of the budget pays for, the largest gap first.

    A group whose search came to its own end would only repeat itself with less luck than an
    unfinished one, so it comes after those.
    """
    still_open = [
        (result.status is not Status.LIMIT, -result.gap_cents, index)
        for index, result in enumerate(results)
        if result is not None and not _is_closed(result)
    ]
    return [index for _, _, index in sorted(still_open)[: int(left / budget)]]


@contextmanager
def _runner(stop: Stop, workers: int) -> Generator[Runner]:
    """Something that solves tasks, here or in processes, and yields results as they come."""
    if workers < 2:

        def here(tasks: Sequence[Task]) -> Iterator[tuple[int, Result]]:
            for position, task in enumerate(tasks):
                yield position, _solve_task(task, stop)

        yield here
        return
    context = multiprocessing.get_context("spawn")
    flag = context.Event()
    with ProcessPoolExecutor(workers, context, _set_stop, (stop, flag)) as pool:

        def there(tasks: Sequence[Task]) -> Iterator[tuple[int, Result]]:
            futures = {pool.submit(_solve_there, task): n for n, task in enumerate(tasks)}
            yield from _as_they_come(futures, stop, flag)

        yield there


def _as_they_come(
    futures: dict[Future[Result], int], stop: Stop, flag: _Flag
) -> Iterator[tuple[int, Result]]:
    waiting = set(futures)
    while waiting:
        done, waiting = wait(waiting, LOOK_UP_SECONDS, FIRST_COMPLETED)
        if stop():
            flag.set()
        for future in sorted(done, key=lambda future: futures[future]):
            yield futures[future], future.result()


_stop_here: list[Stop] = []


def _set_stop(stop: Stop, flag: _Flag) -> None:
    _stop_here[:] = [_SharedStop(stop, flag)]


def _solve_there(task: Task) -> Result:
    return _solve_task(task, _stop_here[0])


def _solve_task(task: Task, stop: Stop) -> Result:
    problem, seed, work, before = task
    return solve(problem, stop, seed, work, before)
