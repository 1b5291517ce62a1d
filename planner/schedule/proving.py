"""Floors are proven on threads: beside rules and search, which ask when they need to know, and then
those of the plan that was found, beside the report on it."""

from __future__ import annotations

from collections.abc import Sequence
from concurrent.futures import Future, ThreadPoolExecutor
from types import TracebackType

from planner.schedule.compiled import TERMS, Compiled
from planner.schedule.dispatch import Start
from planner.schedule.floors import Proof, prove
from planner.schedule.result import Floor
from planner.stop import Stop


class Proving:
    """The proof of a problem while it is made; leaving the context waits for it."""

    def __init__(self, compiled: Compiled) -> None:
        self._compiled = compiled
        self._pool = ThreadPoolExecutor(1)
        self._proof = self._pool.submit(prove, compiled)

    def __enter__(self) -> Proving:
        return self

    def __exit__(
        self,
        kind: type[BaseException] | None,
        error: BaseException | None,
        trace: TracebackType | None,
    ) -> None:
        self._pool.shutdown()

    def wait(self) -> Proof:
        """The proof, once it is made; raises what went wrong in it."""
        return self._proof.result()

    def of(self, best: Start, stop: Stop) -> Future[tuple[Floor, ...]]:
        """The floors of the best schedule found, once they are proven."""
        return self._pool.submit(self.wait().of, best, stop)

    def so_far(self, terms: Sequence[int]) -> tuple[Floor, ...]:
        """The floors that are claimed of a schedule with these terms; none before it is made."""
        return self.wait().holding(terms) if self._proof.done() else ()

    def reached(self, terms: Sequence[int]) -> bool:
        """Whether every term that any level counts is at its floor. Waits for the proof."""
        least = dict.fromkeys(TERMS, 0)
        for floor in self.wait().holding(terms):
            least[floor.term] = max(least[floor.term], floor.value)
        return all(
            terms[t] <= least[term]
            for t, term in enumerate(TERMS)
            if any(row[t] for row in self._compiled.weights)
        )
