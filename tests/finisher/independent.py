"""The set-up solved a second way: by root finding and minimising over shapes, not by formulas.

The rail is a plate whose boundary is a parametrised curve; it is raised until its distance to
the tube is the tube's radius. Nothing here comes from the code under test but its input.
"""

from collections.abc import Callable
from dataclasses import dataclass
from math import atan2, cos, degrees, hypot, pi, sin, sqrt

import numpy as np
from numpy.typing import NDArray
from scipy.optimize import brentq, minimize_scalar, root

from planner.finisher.geometry import SetUpProblem

MM = 1e6
Floats = NDArray[np.float64]


@dataclass(frozen=True)
class Solved:
    """Millimetres and degrees."""

    drop: float
    rail_top_drop: float
    gap: float
    clearance: float
    belt_hold: float
    brake_hold: float
    rail_contact: float
    wheel_gap: float
    brake_x: float


class Rail:
    """A plate that stands at `front`, with its top at `top`."""

    def __init__(self, front: float, top: float, thickness: float, edge: float) -> None:
        self.front, self.top, self.thickness, self.edge = front, top, thickness, edge

    def point(self, s: float) -> tuple[float, float]:
        """Boundary from the back edge (0) along the top (1), round the edge (2), down (3)."""
        flat = self.front - self.edge - (self.front - self.thickness)
        if s <= 1:
            return self.front - self.thickness + s * flat, self.top
        if s <= 2:
            turn = (2 - s) * pi / 2
            x = self.front - self.edge + self.edge * cos(turn)
            return x, self.top - self.edge + self.edge * sin(turn)
        return self.front, self.top - self.edge - 300 * (s - 2)

    def nearest(self, x: float, y: float) -> tuple[float, float, float]:
        """Distance from a point and the boundary point that is nearest, by minimising."""

        def far(s: float) -> float:
            px, py = self.point(s)
            return hypot(px - x, py - y)

        best = (float("inf"), 0.0, 0.0)
        for low, high in ((0, 1), (1, 2), (2, 3)):
            found = minimize_scalar(
                far, bounds=(low, high), method="bounded", options={"xatol": 1e-12}
            )
            for s in (float(found.x), float(low), float(high)):
                best = min(best, (far(s), *self.point(s)))
        return best


def first_touch(room: Callable[[float], float], low: float, high: float) -> float | None:
    """Height at which a rail raised from `low` first has no room left below the tube."""
    if room(low) <= 0:
        return None
    if room(high) > 0:
        dip = minimize_scalar(room, bounds=(low, high), method="bounded", options={"xatol": 1e-9})
        high = float(dip.x)
        if room(high) > 0:
            return None
    return float(brentq(room, low, high, xtol=1e-10))


def solve(problem: SetUpProblem) -> Solved | None:
    """All numbers of a set-up given by the tube's drop, or None where the tube finds no rest."""
    assert problem.drop_nm is not None
    belt = problem.machine.contact_nm / MM / 2 + problem.belt.thickness_nm / MM
    wheel, rise = problem.machine.brake_nm / MM / 2, problem.machine.brake_rise_nm / MM
    tube, drop = problem.od_nm / MM / 2, problem.drop_nm / MM
    offset, thickness = problem.rail_front_nm / MM, problem.rail.thickness_nm / MM
    edge = problem.rail.edge_radius_nm / MM

    def touching(unknown: Floats) -> Floats:
        x, y, brake = unknown
        return np.array(
            [
                np.hypot(x, y) - belt - tube,
                y + drop,
                np.hypot(brake - x, rise - y) - wheel - tube,
            ]
        )

    start = np.array([belt + tube, -drop, belt + 2 * tube + wheel])
    x, y, brake = (float(number) for number in root(touching, start, tol=1e-13).x)

    def rail_at(top: float) -> Rail:
        return Rail(sqrt(belt**2 - top**2) + offset, top, thickness, edge)

    def room(top: float) -> float:
        return rail_at(top).nearest(x, y)[0] - tube

    top = first_touch(room, max(-belt + 1e-9, y - 1.5 * tube), y + edge)
    if top is None:
        return None
    rail = rail_at(top)
    _, px, py = rail.nearest(x, y)
    if py >= y:
        return None
    back = rail.front - thickness
    near = minimize_scalar(
        lambda h: hypot(back, top - h), bounds=(0, 50), method="bounded", options={"xatol": 1e-12}
    )
    clearance = min(float(near.fun), hypot(back, top)) - belt
    return Solved(
        drop=-y,
        rail_top_drop=-top,
        gap=back - sqrt(belt**2 - top**2),
        clearance=clearance,
        belt_hold=degrees(atan2(-y, x)),
        brake_hold=degrees(atan2(rise - y, brake - x)),
        rail_contact=degrees(atan2(py - y, px - x)) % 360,
        wheel_gap=hypot(brake, rise) - belt - wheel,
        brake_x=brake,
    )


def differences(problem: SetUpProblem, solved: Solved, value: object) -> dict[str, float]:
    """Every output's distance from the independent one: mm for lengths, and for angles mm on
    the circle that the angle is measured on."""
    tube = problem.od_nm / MM / 2
    belt = problem.machine.contact_nm / MM / 2 + problem.belt.thickness_nm / MM + tube
    wheel = problem.machine.brake_nm / MM / 2 + tube
    radii = {"belt_hold": belt, "brake_hold": wheel, "rail_contact": tube}
    lengths = ("drop", "rail_top_drop", "gap", "clearance", "wheel_gap")
    found = {
        name: abs(getattr(value, f"{name}_nm") / MM - getattr(solved, name)) for name in lengths
    }
    for name, radius in radii.items():
        apart = abs(getattr(value, f"{name}_mdeg") / 1000 - getattr(solved, name))
        found[name] = max(0.0, apart - 0.0005) * pi / 180 * radius
    return found
