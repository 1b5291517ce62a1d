"""The settings of the rule that takes the cheapest changeover in time.

No single setting is good everywhere: how much of the changeovers to come is kept free, how far
ahead is looked and whether a station waits for more of the same depend on the week. So a few that
did well on generated weeks are tried first, then variations of the best, always the same ones.
"""

from __future__ import annotations

import math
import random
from collections.abc import Callable, Mapping
from dataclasses import replace
from heapq import nsmallest

from planner.schedule.dispatcher import Patience

EFFORT = 180_000
"""Operations placed by all settings together, about."""
FEWEST, MOST = 24, 400
"""Settings that are tried."""
PARENTS = 4
"""The best settings, of which variations are made."""
DAY_MIN = 1440.0
VALUES: Mapping[str, tuple[float, ...]] = {
    "tour": (0, 0.5, 1, 1.5, 2, 3),
    "share": (0, 0.25, 0.5, 1, 1.5),
    "reserve_min": (0, 240, 480),
    "window_min": (*(days * DAY_MIN for days in (1, 3, 5, 10, 20)), math.inf),
    "growth": (0, 0.2, 0.5, 1),
    "idle": (0, 0.1, 0.3, 1),
    "hold_min": (0, 480, 960, 1920, 2880),
    "batch_min": tuple(days * DAY_MIN for days in (0, 1, 2, 3, 5, 7, 10)),
    "behind": (0, 1),
    "cyclic": (0, 1),
}
FIRST = (
    Patience(
        tour=2,
        reserve_min=240,
        window_min=20 * DAY_MIN,
        growth=0.2,
        idle=0.3,
        hold_min=2880,
        batch_min=2 * DAY_MIN,
    ),
    Patience(
        tour=2,
        share=1.5,
        window_min=3 * DAY_MIN,
        growth=0.2,
        idle=0.1,
        hold_min=2880,
        batch_min=DAY_MIN,
        behind=1,
    ),
    Patience(
        tour=3,
        reserve_min=480,
        window_min=3 * DAY_MIN,
        growth=1,
        idle=0.1,
        hold_min=480,
        batch_min=5 * DAY_MIN,
        cyclic=1,
    ),
    Patience(tour=2, share=0.25, reserve_min=480, window_min=10 * DAY_MIN, idle=0.1, hold_min=480),
    Patience(
        tour=1,
        share=1,
        reserve_min=240,
        window_min=3 * DAY_MIN,
        growth=1,
        idle=0.1,
        hold_min=480,
        batch_min=DAY_MIN,
        behind=1,
    ),
    Patience(
        tour=1.5,
        share=0.5,
        window_min=20 * DAY_MIN,
        idle=1,
        hold_min=960,
        batch_min=3 * DAY_MIN,
        behind=1,
    ),
    Patience(
        tour=3,
        share=0.25,
        reserve_min=240,
        window_min=3 * DAY_MIN,
        growth=1,
        idle=1,
        hold_min=960,
        batch_min=7 * DAY_MIN,
        behind=1,
    ),
    Patience(tour=3, share=1, growth=1, idle=1, hold_min=480, batch_min=2 * DAY_MIN, behind=1),
)
"""A set that together did well on generated weeks of 30 to 2,000 lots."""

Levels = tuple[int, ...]


def best_settings(
    levels: Callable[[Patience], Levels], operations: int, count: int
) -> list[Patience]:
    """The best `count` of those tried, best first, each with other levels."""
    tried = {patience: levels(patience) for patience in FIRST}
    dice = random.Random(0)
    for _ in range(min(MOST, max(FEWEST, EFFORT // max(1, operations))) - len(FIRST)):
        patience = _varied(dice.choice(nsmallest(PARENTS, tried, key=tried.__getitem__)), dice)
        if patience not in tried:
            tried[patience] = levels(patience)
    distinct = {found: patience for patience, found in tried.items()}
    return [distinct[found] for found in sorted(distinct)[:count]]


def _varied(patience: Patience, dice: random.Random) -> Patience:
    """The same with one to three settings drawn anew."""
    names = dice.sample(list(VALUES), dice.choice((1, 1, 2, 3)))
    return replace(patience, **{name: dice.choice(VALUES[name]) for name in names})
