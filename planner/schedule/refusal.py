"""Why no plan exists: which fixed time cannot be kept, which work finds no place."""

from __future__ import annotations

from planner.errors import Finding, NoPlanError, Severity
from planner.schedule.compiled import TERMS, Compiled
from planner.schedule.decoder import Step, decode
from planner.schedule.dispatch import Start
from planner.schedule.problem import Term


def refuse_violation(compiled: Compiled, best: Start) -> None:
    """Raise a NoPlanError that names every culprit if even the best list has a violation."""
    if best.terms[TERMS.index(Term.VIOLATION)] == 0:
        return
    _, steps = decode(compiled, best.order, list(best.modes))
    messages = ((step, _violation(compiled, step)) for step in steps)
    raise NoPlanError(
        [
            Finding(
                severity=Severity.ERROR,
                message=message,
                subject=compiled.ops[step.operation].key,
            )
            for step, message in messages
            if message
        ]
    )


def _violation(compiled: Compiled, step: Step) -> str:
    op = compiled.ops[step.operation]
    if op.done:
        return ""
    free = max(step.free + step.change, step.ready)
    if op.fixed_start >= 0 and free > step.start:
        return (
            f"operation {op.key} is fixed at minute {step.start}, but its station, people and "
            f"tube are free only at {free}; move it or what is before it"
        )
    if step.end > op.latest_end:
        return (
            f"operation {op.key} ends at minute {step.end}, after its limit {op.latest_end}; "
            "give more hours, a later limit or less work"
        )
    return ""
