"""Proven floors: values below which no schedule of the problem can fall."""

from planner.schedule.floors.alone import completions_alone, lateness_alone

__all__ = ["completions_alone", "lateness_alone"]
