"""The side view: a finisher's set-up to scale, looking along the tube, with the card's numbers.

The picture is cut out of the machine around the tube, so that a fabricator can lay rule and
caliper on it: belt on the left, brake wheel on the right, rail below. Every dimension is drawn
between the very points that it is measured between.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from math import atan2, cos, degrees, hypot, radians, sin, sqrt

from planner.finisher.geometry import Point, SetUp, SetUpProblem, mm
from planner.units import Unit, format_inch, format_mm
from planner_io.drawing.ink import (
    INK,
    PALE,
    STEEL,
    line,
    num,
    rect,
    svg,
    text,
    text_width,
    true_fractions,
)

WIDTH_MM = 180.0
HEIGHT_MM = 102.0
WINDOW_MM = 94.0
"""The machine fills the picture down to here; the caption stands below."""
CENTRES_MM = 33.0
"""Height of the line of centres in the picture."""
TUBE_MM = 40.0
"""The tube is drawn no larger than this."""
SCALES = (4.0, 3.0, 2.5, 2.0, 1.5, 1.0, 1 / 1.5, 1 / 2, 1 / 2.5, 1 / 3, 1 / 4, 1 / 5, 1 / 8)
PAPER = "#faf9f6"

LEFT_MM = WIDTH_MM / 2 - TUBE_MM / 2 - 14
RIGHT_MM = WIDTH_MM / 2 + TUBE_MM / 2 + 5
"""Where the heights are drawn, with their names outside."""
NUMBER_MM = 5.2
NAME_MM = 3.3
NAME_ROOM_MM = 43.0
"""Width that the longest name takes."""
_THIN = f'stroke="{INK}" stroke-width="0.22"'
_AXIS = f'stroke="{INK}" stroke-width="0.22" stroke-dasharray="7 1.2 1.2 1.2"'
_GHOST = f'fill="none" stroke="{STEEL}" stroke-width="0.45" stroke-dasharray="2 1.2"'
_WHEEL = f'fill="{STEEL}" fill-opacity="0.10" stroke="{STEEL}" stroke-width="0.5"'
_RAIL = f'fill="{STEEL}" stroke="{INK}" stroke-width="0.25"'
_PUSH = f'stroke="{INK}" stroke-width="0.6"'


@dataclass(frozen=True)
class SideView:
    """What is drawn, and how its lengths are written."""

    problem: SetUpProblem
    set_up: SetUp
    wall_nm: int
    unit: Unit = "inch"
    denominator: int = 32

    @property
    def scale(self) -> float:
        """Paper millimetres for each real one: the largest round scale that fits."""
        deep = mm(self.set_up.rail_top_drop_nm)
        return next(
            (s for s in SCALES if mm(self.set_up.od_nm) * s <= TUBE_MM and deep * s <= TUBE_MM),
            SCALES[-1],
        )

    def at(self, x: float, y: float) -> Point:
        """Where a point of the machine, in mm from the contact wheel's centre, is drawn."""
        middle = mm(self.set_up.tube_centre_nm[0])
        return WIDTH_MM / 2 + (x - middle) * self.scale, CENTRES_MM - y * self.scale

    @property
    def belt_mm(self) -> float:
        """Radius of the belt's face."""
        return mm(self.problem.machine.contact_nm) / 2 + mm(self.problem.belt.thickness_nm)

    @property
    def brake_mm(self) -> float:
        """Radius of the brake wheel."""
        return mm(self.problem.machine.brake_nm) / 2

    def face_mm(self, y: float) -> float:
        """How far right the belt's face is at a height."""
        return sqrt(max(0.0, self.belt_mm**2 - y * y))

    def number(self, length_nm: int) -> str:
        """The length as the card has it first."""
        if self.unit == "mm":
            return format_mm(length_nm)
        return true_fractions(format_inch(length_nm, self.denominator))

    def other(self, length_nm: int) -> str:
        """The length in the other unit."""
        if self.unit == "mm":
            return true_fractions(format_inch(length_nm, self.denominator))
        return format_mm(length_nm)


def side_view(view: SideView) -> str:
    """The picture as SVG, `WIDTH_MM` × `HEIGHT_MM`."""
    window = (
        '<clipPath id="side-view-window">'
        f'<rect width="{num(WIDTH_MM)}" height="{num(WINDOW_MM)}"/></clipPath>'
    )
    inside = "".join([*_machine(view), *_tube(view), *_turns(view), *_dimensions(view)])
    frame = rect(0, 0, WIDTH_MM, HEIGHT_MM, f'fill="{PAPER}"')
    return svg(
        WIDTH_MM,
        HEIGHT_MM,
        [
            f"<defs>{window}</defs>",
            frame,
            f'<g clip-path="url(#side-view-window)">{inside}</g>',
            *_names(view),
        ],
        title=_in_words(view),
    )


def _in_words(view: SideView) -> str:
    value = view.set_up
    return (
        f"Side view: rail front {view.number(value.rail_front_nm)} from the belt face, "
        f"tube centre {view.number(value.drop_nm)} below the line of centres, "
        f"stop at {view.number(value.stop_nm)}"
    )


def _circle(view: SideView, centre: Point, radius: float, style: str) -> str:
    x, y = view.at(*centre)
    return f'<circle cx="{num(x)}" cy="{num(y)}" r="{num(radius * view.scale)}" {style}/>'


def _machine(view: SideView) -> Iterator[str]:
    belt = mm(view.problem.belt.thickness_nm)
    yield _circle(view, (0, 0), view.belt_mm - belt, _WHEEL)
    yield _belt(view, belt)
    yield _circle(view, _brake_centre(view), view.brake_mm, _WHEEL)
    yield _rail(view)
    yield _circle(view, _on_stop(view), view.brake_mm, _GHOST)
    yield line(0, CENTRES_MM, WIDTH_MM, CENTRES_MM, _AXIS)


def _brake_centre(view: SideView) -> Point:
    return mm(view.set_up.brake_centre_nm[0]), mm(view.set_up.brake_centre_nm[1])


def _on_stop(view: SideView) -> Point:
    """Where the brake wheel's centre is on the stop, with no tube in."""
    low = _brake_centre(view)[1]
    reach = view.belt_mm + view.brake_mm + mm(view.set_up.stop_nm)
    return sqrt(max(0.0, reach**2 - low**2)), low


def _belt(view: SideView, belt: float) -> str:
    """A band as thick as the belt; a non-woven one is open web, so it is drawn as dots."""
    wide = max(0.5, belt * view.scale)
    edge = _circle(view, (0, 0), view.belt_mm, f'fill="none" {_THIN}')
    if not view.problem.belt.non_woven:
        band = f'fill="none" stroke="{STEEL}" stroke-width="{num(wide)}"'
        return _circle(view, (0, 0), view.belt_mm - belt / 2, band) + edge
    rows = max(1, round(wide / 1.3))
    dots = (
        f'fill="none" stroke="{STEEL}" stroke-width="0.75" stroke-linecap="round" '
        'stroke-dasharray="0 1.5"'
    )
    depths = ((row + 0.5) / rows * belt for row in range(rows))
    return "".join(_circle(view, (0, 0), view.belt_mm - depth, dots) for depth in depths) + edge


def _rail(view: SideView) -> str:
    value, rail = view.set_up, view.problem.rail
    x, y = view.at(mm(value.rail_front_x_nm), -mm(value.rail_top_drop_nm))
    back = x - mm(rail.thickness_nm) * view.scale
    edge = num(mm(rail.edge_radius_nm) * view.scale)
    low, round_from = num(WINDOW_MM + 2), num(x - mm(rail.edge_radius_nm) * view.scale)
    return (
        f'<path d="M{num(back)} {low}V{num(y)}H{round_from}'
        f'a{edge} {edge} 0 0 1 {edge} {edge}V{low}Z" {_RAIL}/>'
    )


def _turns(view: SideView) -> Iterator[str]:
    """The ways round: the belt runs down, the tube and the brake wheel follow it."""
    value, scale = view.set_up, view.scale
    tube = (mm(value.tube_centre_nm[0]), mm(value.tube_centre_nm[1]))
    brake = (mm(value.brake_centre_nm[0]), mm(value.brake_centre_nm[1]))
    belt = mm(view.problem.belt.thickness_nm)
    inside = view.belt_mm - belt - 5 / scale
    rise = degrees(20 / scale / inside)
    yield _turn(view, (0, 0), inside, 0.25 * rise + rise, 0.25 * rise)
    around = view.brake_mm - 5 / scale
    rise = degrees(14 / scale / around)
    yield _turn(view, brake, around, 180 + 2.6 * rise, 180 + 1.6 * rise)
    yield _turn(view, tube, mm(value.od_nm) / 2 - mm(view.wall_nm) - 2.5 / scale, 60, 120)


def _turn(view: SideView, centre: Point, radius: float, start: float, end: float) -> str:
    """An arc with a head, from one angle to another in degrees from the brake side."""
    first, last, before = (
        view.at(centre[0] + radius * cos(radians(a)), centre[1] + radius * sin(radians(a)))
        for a in (start, end, end - (end - start) * 0.1)
    )
    drawn = num(radius * view.scale)
    sweep = 1 if end < start else 0
    return (
        f'<path d="M{num(first[0])} {num(first[1])}A{drawn} {drawn} 0 0 {sweep} '
        f'{num(last[0])} {num(last[1])}" fill="none" {_THIN}/>' + _head(before, last, 2.2)
    )


def _tube(view: SideView) -> Iterator[str]:
    value, scale = view.set_up, view.scale
    centre = (mm(value.tube_centre_nm[0]), mm(value.tube_centre_nm[1]))
    radius, wall = mm(value.od_nm) / 2, mm(view.wall_nm)
    style = f'fill="#fff" fill-opacity="0.75" stroke="{INK}" stroke-width="{num(wall * scale)}"'
    yield _circle(view, centre, radius - wall / 2, style)
    x, y = view.at(*centre)
    yield line(x - 3, y, x + 3, y, _THIN) + line(x, y - 3, x, y + 3, _THIN)
    far, near = (radius - wall) * scale - 1.2, (radius - wall) * scale - 9.5
    for contact in (value.belt_contact_mdeg, value.brake_contact_mdeg):
        angle = radians(contact / 1000)
        out = (cos(angle), -sin(angle))
        start, end = (x + far * out[0], y + far * out[1]), (x + near * out[0], y + near * out[1])
        yield _arrow(start, end, _PUSH)
    angle = radians(value.rail_contact_mdeg / 1000)
    out = (cos(angle), -sin(angle))
    yield _arrow(
        (x + near * out[0], y + near * out[1]), (x + far * out[0], y + far * out[1]), _PUSH
    )


def _arrow(start: Point, end: Point, style: str, head: float = 2.2) -> str:
    return line(*start, *end, style) + _head(start, end, head)


def _head(start: Point, end: Point, size: float) -> str:
    """A filled arrow head at `end`, coming from `start`."""
    way = atan2(end[1] - start[1], end[0] - start[0])
    corners = [end] + [
        (end[0] - size * cos(way + turn), end[1] - size * sin(way + turn)) for turn in (0.3, -0.3)
    ]
    points = " ".join(f"{num(x)},{num(y)}" for x, y in corners)
    return f'<polygon points="{points}" fill="{INK}"/>'


def _span(start: Point, end: Point) -> str:
    """A dimension line with heads at both ends, from outside where there is no room inside."""
    apart = hypot(end[0] - start[0], end[1] - start[1])
    if apart >= 7:
        return line(*start, *end, _THIN) + _head(start, end, 2) + _head(end, start, 2)
    ux, uy = ((end[0] - start[0]) / apart, (end[1] - start[1]) / apart) if apart else (1.0, 0.0)
    before = (start[0] - 6 * ux, start[1] - 6 * uy)
    after = (end[0] + 6 * ux, end[1] + 6 * uy)
    return line(*before, *after, _THIN) + _head(before, start, 2) + _head(after, end, 2)


def _label(view: SideView, x: float, y: float, length_nm: int, name: str, anchor: str) -> str:
    """The number large, then what it is and the other unit."""
    rest = f"{name} · {view.other(length_nm)}"
    number = text(x, y, view.number(length_nm), NUMBER_MM, bold=True, anchor=anchor)
    words = text(x, y + NAME_MM * 1.25, rest, NAME_MM, anchor=anchor)
    return "".join([*_behind(view, x, y, rest, anchor), number, words])


def _behind(view: SideView, x: float, y: float, name: str, anchor: str) -> Iterator[str]:
    """Paper behind a label that the edge of a wheel or a thick belt's dots would run through."""
    width = text_width(name, NAME_MM)
    left = x - width if anchor == "end" else x - 0.6
    box = (left, y - 4.2, left + width + 0.6, y + 5.4)
    on_dots = anchor == "end" and mm(view.problem.belt.thickness_nm) * view.scale > 15
    if on_dots or any(_crosses(view, edge, box) for edge in _edges(view)):
        yield rect(*box[:2], width + 0.6, 9.6, f'fill="{PAPER}" fill-opacity="0.85"')


def _edges(view: SideView) -> Iterator[tuple[Point, float]]:
    """The circles whose lines are drawn: the belt's face and back, the brake wheel twice."""
    yield (0.0, 0.0), view.belt_mm
    yield (0.0, 0.0), view.belt_mm - mm(view.problem.belt.thickness_nm)
    yield _brake_centre(view), view.brake_mm
    yield _on_stop(view), view.brake_mm


def _crosses(
    view: SideView, edge: tuple[Point, float], box: tuple[float, float, float, float]
) -> bool:
    """Whether a circle of the machine runs through a box (left, top, right, foot) of paper."""
    x, y = view.at(*edge[0])
    left, top, right, foot = box
    nearest = hypot(max(left - x, 0.0, x - right), max(top - y, 0.0, y - foot))
    farthest = hypot(max(abs(left - x), abs(right - x)), max(abs(top - y), abs(foot - y)))
    return nearest < edge[1] * view.scale < farthest


def _dimensions(view: SideView) -> Iterator[str]:
    yield from _wheel_gaps(view)
    yield from _heights(view)
    yield from _rail_places(view)


def _wheel_gaps(view: SideView) -> Iterator[str]:
    """Along the line of centres, drawn above it: with the tube in, and on the stop."""
    value = view.set_up
    belt = view.at(view.belt_mm, 0)[0]
    rows = (
        (value.wheel_gap_nm, "wheels apart, tube in", 19.0),
        (value.stop_nm, "stop, no tube in", 8.0),
    )
    yield line(belt, CENTRES_MM, belt, 4.5, _THIN)
    for length, name, y in rows:
        end = belt + mm(length) * view.scale
        yield line(end, CENTRES_MM, end, y - 2.5, _THIN)
        yield _span((belt, y), (end, y))
        yield _label(view, RIGHT_MM + 3, y + 1, length, name, "start")


def _heights(view: SideView) -> Iterator[str]:
    value = view.set_up
    tube_x, tube_y = view.at(mm(value.tube_centre_nm[0]), mm(value.tube_centre_nm[1]))
    yield line(tube_x + 3, tube_y, RIGHT_MM + 2, tube_y, _THIN)
    yield _span((RIGHT_MM, CENTRES_MM), (RIGHT_MM, tube_y))
    yield _label(view, RIGHT_MM + 3, tube_y + 3.5, value.drop_nm, "tube centre below line", "start")
    back = view.at(mm(value.rail_front_x_nm - view.problem.rail.thickness_nm), 0)[0]
    top = CENTRES_MM + mm(value.rail_top_drop_nm) * view.scale
    yield line(LEFT_MM - 2, top, back, top, _THIN)
    yield _span((LEFT_MM, CENTRES_MM), (LEFT_MM, top))
    middle = (CENTRES_MM + top) / 2 + 1
    yield _label(view, LEFT_MM - 3, middle, value.rail_top_drop_nm, "rail top below line", "end")


def _rail_places(view: SideView) -> Iterator[str]:
    """Read with a rule on top of the rail, drawn below it: rail front and gap."""
    value = view.set_up
    top = CENTRES_MM + mm(value.rail_top_drop_nm) * view.scale
    face = view.at(view.face_mm(-mm(value.rail_top_drop_nm)), 0)[0]
    front = face + mm(value.rail_front_nm) * view.scale
    back = face + mm(value.gap_nm) * view.scale
    yield line(face, top, face, top + 24, _THIN)
    yield _span((face, top + 9), (back, top + 9))
    yield line(LEFT_MM - 2, top + 9, face - 5, top + 9, _THIN)
    yield _label(view, LEFT_MM - 3, top + 8, value.gap_nm, "gap, belt to rail", "end")
    yield _span((face, top + 21), (front, top + 21))
    at = _beside_brake(view, front + 4, top + 21)
    yield line(front, top + 21, at - 1, top + 21, _THIN)
    yield _label(view, at, top + 20, value.rail_front_nm, "rail front to belt face", "start")


def _beside_brake(view: SideView, left: float, y: float) -> float:
    """Where a label may begin at a height: in the open if there is room, else on the wheel, clear
    of its edge from the top of the number to the foot of the name."""
    value = view.set_up
    x, centre = view.at(mm(value.brake_centre_nm[0]), mm(value.brake_centre_nm[1]))
    radius = view.brake_mm * view.scale
    edges = [x - sqrt(max(0.0, radius**2 - (row - centre) ** 2)) for row in (y - 5, y + 4)]
    if min(edges) - left > NAME_ROOM_MM + 2:
        return left
    return min(max(left, max(edges) + 3, RIGHT_MM + 3), WIDTH_MM - 2 - NAME_ROOM_MM)


def _names(view: SideView) -> Iterable[str]:
    value = view.set_up
    belt, brake = (angle / 1000 for angle in (value.belt_hold_mdeg, value.brake_hold_mdeg))
    holds = (
        f"Held down {belt:.1f}° by the belt and {brake:.1f}° by the brake wheel; "
        f"rests on the rail's {value.rest.value}."
    )
    low = HEIGHT_MM - 2.5
    head = NAME_MM + 0.5
    return (
        text(4, 8, "Contact wheel and belt", head, bold=True, fill=STEEL),
        text(WIDTH_MM - 4, 8, "Brake wheel", head, bold=True, anchor="end", fill=STEEL),
        text(4, CENTRES_MM - 1.2, "line of centres", NAME_MM - 0.3, fill=PALE),
        line(0, WINDOW_MM, WIDTH_MM, WINDOW_MM, _THIN),
        text(4, low, holds, NAME_MM),
        text(WIDTH_MM - 4, low, f"scale {_ratio(view.scale)}", NAME_MM, anchor="end"),
    )


def _ratio(scale: float) -> str:
    """A scale as drawings write it.

    >>> _ratio(2.0), _ratio(1 / 1.5)
    ('2:1', '1:1.5')
    """
    return f"{scale:g}:1" if scale >= 1 else f"1:{1 / scale:.3g}"
