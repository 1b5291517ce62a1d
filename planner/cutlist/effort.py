"""Effort in nominal seconds: what a search has done, counted and not clocked.

The same problem, seed and budget take the same steps on every machine, because the budget
is spent by counts of work; the clock that the caller passes only guards against overrun.
The rates were measured on one core of an ordinary server.
"""

from __future__ import annotations

from planner.stop import Stop

SECONDS_PER_CELL = 1.3e-10
SECONDS_PER_CALL = 1e-4
SECONDS_PER_PIVOT = 1e-5
SECONDS_PER_LP = 3e-4


class Effort:
    """A budget that steps of the search draw on."""

    def __init__(self, budget: float = float("inf"), stop: Stop | None = None) -> None:
        self.budget = budget
        self.spent = 0.0
        self._stop = stop or Stop()

    def spend(self, seconds: float) -> None:
        """Count `seconds` nominal seconds of work."""
        self.spent += seconds

    def spend_cells(self, cells: int) -> None:
        """Count one knapsack table."""
        self.spent += SECONDS_PER_CALL + cells * SECONDS_PER_CELL

    def spend_lp(self, pivots: int, rows: int) -> None:
        """Count one linear program."""
        self.spent += SECONDS_PER_LP + pivots * (SECONDS_PER_PIVOT + rows * 1e-7)

    def is_over(self) -> bool:
        """Whether to end with the best so far."""
        return self.spent >= self.budget or self._stop()

    def left(self) -> float:
        """What is left, in nominal seconds, and never more than the clock allows."""
        return 0.0 if self._stop() else min(self.budget - self.spent, self._stop.left())

    def seconds_left(self) -> float:
        """What the clock allows."""
        return self._stop.left()

    def share(self, part: float, most: float) -> Effort:
        """An effort that may spend `part` of what is left, and `most` nominal seconds at most.

        Pass what it spent to `spend`.
        """
        return Effort(min(most, max(0.0, self.budget - self.spent) * part), self._stop)
