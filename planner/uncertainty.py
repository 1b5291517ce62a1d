"""How sure a plan's minutes are: what the simulated weeks and the log say, as plain records."""

from __future__ import annotations

from planner.frozen import Frozen


class LineChance(Frozen):
    """What the simulated weeks say of one order line; minutes of the plan."""

    line: str
    chance: float
    """Share of the weeks in which it is on time, 0 to 1."""
    low_min: int
    median_min: int
    high_min: int
    """It is done between low and high in 80 % of the weeks."""


class StationSpread(Frozen):
    """How far real minutes at a station lie from planned ones: standard deviations in logs."""

    station: str
    run: float
    """Of one run from the next."""
    setup: float
    """Of one changeover from the next."""
    run_shared: float
    """What all its runs of a week are off by together."""
    setup_shared: float
    """What all its changeovers of a week are off by together."""


class Risk(Frozen):
    """What many simulated weeks say of the plan, and what is needed to simulate them again."""

    weeks: int
    seed: int
    spreads: tuple[StationSpread, ...]
    """In the order of the shop's stations."""
    lines: tuple[LineChance, ...]
    """In the order of `done`."""
    all_on_time: float
    """Share of the weeks in which no line is late."""
    changeover_low_min: int
    changeover_median_min: int
    changeover_high_min: int
    """Changeover minutes of the week are between low and high in 80 % of the weeks."""


class LikelyMinutes(Frozen):
    """How long a pass is likely to take, without its changeover."""

    operation: str
    low_min: int
    median_min: int
    high_min: int
    """It takes between low and high in 80 % of cases."""
    runs: int
    """Logged runs on the same station and belt that this rests on; 0 means the shop's settings."""
