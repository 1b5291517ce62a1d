"""The settings to begin with: a quarter of the OD each way (common practice), made settable.

The rail front goes a quarter of the OD from the belt face and the tube's centre a quarter of
the OD below the line of centres, both to the nearest mark of the shop's rule. The height of the
rail follows from the two.
"""

from __future__ import annotations

from dataclasses import dataclass, replace

from planner.errors import Finding, Severity
from planner.finisher.geometry import SetUpProblem, SetUpResult
from planner.finisher.set_up import solve
from planner.units import NM_PER_INCH

QUARTER = 4
"""Offset and drop are the OD divided by this (common practice)."""
THIRTY_SECOND_NM = NM_PER_INCH // 32
"""The finest mark of a usual rule in inches."""


@dataclass(frozen=True, slots=True)
class Suggestion:
    """A set-up to begin with, and the rail for it."""

    problem: SetUpProblem
    result: SetUpResult


def thickest_rail_nm(od_nm: int, least_gap_nm: int, mark_nm: int = THIRTY_SECOND_NM) -> int:
    """Thickest rail that the quarter rule leaves the least gap for; 0 or less when none does.

    Without a margin the gap is gone once OD ≤ 4 × the rail's thickness.
    """
    return _to_mark(od_nm // QUARTER, mark_nm) - least_gap_nm


def suggest_set_up(problem: SetUpProblem, mark_nm: int = THIRTY_SECOND_NM) -> Suggestion:
    """The quarter rule for this tube, belt and rail; the problem's own settings are ignored.

    Where the rail is too thick for it, the result says so and names the thickest that works;
    the settings shown then move the rail front out just enough to leave the least gap, as long
    as the rail's front stays behind the tube's centre.
    """
    quarter = _to_mark(problem.od_nm // QUARTER, mark_nm)
    least = problem.margins.least_gap_nm
    thickness = problem.rail.thickness_nm
    front = quarter
    findings: tuple[Finding, ...] = ()
    if front - thickness < least:
        findings = (_too_thick(problem, mark_nm),)
        front = -(-(thickness + least) // mark_nm) * mark_nm
    settled = replace(problem, rail_front_nm=front, drop_nm=quarter, rail_top_drop_nm=None)
    result = solve(settled)
    return Suggestion(settled, replace(result, findings=findings + result.findings))


def _to_mark(length_nm: int, mark_nm: int) -> int:
    return max(1, (2 * length_nm + mark_nm) // (2 * mark_nm)) * mark_nm


def _too_thick(problem: SetUpProblem, mark_nm: int) -> Finding:
    say = problem.say
    thickest = thickest_rail_nm(problem.od_nm, problem.margins.least_gap_nm, mark_nm)
    closed = problem.od_nm <= QUARTER * problem.rail.thickness_nm
    left = "no gap" if closed else "less than the least gap"
    advice = (
        f"the thickest rail that works is {say(thickest)}"
        if thickest > 0
        else "no rail is thin enough"
    )
    return Finding(
        severity=Severity.WARNING,
        message=f"A quarter of OD {say(problem.od_nm)} leaves {left} beside a "
        f"{say(problem.rail.thickness_nm)} rail: {advice}. The settings shown move the rail "
        "front out to keep the least gap.",
    )
