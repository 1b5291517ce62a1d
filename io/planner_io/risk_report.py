"""How sure a plan is, in a few lines."""

from __future__ import annotations

from collections.abc import Iterator

from planner.risk import WeekRisk
from planner_io.views.ruler import duration

SURE = 0.95
MOST_ROWS = 8


def risk_lines(found: WeekRisk) -> Iterator[str]:
    """Chance that nothing is late, the least sure order lines, and the range of changeovers."""
    unsure = sorted(
        (line for line in found.lines if line.chance < SURE), key=lambda line: line.chance
    )
    yield (
        f"Sure         nothing late in {found.all_on_time:.0%} of {found.weeks:,} simulated weeks; "
        f"changeovers {duration(found.changeover_low_min)} to "
        f"{duration(found.changeover_high_min)} in 80 %"
    )
    for line in unsure[:MOST_ROWS]:
        yield f"  {line.key} on time in {line.chance:.0%}"
    if len(unsure) > MOST_ROWS:
        yield f"  and {len(unsure) - MOST_ROWS} more below {SURE:.0%}"
