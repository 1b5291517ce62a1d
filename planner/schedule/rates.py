"""Moves a second by size of the problem, so that seconds become iterations without a clock.

Measured on one core of a 2-core cloud machine, warm: `python -m tests.benchmarks.rates`.
"""

from __future__ import annotations

from planner.schedule.compiled import Compiled

MOVE_NS = 1_000
"""What a move costs at any size."""
OPERATION_NS = 6
"""What each operation of the problem adds to a move."""
PERSON_SHARE = 0.2
"""By how much each person adds to that."""


def iterations_for(compiled: Compiled, seconds: float) -> int:
    """Moves of one lane in `seconds`."""
    crews = 1 + PERSON_SHARE * len(compiled.people_free)
    each_ns = MOVE_NS + OPERATION_NS * len(compiled.ops) * crews
    return int(seconds * 1e9 / each_ns)
