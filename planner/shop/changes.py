"""What is mounted on stations, and the minutes to change it."""

from __future__ import annotations

from enum import StrEnum

from pydantic import Field

from planner.frozen import Frozen


class What(StrEnum):
    """What can change between two operations; each is an attribute of the mounted state."""

    ATTACHMENT = "attachment"
    OD = "OD"
    BELT = "belt"
    RAIL = "rail"
    FAMILY = "clean-down"
    DIE = "die"
    CUTTER = "cutter"
    ROLLER = "roller"


class ChangeoverRow(Frozen):
    """Minutes for one change at one station; the most specific row counts."""

    station: str
    """Name or kind of a station, or the name of a base for attachments."""
    what: What
    before: str | None = None
    """What is mounted before (`carbon`, `P80`, …), or None for anything."""
    after: str | None = None
    minutes: int = Field(ge=0)


class Mounted(Frozen):
    """What stands on a station when the plan starts."""

    station: str
    what: What
    value: str


class ToolKind(StrEnum):
    """Kinds of tooling that are mounted for an OD."""

    DIE = "die"
    CUTTER = "cutter"
    ROLLER = "roller"


class Tool(Frozen):
    """A bending die, a notching cutter, or a roller."""

    name: str
    kind: ToolKind
    station: str
    """Name of the station it fits."""
    od_nm: int = Field(gt=0)
    """OD of the tube (die, roller) or of the tube that the saddle sits on (cutter), nm."""
    clr_nm: int = 0
    """Die: centreline radius, nm."""
    clamp_nm: int | None = None
    """Die: straight that its clamp needs, nm; None for the bender's rule."""
    soft: bool = False
    """Soft or clean tooling, fit for finished tube."""
