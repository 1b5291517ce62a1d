"""What held each operation, and the critical chain behind a late job."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from planner.schedule.compiled import NOWHERE, Compiled
from planner.schedule.decoder import Step
from planner.schedule.result import Hold, Why


def reasons(compiled: Compiled, steps: Sequence[Step]) -> list[Why]:
    """For each step what kept it from starting a minute earlier."""
    on_base: dict[int, Step] = {}
    of_person: dict[int, Step] = {}
    placed: dict[int, Step] = {}
    found: list[Why] = []
    for step in steps:
        base = compiled.modes[step.mode].base
        found.append(_why(compiled, step, on_base.get(base), of_person, placed))
        placed[step.operation] = step
        if base != NOWHERE:
            on_base[base] = step
            of_person.update((person, step) for person in step.crew.people)
    return found


def chain(why: Mapping[str, Why], last: str) -> tuple[str, ...]:
    """Operations that hold each other up to `last`, first to last."""
    links: dict[str, None] = {}
    link: str | None = last
    while link is not None and link not in links:
        links[link] = None
        link = why[link].operation
    return tuple(reversed(links))


def _why(
    compiled: Compiled,
    step: Step,
    base_before: Step | None,
    of_person: Mapping[int, Step],
    placed: Mapping[int, Step],
) -> Why:
    op = compiled.ops[step.operation]
    if op.fixed_start >= 0:
        return Why(Hold.FIXED)
    if step.ready >= step.changed:
        why = _not_ready(compiled, step, placed)
    else:
        why = _not_free(compiled, step, base_before, of_person)
    if step.start > max(step.ready, step.free + step.change):
        return Why(Hold.HOURS, why.operation, why.person)
    return why


def _not_ready(compiled: Compiled, step: Step, placed: Mapping[int, Step]) -> Why:
    op = compiled.ops[step.operation]
    for pred in op.preds:
        before = placed[pred.operation]
        if (before.start if pred.from_start else before.end) + pred.lag == step.ready:
            if step.ready <= 0:
                break
            return Why(Hold.PREDECESSOR, compiled.ops[pred.operation].key)
    return Why(Hold.RELEASE if step.ready > 0 else Hold.NOTHING)


def _not_free(
    compiled: Compiled, step: Step, base_before: Step | None, of_person: Mapping[int, Step]
) -> Why:
    for person in step.crew.people:
        before = of_person.get(person)
        busy = before is not None and before.attended_end == step.free
        if busy and before is not None and (base_before is None or base_before.end < step.free):
            name = compiled.problem.people[person].key
            return Why(Hold.PERSON, compiled.ops[before.operation].key, name)
    if base_before is not None and base_before.end == step.free:
        return Why(Hold.STATION, compiled.ops[base_before.operation].key)
    return Why(Hold.STATION if step.change else Hold.NOTHING)
