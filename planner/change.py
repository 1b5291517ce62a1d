"""One thing changed in a changeover: part of a slot, and of a run that stood still."""

from __future__ import annotations

from planner.frozen import Frozen
from planner.shop import What


class Change(Frozen):
    """One thing changed in a changeover."""

    what: What
    before: str | None
    """None when nothing was mounted or it is not known."""
    after: str
    minutes: int
