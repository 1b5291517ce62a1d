"""What customers ordered: order lines, the shape of a part, and how its ends are cut."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import datetime
from enum import StrEnum
from typing import Annotated, Literal

from pydantic import Field

from planner.frozen import Frozen
from planner.tube import TubeSpec


class Step(StrEnum):
    """A kind of work on the way through the shop."""

    FINISH = "finish"
    SAW = "saw"
    NOTCH = "notch"
    BEND = "bend"
    TOUCH_UP = "touch-up"


USUAL_ROUTE = (Step.FINISH, Step.SAW, Step.NOTCH, Step.BEND)


def sawn_first(steps: Sequence[Step]) -> bool:
    """Whether pieces, not sticks, go through the finisher."""
    if Step.FINISH not in steps or Step.SAW not in steps:
        return False
    return steps.index(Step.SAW) < steps.index(Step.FINISH)


class EndKind(StrEnum):
    """How one end of a piece is cut."""

    SQUARE = "square"
    MITRE = "mitre"
    SADDLE = "saddle"


class EndCut(Frozen):
    """The cut of one end."""

    kind: EndKind = EndKind.SQUARE
    angle_mdeg: int = 0
    """Millidegrees. Mitre: off square (45,000 for a square corner). Saddle: between the axes of
    the two tubes (90,000 for a tee)."""
    on_od_nm: int = 0
    """Saddle only: OD of the tube that the end sits on, nm."""


class CutLength(Frozen):
    """A straight piece given by its overall length, long point to long point."""

    kind: Literal["cut"] = "cut"
    length_nm: int


class AxisToAxis(Frozen):
    """A straight piece between the axes of the tubes that its saddled ends sit on."""

    kind: Literal["axis"] = "axis"
    length_nm: int


class Bend(Frozen):
    """A straight and the bend after it; `angle_mdeg` 0 ends the part with the straight."""

    straight_nm: int
    """Length of the straight before the bend, between tangent points or end, nm."""
    angle_mdeg: int = 0
    """Angle of the bend after the straight, millidegrees."""
    clr_nm: int = 0
    """Centreline radius of that bend, nm."""
    rotation_mdeg: int = 0
    """Turn of the tube before that bend against the plane of the bend before, millidegrees."""


class Bent(Frozen):
    """A bent part: straights and bends in order, the last row a straight alone."""

    kind: Literal["bent"] = "bent"
    rows: tuple[Bend, ...]


class BentBlank(Frozen):
    """A bent part of which its blank is known, and how often and on what radius it is bent; where
    and by how much stands on its drawing."""

    kind: Literal["blank"] = "blank"
    length_nm: int
    """Length of the blank before bending, grip and trim included, nm."""
    bends: int = Field(ge=1)
    clr_nm: int = 0
    """Centreline radius of its bends, nm; 0 when nobody says it."""


Shape = Annotated[CutLength | AxisToAxis | Bent | BentBlank, Field(discriminator="kind")]


def bend_radii(shape: Shape) -> list[int]:
    """The centreline radius of each bend of a part, nm, in order; empty for a straight one."""
    if isinstance(shape, BentBlank):
        return [shape.clr_nm] * shape.bends
    rows = shape.rows if isinstance(shape, Bent) else ()
    return [row.clr_nm for row in rows if row.angle_mdeg]


class OrderLine(Frozen):
    """A quantity of one part for a customer with a due date."""

    order: str
    line: str
    customer: str = ""
    part: str = ""
    quantity: int = Field(ge=1)
    spec: TubeSpec
    oiled: bool = False
    """Its tube comes in oiled, which comes off before the belt."""
    recipe: str | None = None
    """Name of the finish recipe, or None for tube that is not finished."""
    shape: Shape
    ends: tuple[EndCut, EndCut] = (EndCut(), EndCut())
    twist_mdeg: int = 0
    """Where both ends are mitred: the turn of end 2 about the tube against end 1, millidegrees,
    clockwise as seen from end 1. 0: both long points on one side; 180,000: on opposite sides."""
    due: datetime
    """Local time of the shop, without zone. A date alone means the end of that working day."""
    weight: int = Field(default=1, ge=1)
    """How many times a minute late counts; from the priority column."""
    route: tuple[Step, ...] = USUAL_ROUTE
    """The order in which the work is done; steps that the part does not need are passed over."""
    touch_up_s: int = 0
    """Handwork on each piece after bending (clamp marks), seconds."""
    notes: str = ""
    place: str = ""
    """Where it was read, such as `Orders!A14`."""

    @property
    def key(self) -> str:
        """Name of the line within the week, such as `1187/2`."""
        return f"{self.order}/{self.line}"
