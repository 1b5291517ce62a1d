"""Moves a second by size of the problem, so that seconds become iterations without a clock.

Measured on one core of a 2-core cloud machine, in processor seconds of the search, on generated
weeks of 30 to 600 lots (120 to 2,640 operations): 0.75 to 3.0 µs a move where nobody is needed,
1.1 to 2.4 with four people (30 to 200 lots). From late starts where nobody is needed 1.1 times as
much with 19 operations, 1.6 with 45, 2.7 with 105, 4.3 with 358, 2.3 to 6.2 beyond; with people
0.5 µs with 11 operations, 1.9 with 36, 4.9 with 89 (20 lots), 12 to 17 at 80 lots, 24 to 43 at
200, 20 to 31 at 600.
"""

from __future__ import annotations

import math

from planner.schedule.compiled import Compiled, is_timeless

POWER = 0.66
"""A move costs more by the number of operations to this power."""
MOVE_NS, GROWTH_NS = 430, 14.2
"""What it costs at any size where nobody is needed, and what more for each operation so counted."""
LATE = 100, 4.5
"""What a late start does: once more for each so many operations, as more has to be timed again, and
as many times at most. Weeks that are late by most of their work take up to 9 times as much."""

MANNED_NS, MANNED_GROWTH_NS = 410, 13.3
"""The same with people, who carry a change from station to station, ..."""
PERSON_SHARE = 0.12
"""... and by how much each person adds to all of it."""
MANNED_LATE = 20, 5.5
"""What a late start does then, as whoever does something else is free at other minutes."""

SPARING = 1.5
"""How many times as much it costs where jobs want time to spare, as every minute counts then."""

TIMELESS_SHARE = 0.33
"""What is left of it where only changeovers count."""

LINE_NS, LINE_TIMELESS_NS = 7, 2.5
"""What a move of a line costs, where times count and where only changeovers do."""

RULES_S, RULES_POWER = 0.0055, 0.66
"""The rules for one operation, and how they grow with the number of operations."""
PROVING_S, PROVING_MOST_S = 0.005, 6.0
"""The floors for each operation, and at most."""
BESIDE = 0.6
"""Of what the floors take longer than the rules, how much later the search ends: they are proven
beside it, on two cores."""
BETWEEN = 2.5
"""Times the rules, that those between parts of late work take which is planned part by part."""
TELLING_S, MANY = 0.0055, 364
"""What is told of a plan that ends late (its floors, and the remedies beside them) for each
operation; beyond so many of them it grows with the root of their number. Of generated weeks 1.7 to
2.4 s at 80 lots, 2.8 to 5.4 at 200 and 5.5 to 7 at 600, on two cores."""
LEAST_SHARE = 0.5
"""Of all seconds, at least, for the search."""


def iterations_for(compiled: Compiled, seconds: float, *, late: bool = False) -> int:
    """Moves of one lane in `seconds`, from a start that is late or is not."""
    return int(seconds * 1e9 / _move_ns(compiled, late))


def proving_s(compiled: Compiled) -> float:
    """What the floors take."""
    return min(PROVING_MOST_S, PROVING_S * len(compiled.ops))


def after_preparing(compiled: Compiled, seconds: float) -> float:
    """What rules and floors leave for the search."""
    rules_s = _rules_s(compiled)
    beside_s = BESIDE * max(0.0, proving_s(compiled) - rules_s)
    return _less(seconds, rules_s + beside_s)


def after_parts(compiled: Compiled, seconds: float) -> float:
    """What the rules between parts of late work leave for moves."""
    return _less(seconds, BETWEEN * _rules_s(compiled))


def after_telling(compiled: Compiled, seconds: float, share: float) -> float:
    """What the search of a late plan has left where a share of what is told of it comes after."""
    count = len(compiled.ops)
    return _less(seconds, share * TELLING_S * min(count, math.sqrt(MANY * count)))


def _rules_s(compiled: Compiled) -> float:
    return RULES_S * math.pow(len(compiled.ops), RULES_POWER)


def _less(seconds: float, taken_s: float) -> float:
    return max(seconds - taken_s, LEAST_SHARE * seconds)


def line_moves_for(compiled: Compiled, iterations: int) -> int:
    """Moves of a line that take as long as `iterations` of annealing."""
    each_ns = LINE_TIMELESS_NS if is_timeless(compiled) else LINE_NS
    return int(iterations * _move_ns(compiled) / each_ns)


def _move_ns(compiled: Compiled, late: bool = False) -> float:
    size, people = math.pow(len(compiled.ops), POWER), len(compiled.people_free)
    if people:
        each_ns = (MANNED_NS + MANNED_GROWTH_NS * size) * (1 + PERSON_SHARE * people)
    else:
        each_ns = MOVE_NS + GROWTH_NS * size
    if is_timeless(compiled):
        return TIMELESS_SHARE * each_ns
    if compiled.aims:
        each_ns *= SPARING
    return each_ns * (_times_late(compiled) if late else 1)


def _times_late(compiled: Compiled) -> float:
    each, most = MANNED_LATE if compiled.people_free else LATE
    return min(most, 1 + len(compiled.ops) / each)
