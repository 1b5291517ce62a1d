"""What holds a tube down, by statics: an independent look at the circles that were solved."""

from __future__ import annotations

from dataclasses import dataclass
from math import radians, sin

from planner.finisher.geometry import SetUp


@dataclass(frozen=True, slots=True)
class Balance:
    """Forces across the tube for a brake wheel push of 1, without friction and weight."""

    belt: float
    rail: float


def balance(value: SetUp) -> Balance:
    """The pushes of belt and rail that hold the tube against a brake push of 1.

    Two equations of statics in the plane: the three pushes pass through the tube's centre and
    sum to zero. Both must be positive, or the tube leaves what it should lie on.
    """
    belt, brake, rail = (
        radians(angle / 1000)
        for angle in (value.belt_contact_mdeg, value.brake_contact_mdeg, value.rail_contact_mdeg)
    )
    area = sin(rail - belt)
    return Balance(belt=sin(brake - rail) / area, rail=sin(belt - brake) / area)
