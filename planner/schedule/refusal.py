"""Why no plan exists: which fixed time cannot be kept, which work or changeover finds no
place."""

from __future__ import annotations

from collections.abc import Callable, Sequence

from planner.errors import Finding, NoPlanError, Severity
from planner.schedule.compiled import NOWHERE, TERMS, Compiled, Mode
from planner.schedule.crews import Crew
from planner.schedule.decoder import Step, decode
from planner.schedule.dispatch import Start
from planner.schedule.problem import Term

Words = Callable[[int], str]
"""How a minute is said in a sentence."""


def bare(minute: int) -> str:
    """A minute where nobody knows what day its zero is."""
    return f"minute {minute}"


def refuse_violation(compiled: Compiled, best: Start, words: Words = bare) -> None:
    """Raise a NoPlanError that names every culprit if even the best list has a violation.

    Where a changeover fits into no stretch of the hours, it is what is named, with its station
    as the subject: the work behind it ends beyond the horizon because of it.
    """
    if best.terms[TERMS.index(Term.VIOLATION)] == 0:
        return
    _, steps = decode(compiled, best.order, list(best.modes))
    horizon = compiled.problem.horizon_min
    stuck = _stuck(compiled, steps, horizon) if horizon is not None else {}
    findings = [
        _error(station, _no_room(compiled, step, longest))
        for station, (step, longest) in stuck.items()
    ]
    for step in steps:
        if not stuck or horizon is None or step.end <= horizon:
            message = _violation(compiled, step, words)
            if message:
                findings.append(_error(compiled.ops[step.operation].key, message))
    raise NoPlanError(findings)


def _error(subject: str, message: str) -> Finding:
    return Finding(severity=Severity.ERROR, message=message, subject=subject)


def _stuck(compiled: Compiled, steps: Sequence[Step], horizon: int) -> dict[str, tuple[Step, int]]:
    """By station the longest changeover that fits nowhere, and the minutes that would."""
    found: dict[str, tuple[Step, int]] = {}
    for step in steps:
        mode = compiled.modes[step.mode]
        movable = mode.base != NOWHERE and compiled.ops[step.operation].fixed_start < 0
        if not movable or step.free >= horizon or step.end <= horizon:
            continue
        longest = max(_longest(compiled, mode, crew, horizon) for crew in mode.crews)
        known = found.get(mode.station)
        if step.change > longest and (known is None or step.change > known[0].change):
            found[mode.station] = step, longest
    return found


def _longest(compiled: Compiled, mode: Mode, crew: Crew, horizon: int) -> int:
    """The longest stretch of the station with these people, from when they can begin."""
    people = (compiled.people_free[person] for person in crew.people)
    first = max(compiled.bases[mode.base].free_from, *people, 0)
    calendar = compiled.calendars[crew.calendar]
    spans = zip(calendar.starts, calendar.ends, strict=True)
    return max((min(b, horizon) - max(a, first) for a, b in spans if a < horizon), default=0)


def _no_room(compiled: Compiled, step: Step, longest: int) -> str:
    mode = compiled.modes[step.mode]
    base = compiled.bases[mode.base]
    parts: list[str] = []
    for need in mode.needs:
        slot = base.slots[need.slot - base.first_slot]
        before = step.mounted[need.slot - base.first_slot]
        minutes = slot.minutes[before * slot.values + need.value]
        if minutes:
            parts.append(f"{slot.attribute} {minutes} min")
    return (
        f"the changeover on {mode.station} for {compiled.ops[step.operation].called} takes "
        f"{step.change} min ({', '.join(parts)}), but the longest stretch without a break, with "
        f"the people it needs, is {max(longest, 0)} min, and a changeover is not split; lengthen "
        "a shift or shorten the changeover"
    )


def _violation(compiled: Compiled, step: Step, words: Words) -> str:
    op = compiled.ops[step.operation]
    if op.done:
        return ""
    free = max(step.free + step.change, step.ready)
    if op.fixed_start >= 0 and free > step.start:
        return (
            f"{op.called} is fixed at {words(step.start)}, but its station, people and tube "
            f"are free only at {words(free)}; move it or what is before it"
        )
    if step.end > op.latest_end:
        return (
            f"{op.called} ends at {words(step.end)}, after its limit, {words(op.latest_end)}; "
            "give more hours, a later limit or less work"
        )
    return ""
