"""Pipe as the fluids library has it, whose type hints leave out the fractional sizes."""

from __future__ import annotations

from typing import Any

from fluids import piping

from planner.standard_sizes import Pipe

_nearest_pipe: Any = piping.nearest_pipe


def library_pipe_m(pipe: Pipe, schedule: str) -> tuple[float, float, float]:
    """Bore, OD and wall of a pipe in metres; the library rounds to tenths of a millimetre."""
    _, bore, od, wall = _nearest_pipe(NPS=float(pipe.size), schedule=schedule)
    return float(bore), float(od), float(wall)
