"""How sure a plan is, in a few lines."""

from __future__ import annotations

from collections.abc import Iterator

from planner.hours import duration
from planner.records import Plan
from planner_io.views.index import Index
from planner_io.views.sureness import UNSURE, more_room, share, spreads_rest_on, unsure_rows

MOST_ROWS = 8


def risk_lines(plan: Plan) -> Iterator[str]:
    """Chance that nothing is late, the least sure order lines, and the range of changeovers."""
    risk = plan.risk
    if risk is None:
        return
    yield (
        f"Sure         nothing late in {share(risk.all_on_time)} of {risk.weeks:,} simulated "
        f"weeks; changeovers {duration(risk.changeover_low_min)} to "
        f"{duration(risk.changeover_high_min)} in 80 %"
    )
    if basis := spreads_rest_on(plan):
        yield f"  {basis}: `--log FILE` takes a log of runs"
    unsure = unsure_rows(Index(plan))
    if unsure:
        room = more_room(plan)
        yield f"  on time, but in under {share(UNSURE)} of the weeks{room and f'; {room}'}:"
    for row in unsure[:MOST_ROWS]:
        yield f"  {row.order.key} in {row.chance}, {row.spare}, done {row.likely} in 80 %"
        if row.waits:
            yield f"    {row.waits}"
    if len(unsure) > MOST_ROWS:
        yield f"  and {len(unsure) - MOST_ROWS} more, in the papers"
