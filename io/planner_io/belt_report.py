"""The belts of a plan in a few lines: changes of worn ones, and what to buy."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from planner.finisher.belts import BeltUse
from planner_io.views.ruler import money, plural


def belt_lines(uses: Sequence[BeltUse], currency: str) -> Iterator[str]:
    """Worn belts to change and belts to buy; nothing where the shop counts no belt's life."""
    counted = [use for use in uses if use.counted]
    if not counted:
        return
    changes = [change for use in counted for change in use.changes]
    yield f"Belts        {plural(len(changes), 'worn belt')} to change"
    for change in changes:
        when = (
            f"after {plural(change.after_pieces, 'piece')} of" if change.after_pieces else "before"
        )
        yield f"  {change.belt} {when} {change.operation}"
    for use in counted:
        if use.buy:
            yield f"  buy {use.buy} × {use.belt}, {money(use.buy_cents, currency)}"
