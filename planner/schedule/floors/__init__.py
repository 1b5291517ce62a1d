"""Proven floors: values below which no schedule of the problem can fall."""

from planner.schedule.floors.alone import completions_alone, lateness_alone
from planner.schedule.floors.capacity import lateness_by_capacity
from planner.schedule.floors.late import lateness_in_periods
from planner.schedule.floors.proof import Proof, prove

__all__ = [
    "Proof",
    "completions_alone",
    "lateness_alone",
    "lateness_by_capacity",
    "lateness_in_periods",
    "prove",
]
