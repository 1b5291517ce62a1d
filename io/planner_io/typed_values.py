"""Numbers and choices on the command line, refused in the words in which dates are."""

from __future__ import annotations

import math
from collections.abc import Callable

import typer

from planner.options import LotPolicy


def whole(least: int, most: int | None = None) -> Callable[[str], int]:
    """Reads a whole number within bounds.

    What it returns raises typer.BadParameter, which names what was read and what would do.
    """

    def read(words: str | int) -> int:
        try:
            found = int(words)
        except ValueError:
            found = least - 1
        if found < least or (most is not None and found > most):
            bounds = f"from {least}" if most is None else f"from {least} to {most}"
            raise refused(words, f"a whole number {bounds}")
        return found

    return read


def decimal(least: float) -> Callable[[str], float]:
    """Reads a number that is not below `least`; raises as `whole` does."""

    def read(words: str | float) -> float:
        try:
            found = float(words)
        except ValueError:
            found = math.nan
        if not least <= found < math.inf:
            raise refused(words, f"a number from {least:g}")
        return found

    return read


def lot_policy(words: str) -> LotPolicy:
    """Reads how lots are formed; raises as `whole` does."""
    try:
        return LotPolicy(words)
    except ValueError:
        raise refused(words, " or ".join(LotPolicy)) from None


def refused(words: object, expected: str) -> typer.BadParameter:
    """What was read, and what would do."""
    return typer.BadParameter(f'read "{words}", expected {expected}.')
