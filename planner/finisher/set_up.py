"""The numbers of one set-up, and everything that speaks against it."""

from __future__ import annotations

from math import asin, atan2, degrees, hypot, sqrt

from planner.errors import Finding, Severity
from planner.finisher.geometry import (
    Circles,
    Place,
    Point,
    Rest,
    SetUp,
    SetUpProblem,
    SetUpResult,
    angle_deg,
    brake_centre,
    mdeg,
    mm,
    nm,
    place_by_drop,
    place_by_rail,
)


def solve(problem: SetUpProblem) -> SetUpResult:
    """Solve the circles of a set-up and judge it; exact, so it takes neither stop nor seed."""
    refusals = tuple(_refuse_input(problem))
    if refusals:
        return SetUpResult(None, refusals)
    circles = Circles.of(problem)
    place = _place(problem, circles)
    if place is None:
        return SetUpResult(None, (_off_the_rail(problem),))
    brake = brake_centre(circles, place.tube)
    if brake is None:
        return SetUpResult(None, (_out_of_reach(problem),))
    value = _measure(problem, circles, place, brake)
    return SetUpResult(value, tuple(_judge(problem, value)))


def _place(problem: SetUpProblem, circles: Circles) -> Place | None:
    if problem.drop_nm is not None:
        return place_by_drop(circles, mm(problem.drop_nm))
    return place_by_rail(circles, mm(problem.rail_top_drop_nm or 0))


def _error(message: str) -> Finding:
    return Finding(severity=Severity.ERROR, message=message)


def _warning(message: str) -> Finding:
    return Finding(severity=Severity.WARNING, message=message)


def _refuse_input(problem: SetUpProblem) -> list[Finding]:
    """What cannot be solved at all: sizes that are no sizes, or an OD outside the range."""
    say = problem.say
    sizes = {
        "contact wheel": problem.machine.contact_nm,
        "brake wheel": problem.machine.brake_nm,
        "tube OD": problem.od_nm,
        "rail thickness": problem.rail.thickness_nm,
    }
    found = [
        _error(f"The {name} measures {say(size)}; enter a size above zero.")
        for name, size in sizes.items()
        if size <= 0
    ]
    if problem.belt.thickness_nm < 0:
        found.append(_error("The belt's thickness cannot be negative."))
    if not 0 <= problem.rail.edge_radius_nm <= problem.rail.thickness_nm:
        found.append(_error("The rail's edge radius must be between 0 and its thickness."))
    if problem.rail_front_nm <= 0:
        found.append(_error("The rail's front cannot be inside the belt: move it out."))
    if (problem.drop_nm is None) == (problem.rail_top_drop_nm is None):
        found.append(_error("Give either the drop of the tube's centre or the rail's height."))
    return found + _refuse_od(problem)


def _refuse_od(problem: SetUpProblem) -> list[Finding]:
    say = problem.say
    low, high = problem.machine.od_min_nm, problem.machine.od_max_nm
    if low <= problem.od_nm <= high:
        return []
    return [
        _error(
            f"OD {say(problem.od_nm)} is outside the finisher's range, {say(low)} to "
            f"{say(high)}: finish it elsewhere, or buy it finished."
        )
    ]


def _off_the_rail(problem: SetUpProblem) -> Finding:
    say = problem.say
    return _error(
        f"With the rail front {say(problem.rail_front_nm)} from the belt, no rail edge at this "
        "height is below the tube: it is beyond the tube's side. Set the rail front to a quarter "
        f"of the OD, {say(problem.od_nm / 4)}, and the tube's centre as much below the line "
        "of the wheel centres."
    )


def _out_of_reach(problem: SetUpProblem) -> Finding:
    say = problem.say
    rise = problem.machine.brake_rise_nm
    return _error(
        f"The brake wheel's centre is {say(abs(rise))} {'above' if rise > 0 else 'below'} the "
        "contact wheel's, so it does not touch the tube from the side: check its height in the "
        "sheet Wheels."
    )


def _measure(problem: SetUpProblem, circles: Circles, place: Place, brake: Point) -> SetUp:
    tube = place.tube
    gap = hypot(brake[0], brake[1]) - circles.belt - circles.brake
    free = _gap_free_of_rail(circles, place, mm(problem.margins.stop_clear_nm))
    stop = _stop_nm(problem, nm(gap), nm(free))
    lean = degrees(atan2(tube[0] - place.touch[0], tube[1] - place.touch[1]))
    base = problem.machine.centre_above_base_nm
    into_rail = place.rest is not Rest.BACK_EDGE and (mdeg(lean) <= problem.margins.steep_rest_mdeg)
    return SetUp(
        od_nm=problem.od_nm,
        rail_front_nm=problem.rail_front_nm,
        gap_nm=problem.rail_front_nm - problem.rail.thickness_nm,
        clearance_nm=nm(_belt_clearance(circles, place)),
        drop_nm=nm(-tube[1]),
        rail_top_drop_nm=nm(-place.top),
        rail_top_above_base_nm=None if base is None else base - nm(-place.top),
        belt_hold_mdeg=mdeg(degrees(asin(-tube[1] / (circles.belt + circles.tube)))),
        brake_hold_mdeg=mdeg(
            degrees(asin((circles.rise - tube[1]) / (circles.brake + circles.tube)))
        ),
        belt_contact_mdeg=mdeg(angle_deg(tube, (0.0, 0.0))),
        brake_contact_mdeg=mdeg(angle_deg(tube, brake)),
        rail_contact_mdeg=mdeg(angle_deg(tube, place.touch)),
        rest=place.rest,
        rest_lean_mdeg=mdeg(lean),
        rest_into_rail=into_rail,
        wheel_gap_nm=nm(gap),
        stop_nm=stop,
        brake_clearance_nm=nm(_brake_clearance(circles, place, mm(stop))),
        tube_centre_nm=(nm(tube[0]), nm(tube[1])),
        brake_centre_nm=(nm(brake[0]), nm(brake[1])),
        rail_front_x_nm=nm(place.front),
    )


def _stop_nm(problem: SetUpProblem, wheel_gap_nm: int, free_nm: int) -> int:
    """Closer than the tube by the shop's margin, clear of belt and rail, within reach."""
    margins, machine = problem.margins, problem.machine
    wanted = max(wheel_gap_nm - margins.stop_closer_nm, margins.stop_clear_nm, free_nm)
    return min(max(wanted, machine.stop_min_nm), machine.stop_max_nm)


def _gap_free_of_rail(circles: Circles, place: Place, clear: float) -> float:
    """Smallest wheel gap at which the brake wheel stays `clear` of the rail's front."""
    reach, fall = circles.brake + clear, circles.rise - place.top
    aside = sqrt(max(0.0, reach**2 - fall**2))
    return hypot(place.front + aside, circles.rise) - circles.belt - circles.brake


def _belt_clearance(circles: Circles, place: Place) -> float:
    """The belt is nearest to the top of the rail's back face, or at the line of centres."""
    return hypot(place.front - circles.thickness, min(place.top, 0.0)) - circles.belt


def _brake_clearance(circles: Circles, place: Place, stop: float) -> float:
    """Brake wheel on its stop, to the top of the rail's front face; the wheel is above it."""
    reach = circles.belt + circles.brake + stop
    centre = sqrt(max(0.0, reach**2 - circles.rise**2))
    return hypot(centre - place.front, circles.rise - place.top) - circles.brake


def _judge(problem: SetUpProblem, value: SetUp) -> list[Finding]:
    return [
        *_judge_hold(problem, value),
        *_judge_rest(problem, value),
        *_judge_gap(problem, value),
        *_judge_stop(problem, value),
    ]


def _judge_hold(problem: SetUpProblem, value: SetUp) -> list[Finding]:
    say = problem.say
    found: list[Finding] = []
    if value.belt_hold_mdeg <= 0:
        found.append(
            _error(
                "The tube's centre is not below the line of the wheel centres, so it climbs out: "
                f"lower the rail until the centre is {say(value.od_nm / 4)} below the line."
            )
        )
    if value.brake_hold_mdeg <= 0:
        found.append(
            _error(
                "The brake wheel's centre is not above the tube's, so it lifts the tube: lower "
                "the rail, or level the brake wheel with the contact wheel."
            )
        )
    return found


def _judge_rest(problem: SetUpProblem, value: SetUp) -> list[Finding]:
    say = problem.say
    if value.rest is Rest.BACK_EDGE:
        return [
            _error(
                "The rail stands in front of the tube's centre and pushes it off the brake wheel: "
                f"move the rail front to {say(value.od_nm / 4)} from the belt."
            )
        ]
    if not value.rest_into_rail:
        return [
            _warning(
                f"The tube leans on the rail at {value.rest_lean_mdeg / 1000:.0f}° from straight "
                "down and may ride over its edge: move the rail front away from the belt, towards "
                f"{say(problem.od_nm / 4)}."
            )
        ]
    return []


def _judge_gap(problem: SetUpProblem, value: SetUp) -> list[Finding]:
    say = problem.say
    thickness, least = problem.rail.thickness_nm, problem.margins.least_gap_nm
    if value.clearance_nm <= 0:
        return [
            _error(
                f"A {say(thickness)} rail leaves no gap to the belt at this setting: fit a "
                f"rail of at most {say(value.rail_front_nm - least)}."
            )
        ]
    if value.gap_nm < least:
        return [
            _warning(
                f"Only {say(value.gap_nm)} between belt and rail, less than the shop's "
                f"{say(least)}: fit a thinner rail, or watch the belt's seam."
            )
        ]
    return []


def _judge_stop(problem: SetUpProblem, value: SetUp) -> list[Finding]:
    say = problem.say
    found: list[Finding] = []
    reach = f"{say(problem.machine.stop_min_nm)} to {say(problem.machine.stop_max_nm)}"
    wanted = value.wheel_gap_nm - problem.margins.stop_closer_nm
    if value.stop_nm >= value.wheel_gap_nm:
        found.append(
            _error(
                f"The wheels are {say(value.wheel_gap_nm)} apart with the tube between them "
                f"and the stop (reach {reach}) cannot be set closer: correct its reach in the "
                "sheet Wheels, or finish this tube elsewhere."
            )
        )
    elif value.stop_nm < problem.margins.stop_clear_nm:
        found.append(
            _error(
                f"On its stop the brake wheel would be {say(value.stop_nm)} from the belt: "
                f"it must stay {say(problem.margins.stop_clear_nm)} clear of it."
            )
        )
    elif value.stop_nm != wanted:
        found.append(
            _warning(
                f"The stop cannot be set {say(problem.margins.stop_closer_nm)} closer than "
                f"the tube (reach {reach}, clear of belt and rail): set it to {say(value.stop_nm)}."
            )
        )
    if value.brake_clearance_nm <= 0:
        found.append(
            _error(
                "On its stop the brake wheel would touch the rail: open the stop, or set the "
                "rail nearer to the belt."
            )
        )
    return found
