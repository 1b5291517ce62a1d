"""What the planner may choose for one plan."""

from __future__ import annotations

from datetime import date
from enum import StrEnum

from pydantic import Field

from planner.frozen import Frozen

MOST_DAYS = 3_650
"""Ten years; hours are looked up day by day."""


class LotPolicy(StrEnum):
    """Which order lines of one tube spec and recipe share a lot."""

    AUTO = "auto"
    """Lot by lot, where it is worth it in the plan, money and lateness together."""
    MERGE = "merge"
    """One lot for each tube spec and recipe."""
    BY_DUE_DATE = "by-due-date"
    """A lot for each due day."""


class Options(Frozen):
    """Options of one plan; the same input and options give the same plan."""

    start: date
    """First day of the plan; minute 0 is its midnight."""
    start_min: int = Field(default=0, ge=0)
    """Minute before which nothing new begins."""
    seconds: float = Field(default=8.0, gt=0)
    """How much work the searches may do, in seconds of a usual machine."""
    seed: int = 1
    lots: LotPolicy = LotPolicy.AUTO
    confidence: int = Field(default=50, ge=50, le=99)
    """Durations are planned to be kept in this share of cases, per cent; 50 plans
    the minutes of the model."""
    days: int = Field(default=28, ge=1, le=MOST_DAYS)
    """Horizon in days; what does not fit is refused."""
    move_charge_min: int = Field(default=30, ge=0)
    """What moving an issued operation costs when the week is planned again, in changeover
    minutes; each whole hour of shift costs one more."""
