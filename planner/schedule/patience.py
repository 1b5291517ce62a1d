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

from planner.schedule.calendar import DAY_MIN
from planner.schedule.dispatcher import Patience

EFFORT = 180_000
"""Operations placed by all settings together, about."""
FEWEST, MOST = 24, 400
"""Settings that are tried."""
PARENTS = 4
"""The best settings, of which variations are made."""
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
FIRST = tuple(
    Patience(
        tour=tour,
        share=share,
        reserve_min=reserve,
        window_min=window * DAY_MIN,
        growth=growth,
        idle=idle,
        hold_min=hold,
        batch_min=batch * DAY_MIN,
        behind=behind,
        cyclic=cyclic,
    )
    for tour, share, reserve, window, growth, idle, hold, batch, behind, cyclic in (
        (2, 0, 240, 20, 0.2, 0.3, 2880, 2, 0, 0),
        (2, 1.5, 0, 3, 0.2, 0.1, 2880, 1, 1, 0),
        (3, 0, 480, 3, 1, 0.1, 480, 5, 0, 1),
        (2, 0.25, 480, 10, 0, 0.1, 480, 0, 0, 0),
        (1, 1, 240, 3, 1, 0.1, 480, 1, 1, 0),
        (1.5, 0.5, 0, 20, 0, 1, 960, 3, 1, 0),
        (3, 0.25, 240, 3, 1, 1, 960, 7, 1, 0),
        (3, 1, 0, math.inf, 1, 1, 480, 2, 1, 0),
    )
)
"""A set that together did well on generated weeks of 30 to 2,000 lots;
window and batch in days, reserve and hold in minutes."""

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
