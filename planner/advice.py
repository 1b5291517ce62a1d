"""Records of other ways to share lots, and what they would cost or save."""

from __future__ import annotations

from planner.frozen import Frozen


class Merger(Frozen):
    """Two lots of one tube spec and recipe that would cost less cut as one."""

    early: str
    late: str
    saves_cents: int
    """How much less sticks, scrap and wasted finishing would cost."""
    delays_min: int
    """Minutes of work on the later lot that would come before the earlier one is sawn."""
    days_apart: int
    """Days between their due dates."""


class LotsTried(Frozen):
    """Another way to share lots that was tried in the run order, and what it would add to the
    plan; what is below zero it would save."""

    lots: tuple[str, ...]
    """Lots of the plan that it concerns."""
    instead: tuple[tuple[str, ...], ...]
    """Their order lines, lot by lot, as they were tried instead."""
    cost_cents: int
    """All that it would add, in money, as far as the searches could tell."""
    material_cents: int
    """Of it, what the cut lists would cost."""
    changeover_min: int
    """Of it, minutes of changeovers."""
    late_min: int
    """Of it, minutes late times the weights of the lines."""
