"""Moves a second by size of the problem, so that seconds become iterations without a clock.

Measured on one core of a 2-core cloud machine, warm, on generated weeks of 30 to 2,000 lots
(130 to 8,800 operations): 0.8 to 48 µs a move; up to twice that where nothing can be punctual.
Rules and floors come on top: about 1 s at 30 lots, 2 at 80, 4 at 200, 5 at 600.
"""

from __future__ import annotations

from planner.schedule.compiled import Compiled, is_timeless

MOVE_NS = 350
"""What a move costs at any size."""
OPERATION_NS = 3.7
"""What each operation of the problem adds to a move while everything stays in the cache."""
CACHED_OPERATIONS = 20_000
"""At so many operations each costs twice that."""
PERSON_SHARE = 0.07
"""By how much each person adds to all of it."""

TIMELESS_SHARE = 0.45
"""What is left of it where only changeovers count."""

LINE_NS, LINE_TIMELESS_NS = 7, 4
"""What a move of a line costs, where times count and where only changeovers do."""


def iterations_for(compiled: Compiled, seconds: float) -> int:
    """Moves of one lane in `seconds`."""
    return int(seconds * 1e9 / _move_ns(compiled))


def moves_for(part: Compiled, whole: Compiled, iterations: int) -> int:
    """Moves on a part of the work that take as long as `iterations` on all of it."""
    return int(iterations * _move_ns(whole) / _move_ns(part))


def line_moves_for(compiled: Compiled, iterations: int) -> int:
    """Moves of a line that take as long as `iterations` of annealing."""
    each_ns = LINE_TIMELESS_NS if is_timeless(compiled) else LINE_NS
    return int(iterations * _move_ns(compiled) / each_ns)


def _move_ns(compiled: Compiled) -> float:
    n = len(compiled.ops)
    each_ns = MOVE_NS + OPERATION_NS * n * (1 + n / CACHED_OPERATIONS)
    each_ns *= 1 + PERSON_SHARE * len(compiled.people_free)
    return each_ns * (TIMELESS_SHARE if is_timeless(compiled) else 1)
