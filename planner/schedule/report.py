"""From a finished list of operations to the `Result` that people and papers use."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from planner.errors import EngineError
from planner.schedule.compiled import NOWHERE, TERMS, Compiled
from planner.schedule.decoder import Decoder, Step, decode
from planner.schedule.dispatch import Start
from planner.schedule.remedy import Help, Remedies
from planner.schedule.result import Figures, Floor, Hold, LateJob, Placed, Result, Why
from planner.schedule.why import chain, reasons
from planner.stop import Status

FEWEST_REMEDIES, MOST_REMEDIES, REMEDY_OPERATIONS = 2, 10, 4000
"""For how many late jobs remedies are looked for: each takes some dozens of placings of the whole
list, so only for so many operations in all."""


@dataclass(frozen=True, slots=True)
class Outcome:
    """What the search hands over: the best list, the rules' lists, floors, how it ended."""

    best: Start
    rules: Mapping[str, Start]
    floors: tuple[Floor, ...]
    alone: tuple[int, ...]
    """Per job when it could be complete if it had the shop to itself."""
    status: Status
    iterations: int


def figures(compiled: Compiled, terms: Sequence[int]) -> Figures:
    """Terms by name, and the levels."""
    return Figures(dict(zip(TERMS, terms, strict=True)), compiled.levels(terms))


def make_result(compiled: Compiled, outcome: Outcome) -> Result:
    """Place the best list once more and describe every operation.

    Raises EngineError when it is no run order of this work, or the figures are not those that the
    kernel found.
    """
    decoder, steps = _placed_again(compiled, outcome.best)
    whys = reasons(compiled, steps)
    placed = _all_placed(compiled, steps, whys)
    by_key = {compiled.ops[s.operation].key: w for s, w in zip(steps, whys, strict=True)}
    return Result(
        status=outcome.status,
        figures=figures(compiled, decoder.terms),
        floors=outcome.floors,
        placed=placed,
        late=_late(compiled, outcome, decoder, by_key),
        rules={name: figures(compiled, rule.terms) for name, rule in outcome.rules.items()},
        rule_orders={name: placed_by(compiled, rule) for name, rule in outcome.rules.items()},
        iterations=outcome.iterations,
    )


def _placed_again(compiled: Compiled, best: Start) -> tuple[Decoder, list[Step]]:
    """The list decoded, once it is sure that the decoder may trust it."""
    if sorted(best.order) != list(range(len(compiled.ops))):
        raise EngineError("the kernel's run order has an operation twice, or not at all")
    place = {number: i for i, number in enumerate(best.order)}
    for number, (op, mode) in enumerate(zip(compiled.ops, best.modes, strict=True)):
        if mode not in op.modes:
            raise EngineError(f"the kernel does {op.key} as another operation is done")
        if any(place[pred.operation] > place[number] for pred in op.preds):
            raise EngineError(f"the kernel does {op.key} before what it waits for")
    decoder, steps = decode(compiled, best.order, list(best.modes))
    if tuple(decoder.terms) != best.terms:
        raise EngineError(
            f"the kernel counted {best.terms} for a run order that has {tuple(decoder.terms)}"
        )
    return decoder, steps


def placed_by(compiled: Compiled, start: Start) -> tuple[Placed, ...]:
    """Where a list places the operations, in order of the start of the changeover."""
    _, steps = decode(compiled, start.order, list(start.modes))
    return _all_placed(compiled, steps, reasons(compiled, steps))


def _all_placed(
    compiled: Compiled, steps: Sequence[Step], whys: Sequence[Why]
) -> tuple[Placed, ...]:
    placed = [
        _placed(compiled, step, why)
        for step, why in zip(steps, whys, strict=True)
        if step.operation < _real(compiled)
    ]
    return tuple(sorted(placed, key=lambda each: (each.changeover_start_min, each.start_min)))


def _placed(compiled: Compiled, step: Step, why: Why) -> Placed:
    mode = compiled.modes[step.mode]
    pieces: tuple[tuple[int, int], ...] = ((step.start, step.end),)
    if mode.base != NOWHERE and why.hold is not Hold.FIXED:
        ours, own = compiled.calendars[step.crew.calendar], compiled.calendars[mode.calendar]
        pieces = _joined(
            (*ours.pieces(step.start, step.attended_end), *own.pieces(step.attended_end, step.end))
        )
    return Placed(
        operation=compiled.ops[step.operation].key,
        station=mode.station,
        people=tuple(compiled.problem.people[p].key for p in step.crew.people),
        changeover_start_min=_change_start(compiled, step),
        changeover_min=step.change,
        start_min=step.start,
        end_min=step.end,
        pieces=pieces,
        attended_end_min=step.attended_end,
        why=why,
    )


def _joined(pieces: Sequence[tuple[int, int]]) -> tuple[tuple[int, int], ...]:
    joined: list[tuple[int, int]] = []
    for start, end in pieces:
        if joined and joined[-1][1] == start:
            joined[-1] = (joined[-1][0], end)
        elif start < end:
            joined.append((start, end))
    return tuple(joined)


def _change_start(compiled: Compiled, step: Step) -> int:
    """The latest start lets people do other things first; priced minutes stay where they were."""
    if step.change == 0:
        return step.start
    calendar = compiled.calendars[step.crew.calendar]
    fixed = compiled.ops[step.operation].fixed_start >= 0
    if fixed or calendar.priced:
        return step.changed - step.change
    return calendar.fit_before(step.start, step.change, step.free)


def _late(
    compiled: Compiled, outcome: Outcome, decoder: Decoder, why: Mapping[str, Why]
) -> tuple[LateJob, ...]:
    """All late jobs, the latest first; remedies are looked for among the first ones."""
    final = {job: i for i, op in enumerate(compiled.ops) for job in op.jobs}
    number = {op.key: i for i, op in enumerate(compiled.ops)}
    jobs = compiled.problem.jobs
    late = [j for j in range(len(jobs)) if decoder.end[final[j]] > compiled.due[j]]
    late.sort(key=lambda j: compiled.due[j] - decoder.end[final[j]])
    found: list[LateJob] = []
    if not late:
        return ()
    remedies = Remedies(compiled, outcome.best)
    most = min(MOST_REMEDIES, max(FEWEST_REMEDIES, REMEDY_OPERATIONS // len(compiled.ops)))
    for rank, j in enumerate(late):
        links = chain(why, compiled.ops[final[j]].key)
        numbers = [number[key] for key in links]
        unavoidable = max(0, outcome.alone[j] - compiled.due[j])
        helped = Help((), None)
        if rank < most:
            helped = remedies.find(j, final[j], numbers)
        found.append(
            LateJob(
                job=jobs[j].key,
                due_min=compiled.due[j],
                end_min=decoder.end[final[j]],
                late_min=decoder.end[final[j]] - compiled.due[j],
                chain=tuple(compiled.ops[i].key for i in numbers if i < _real(compiled)),
                unavoidable_min=unavoidable,
                first_late_min=helped.first_late_min,
                remedies=helped.remedies,
            )
        )
    return tuple(found)


def _real(compiled: Compiled) -> int:
    """How many operations are not milestones."""
    return len(compiled.problem.operations)
