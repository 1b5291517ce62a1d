"""Where the tube, the wheels and the rail are, from the circles alone.

Side view, looking along the tube with the belt on the left: the origin is the contact
wheel's centre, x runs towards the brake wheel, y up, all in millimetres. The belt face is
a circle of radius `contact wheel / 2 + belt`; the brake wheel is a circle whose centre
slides in x. The tube touches both from below the line of centres, so both press it down
onto the rail: a plate with a flat top and a square or rounded front edge.

Rail front to belt face is read with a rule laid on top of the rail, so it is the
horizontal distance at the height of the rail's top, not along the line of centres, where
the belt bulges. That makes the front edge a point of the belt circle moved sideways, and
every position below the meeting of two circles.
"""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum
from math import atan2, degrees, hypot, sqrt

from planner.errors import Finding, Severity
from planner.units import MDEG_PER_DEGREE, NM_PER_INCH, NM_PER_MM, Unit, format_both

Point = tuple[float, float]

LEAST_GAP_NM = NM_PER_INCH // 16
"""Least gap between belt and rail (common practice: the belt's seam must pass)."""


def mm(length_nm: float) -> float:
    """Millimetres of a length in nanometres."""
    return length_nm / NM_PER_MM


def nm(length_mm: float) -> int:
    """Whole nanometres of a length in millimetres."""
    return round(length_mm * NM_PER_MM)


def mdeg(angle_deg: float) -> int:
    """Whole thousandths of a degree of an angle in degrees."""
    return round(angle_deg * MDEG_PER_DEGREE)


@dataclass(frozen=True, slots=True)
class Machine:
    """The finisher's wheels as measured today; worn wheels have their own numbers."""

    contact_nm: int
    """Diameter of the contact wheel without a belt."""
    brake_nm: int
    """Diameter of the brake wheel."""
    brake_rise_nm: int = 0
    """How far the brake wheel's centre is above the contact wheel's."""
    stop_min_nm: int = 0
    """Smallest wheel gap that the brake wheel's stop can be set to."""
    stop_max_nm: int = 10**12
    """Largest wheel gap that the stop can be set to."""
    od_min_nm: int = 1
    od_max_nm: int = 10**12
    """Range of tube ODs that the finisher takes."""
    centre_above_base_nm: int | None = None
    """Height of the contact wheel's centre above the table that the rail stands on."""


@dataclass(frozen=True, slots=True)
class BeltFace:
    """What the geometry needs to know of a belt."""

    thickness_nm: int
    width_nm: int
    non_woven: bool = False


@dataclass(frozen=True, slots=True)
class RailPlate:
    """What the geometry needs to know of a rail."""

    thickness_nm: int
    edge_radius_nm: int = 0
    """Rounding of the front edge; 0 is a square edge."""


@dataclass(frozen=True, slots=True)
class Margins:
    """The shop's margins."""

    least_gap_nm: int = LEAST_GAP_NM
    """Least gap between belt and rail."""
    stop_closer_nm: int = NM_PER_INCH // 8
    """How much closer than the held tube the stop is set, 1/8 in."""
    stop_clear_nm: int = NM_PER_INCH // 16
    """Least distance between brake wheel and belt at the stop, 1/16 in."""
    steep_rest_mdeg: int = 60_000
    """Lean of the rest force from straight down beyond which the tube may ride over the edge."""


@dataclass(frozen=True, slots=True)
class SetUpProblem:
    """One tube in the finisher: give the drop of its centre, or the height of the rail."""

    machine: Machine
    belt: BeltFace
    rail: RailPlate
    od_nm: int
    rail_front_nm: int
    """Belt face to rail front, by a rule on top of the rail."""
    drop_nm: int | None = None
    """Tube's centre below the line of centres; None when the rail's height is given."""
    rail_top_drop_nm: int | None = None
    """Rail's top below the line of centres; None when the tube's drop is given."""
    margins: Margins = Margins()
    unit: Unit = "inch"
    """The unit that messages put first."""

    def say(self, length_nm: float) -> str:
        """A length as messages write it, in both units."""
        return format_both(round(length_nm), self.unit)


class Rest(StrEnum):
    """The part of the rail that the tube rests on."""

    FRONT_EDGE = "front edge"
    TOP = "top"
    BACK_EDGE = "back edge"


@dataclass(frozen=True, slots=True)
class SetUp:
    """Every number of one set-up; angles around the tube count from the brake side, up first."""

    od_nm: int
    rail_front_nm: int
    """Belt face to rail front, at the height of the rail's top."""
    gap_nm: int
    """Belt face to rail back, at the same height; what a rule reads."""
    clearance_nm: int
    """Nearest distance between belt and rail; what a feeler reads."""
    drop_nm: int
    """Tube's centre below the line of centres."""
    rail_top_drop_nm: int
    """Rail's top, and so its supporting edge, below the line of centres."""
    rail_top_above_base_nm: int | None
    """The same from the table, where the shop gave the centre's height."""
    belt_hold_mdeg: int
    """Angle by which the contact wheel's push points down."""
    brake_hold_mdeg: int
    """Angle by which the brake wheel's push points down."""
    belt_contact_mdeg: int
    brake_contact_mdeg: int
    rail_contact_mdeg: int
    """Where belt, brake wheel and rail touch the tube."""
    rest: Rest
    rest_lean_mdeg: int
    """Lean of the rest force from straight down, towards the belt."""
    rest_into_rail: bool
    """Whether the rest force points into the rail within the margin for its lean."""
    wheel_gap_nm: int
    """Belt face to brake wheel while they hold the tube."""
    stop_nm: int
    """Wheel gap to set the brake wheel's stop to."""
    brake_clearance_nm: int
    """Nearest distance between brake wheel and rail when the wheel is on its stop."""
    tube_centre_nm: tuple[int, int]
    brake_centre_nm: tuple[int, int]
    rail_front_x_nm: int
    """Positions from the contact wheel's centre, for drawing."""


@dataclass(frozen=True, slots=True)
class SetUpResult:
    """The numbers, where the circles meet at all, and everything that speaks against them."""

    value: SetUp | None
    findings: tuple[Finding, ...]

    @property
    def usable(self) -> bool:
        """Whether the machine may be set so."""
        return self.value is not None and not any(
            finding.severity is Severity.ERROR for finding in self.findings
        )


@dataclass(frozen=True, slots=True)
class Circles:
    """The problem in millimetres."""

    belt: float
    """Radius of the belt face."""
    brake: float
    rise: float
    tube: float
    edge: float
    """Radius of the rail's front edge."""
    front: float
    """Belt face to rail front."""
    thickness: float

    @classmethod
    def of(cls, problem: SetUpProblem) -> Circles:
        """Radii and distances of a problem."""
        machine = problem.machine
        return cls(
            belt=mm(machine.contact_nm) / 2 + mm(problem.belt.thickness_nm),
            brake=mm(machine.brake_nm) / 2,
            rise=mm(machine.brake_rise_nm),
            tube=mm(problem.od_nm) / 2,
            edge=mm(problem.rail.edge_radius_nm),
            front=mm(problem.rail_front_nm),
            thickness=mm(problem.rail.thickness_nm),
        )

    def face(self, y: float) -> float | None:
        """How far right the belt face is at height y, None above or below the wheel."""
        return sqrt(self.belt**2 - y * y) if abs(y) < self.belt else None


@dataclass(frozen=True, slots=True)
class Place:
    """Where the tube and the rail are: tube centre, rail's top and front, and the touch."""

    tube: Point
    top: float
    front: float
    rest: Rest
    touch: Point


def meet(first: Point, first_radius: float, second: Point, second_radius: float) -> list[Point]:
    """The points where two circles meet, lower first; empty when they do not."""
    dx, dy = second[0] - first[0], second[1] - first[1]
    apart = hypot(dx, dy)
    if apart == 0 or not abs(first_radius - second_radius) <= apart <= first_radius + second_radius:
        return []
    along = (first_radius**2 - second_radius**2 + apart**2) / (2 * apart)
    aside = sqrt(max(0.0, first_radius**2 - along**2))
    x, y = first[0] + along * dx / apart, first[1] + along * dy / apart
    offset = (aside * dy / apart, aside * dx / apart)
    both = [(x + offset[0], y - offset[1]), (x - offset[0], y + offset[1])]
    return sorted(both, key=lambda point: point[1])


def place_by_drop(circles: Circles, drop: float) -> Place | None:
    """Set the rail so that the tube's centre is `drop` mm below the line of centres."""
    reach = circles.belt + circles.tube
    if abs(drop) >= reach:
        return None
    tube = (sqrt(reach**2 - drop**2), -drop)
    top = -drop - circles.tube
    face = circles.face(top)
    if face is not None and face + circles.front - circles.edge >= tube[0]:
        front = face + circles.front
        if front - circles.thickness > tube[0]:
            return _on_back_edge(circles, tube)
        return Place(tube, top, front, Rest.TOP, (tube[0], top))
    return _on_front_edge(circles, tube)


def _on_front_edge(circles: Circles, tube: Point) -> Place | None:
    """The centre of the edge's rounding lies on the belt circle moved by front − edge, −edge."""
    edge = circles.edge
    points = meet((circles.front - edge, -edge), circles.belt, tube, circles.tube + edge)
    if not points or points[0][1] >= tube[1] or points[0][0] < circles.front - edge:
        return None
    x, y = points[0]
    share = edge / (circles.tube + edge)
    touch = (x + share * (tube[0] - x), y + share * (tube[1] - y))
    return Place(tube, y + edge, x + edge, Rest.FRONT_EDGE, touch)


def _on_back_edge(circles: Circles, tube: Point) -> Place | None:
    points = meet((circles.front - circles.thickness, 0.0), circles.belt, tube, circles.tube)
    if not points or points[0][1] >= tube[1]:
        return None
    x, y = points[0]
    return Place(tube, y, x + circles.thickness, Rest.BACK_EDGE, (x, y))


def place_by_rail(circles: Circles, top_drop: float) -> Place | None:
    """Let the tube settle on a rail whose top is `top_drop` mm below the line of centres."""
    face = circles.face(-top_drop)
    if face is None:
        return None
    front = face + circles.front
    candidates = [_settle_on_top(circles, -top_drop, front)]
    for rest, x, radius in (
        (Rest.FRONT_EDGE, front - circles.edge, circles.edge),
        (Rest.BACK_EDGE, front - circles.thickness, 0.0),
    ):
        candidates.append(_settle_on_edge(circles, (x, -top_drop - radius), radius, front, rest))
    return next((place for place in candidates if place), None)


def _settle_on_top(circles: Circles, top: float, front: float) -> Place | None:
    y = top + circles.tube
    reach = circles.belt + circles.tube
    if abs(y) >= reach:
        return None
    x = sqrt(reach**2 - y * y)
    if not front - circles.thickness <= x <= front - circles.edge:
        return None
    return Place((x, y), top, front, Rest.TOP, (x, top))


def _settle_on_edge(
    circles: Circles, centre: Point, radius: float, front: float, rest: Rest
) -> Place | None:
    points = meet((0.0, 0.0), circles.belt + circles.tube, centre, circles.tube + radius)
    right_side = [
        point
        for point in points
        if point[1] > centre[1] and (point[0] > centre[0]) == (rest is Rest.FRONT_EDGE)
    ]
    if not right_side:
        return None
    tube = max(right_side)
    share = radius / (circles.tube + radius)
    touch = (
        centre[0] + share * (tube[0] - centre[0]),
        centre[1] + share * (tube[1] - centre[1]),
    )
    return Place(tube, centre[1] + radius, front, rest, touch)


def brake_centre(circles: Circles, tube: Point) -> Point | None:
    """Where the brake wheel's centre is when it touches the tube from the right."""
    fall = circles.rise - tube[1]
    reach = circles.brake + circles.tube
    if abs(fall) >= reach:
        return None
    return (tube[0] + sqrt(reach**2 - fall**2), circles.rise)


def angle_deg(centre: Point, point: Point) -> float:
    """Direction from a centre to a point, in degrees from the brake side, 0 to 360."""
    return degrees(atan2(point[1] - centre[1], point[0] - centre[0])) % 360
