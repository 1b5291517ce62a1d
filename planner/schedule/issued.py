"""A start that leaves issued work where the floor was told to expect it.

The issued operations keep their order and stations. What is new (a rush order, say) comes behind
them by due date; `mend` puts it where it costs least.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from planner.schedule.calendar import FAR_MIN
from planner.schedule.compiled import Compiled
from planner.schedule.decoder import decode
from planner.schedule.dispatch import Start, topological, urgencies

AS_ISSUED = "as issued"
MOST_CREWS = 1024
"""More ways to staff an operation than this are all the same."""


def as_issued(compiled: Compiled) -> dict[str, Start]:
    """The start by its name; empty when nothing has been issued."""
    if not any(op.issued_start >= 0 for op in compiled.ops):
        return {}
    due = urgencies(compiled).due
    ranks = [_rank(compiled, number) for number in range(len(compiled.ops))]
    both = zip(ranks, due, strict=True)
    order = _by_time(compiled, [FAR_MIN + d if r is None else r for r, d in both])
    modes = [op.issued_mode if op.issued_mode >= 0 else op.modes[0] for op in compiled.ops]
    starts = _starts(compiled, order, modes)
    return {AS_ISSUED: min(starts, key=lambda start: compiled.levels(start.terms))}


def _starts(compiled: Compiled, order: Sequence[int], modes: Sequence[int]) -> Iterator[Start]:
    """The list as it is, and in the order in which its changeovers begin: people are bound
    from there on, so that who was to do it is more often found free."""
    for _ in range(3):
        decoder, steps = decode(compiled, order, list(modes))
        yield Start(tuple(order), tuple(modes), tuple(decoder.terms))
        ranks = [0] * len(compiled.ops)
        for step in steps:
            ranks[step.operation] = step.changed - step.change
        order = _by_time(compiled, ranks)


def _by_time(compiled: Compiled, minutes: Sequence[int]) -> list[int]:
    """By these minutes, predecessors first; at one minute, what fewer people can do first, as it
    would be left without them otherwise."""
    crews = [sum(len(compiled.modes[m].crews) for m in op.modes) for op in compiled.ops]
    both = zip(minutes, crews, strict=True)
    return topological(
        compiled, [minute * MOST_CREWS + min(n, MOST_CREWS - 1) for minute, n in both]
    )


def _rank(compiled: Compiled, number: int) -> int | None:
    """The minute at which it stands in the list; None for what is new."""
    op = compiled.ops[number]
    operations = compiled.problem.operations
    issued = operations[number].issued if number < len(operations) else None
    begins = issued.begin_min if issued else None
    if op.fixed_start >= 0:
        return min(op.fixed_start, op.fixed_start if begins is None else begins) - 1
    if op.issued_start >= 0:
        return max(op.release, op.issued_start if begins is None else begins)
    horizon = compiled.problem.horizon_min
    has_limit = op.latest_end < (FAR_MIN if horizon is None else horizon)
    return op.release if has_limit else None
