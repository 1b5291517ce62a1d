"""Proven floors: values below which no schedule of the problem can fall."""

from planner.schedule.compiled import Compiled
from planner.schedule.floors.alone import completions_alone, lateness_alone
from planner.schedule.floors.capacity import lateness_by_capacity
from planner.schedule.floors.changeover import changeover_floor
from planner.schedule.result import Floor

__all__ = [
    "changeover_floor",
    "completions_alone",
    "lateness_alone",
    "lateness_by_capacity",
    "prove",
]


def prove(compiled: Compiled) -> tuple[Floor, ...]:
    """All floors, each kind of argument once."""
    return (
        lateness_alone(compiled),
        lateness_by_capacity(compiled),
        changeover_floor(compiled),
    )
