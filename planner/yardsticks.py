"""The same week in other orders: what each comes to, and where it would put the work."""

from __future__ import annotations

from planner.frozen import Frozen
from planner.shop import What

THIS_PLAN = "this plan"
BY_DUE_DATE = "by due date"
"""The order of work that the plan is compared with first: whatever is due first goes first."""


class Placing(Frozen):
    """Where and when another order of the week would do an operation."""

    operation: str
    station: str
    people: tuple[str, ...] = ()
    setup_start_min: int
    """When its changeover would begin; its minutes are those of the shop's table."""
    pieces: tuple[tuple[int, int], ...]
    """When the run would work, from its start to its end."""


class Yardstick(Frozen):
    """The week run in one order, by the same rules."""

    name: str
    """`this plan`, `as entered`, `by due date`, `by OD`, …"""
    changeover_min: int
    by_what: dict[What, int]
    late_lines: int
    late_min: int
    """Minutes late, all lines together, unweighted."""
    weighted_late_min: int
    placings: tuple[Placing, ...] = ()
    """Every operation where this order would do it, in the order of time, so that its figures can
    be proven; empty for `this plan`, which has slots."""
