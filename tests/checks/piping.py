"""Pipe as two general-purpose libraries have it: fluids, whose type hints leave out the fractional
sizes, and steel-sections, which has none."""

from __future__ import annotations

from typing import Any

import steel_sections
from fluids import piping

from planner.standard_sizes import Pipe

_nearest_pipe: Any = piping.nearest_pipe
_sections: Any = steel_sections


def library_pipe_m(pipe: Pipe, schedule: str) -> tuple[float, float, float]:
    """Bore, OD and wall of a pipe in metres; the library rounds to tenths of a millimetre."""
    _, bore, od, wall = _nearest_pipe(NPS=float(pipe.size), schedule=schedule)
    return float(bore), float(od), float(wall)


def listed_pipe_in(pipe: Pipe, schedule: str) -> tuple[float, float]:
    """OD and wall of a pipe in inches, as steel-sections lists them."""
    found = _sections.pipe(pipe.name, schedule)
    return float(found.od_in), float(found.wall_in)
