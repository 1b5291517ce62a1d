"""When a search ends, and what its result may claim."""

from __future__ import annotations

from collections.abc import Callable
from enum import StrEnum


class Status(StrEnum):
    """What a result claims about its value; no solver's own code leaves its module."""

    PROVEN = "proven"
    """The value equals the proven floor."""
    GAP = "gap"
    """The search ended by itself with a plan and a floor below it."""
    LIMIT = "limit"
    """The budget ended or a stop was asked for; the plan is the best so far."""
    NO_PLAN = "no plan"
    """Nothing feasible exists or was found; the result says which."""


def never() -> float:
    """A clock that stands still, for searches that only a request may end."""
    return 0.0


class Stop:
    """A deadline in seconds on the caller's clock, and a request that may come at any time.

    `clock` returns seconds and may be any monotonic function; the core has none of its own.
    """

    def __init__(self, seconds: float = float("inf"), clock: Callable[[], float] = never) -> None:
        self._clock = clock
        self._end = clock() + seconds
        self._asked = False

    def __call__(self) -> bool:
        """Whether to end now."""
        return self._asked or self._clock() >= self._end

    def ask(self) -> None:
        """Ask for the best result so far, now."""
        self._asked = True

    def left(self) -> float:
        """Seconds until the deadline, 0 once it has passed or a stop was asked for."""
        return 0.0 if self._asked else max(0.0, self._end - self._clock())
