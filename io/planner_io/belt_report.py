"""The belts of a plan in a few lines: changes of worn ones, and what to buy."""

from __future__ import annotations

from collections.abc import Iterator

from planner.records import Plan
from planner_io.views.belts import belt_uses, belts_to_buy, new_belts
from planner_io.views.index import Index
from planner_io.views.ruler import plural


def belt_lines(plan: Plan) -> Iterator[str]:
    """Worn belts to change and belts to buy; nothing where the shop counts no belt's life."""
    index = Index(plan)
    uses = belt_uses(index)
    if not uses:
        return
    changes = [change for use in uses for change in use.changes if not change.done]
    yield f"Belts        {plural(len(changes), 'worn belt')} to change"
    words = new_belts(index)
    for operation in dict.fromkeys(change.operation for change in changes):
        yield f"  {operation}: {words[operation]}"
    for row in belts_to_buy(index):
        yield f"  buy {row.count} × {row.belt}, {row.sum}"
