"""The sheets of a week, in the order of their tabs."""

from __future__ import annotations

from planner_io.views.index import Index
from planner_io.week_book.floor_sheets import cut, pick, run_order, set_up
from planner_io.week_book.office_sheets import (
    buy,
    late,
    ledger,
    material,
    orders,
    problems,
)
from planner_io.week_book.sheet import Sheet


def sheets(index: Index) -> tuple[Sheet, ...]:
    """All sheets, in the order of their tabs."""
    return (
        run_order(index),
        pick(index),
        set_up(index),
        cut(index),
        ledger(index),
        late(index),
        buy(index),
        material(index),
        problems(index),
        orders(index),
    )
