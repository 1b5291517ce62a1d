"""A start that leaves issued work where the floor was told to expect it.

The issued operations keep their order and stations. What is new (a rush order, say) goes in one
operation after the other, each where it costs least.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from planner.schedule.calendar import FAR_MIN
from planner.schedule.compiled import TERMS, Compiled
from planner.schedule.decoder import decode
from planner.schedule.dispatch import Start, topological, urgencies
from planner.schedule.problem import Term

AS_ISSUED = "as issued"
LATENESS = TERMS.index(Term.LATENESS)
EFFORT = 12_000
"""Operations placed to find the place of one new operation, at most about."""
MOST_CREWS = 1024
"""More ways to staff an operation than this are all the same."""
MOST_NEW = 80
"""More new operations than this are put at the end by due date instead."""


def as_issued(compiled: Compiled) -> dict[str, Start]:
    """The start by its name; empty when nothing has been issued."""
    if not any(op.issued_start >= 0 for op in compiled.ops):
        return {}
    due = urgencies(compiled).due
    ranks = [_rank(compiled, number) for number in range(len(compiled.ops))]
    both = zip(ranks, due, strict=True)
    order = _by_time(compiled, [FAR_MIN + d if r is None else r for r, d in both])
    new = _new(compiled, ranks)
    modes = [op.issued_mode if op.issued_mode >= 0 else op.modes[0] for op in compiled.ops]
    starts = [*_starts(compiled, order, modes)]
    if new and len(new) <= MOST_NEW:
        for wanted in (due, [0] * len(due)):
            starts += _starts(compiled, *_inserted(compiled, order, new, modes, wanted))
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


def _new(compiled: Compiled, ranks: Sequence[int | None]) -> set[int]:
    """Operations without a rank, and all that waits for them."""
    new: set[int] = set()
    for i in topological(compiled):
        if ranks[i] is None or any(pred.operation in new for pred in compiled.ops[i].preds):
            new.add(i)
    return new


def _inserted(
    compiled: Compiled,
    order: Sequence[int],
    new: set[int],
    modes: Sequence[int],
    wanted: Sequence[int],
) -> tuple[list[int], list[int]]:
    """The list with the new operations, in their order, each at its best place and station.

    `wanted` is when each should end: by when its jobs need it, or at once.
    """
    built, chosen = [i for i in order if i not in new], list(modes)
    for i in order:
        if i in new:
            built = _best(compiled, built, i, chosen, wanted[i])
    return built, chosen


def _best(
    compiled: Compiled, built: list[int], new: int, modes: list[int], wanted: int
) -> list[int]:
    tries: list[tuple[tuple[int, ...], int, list[int]]] = []
    op = compiled.ops[new]
    for mode in op.modes:
        modes[new] = mode
        for place in _places(compiled, built, new, len(op.modes)):
            order = [*built[:place], new, *built[place:]]
            decoder, _ = decode(compiled, order, modes)
            if op.succs or not op.jobs:
                decoder.terms[LATENESS] += max(0, decoder.end[new] - wanted)
            tries.append((compiled.levels(decoder.terms), mode, order))
    _, modes[new], order = min(tries, key=lambda each: (each[0], each[1]))
    return order


def _places(compiled: Compiled, built: Sequence[int], new: int, modes: int) -> Iterator[int]:
    """Places after all that it waits for, evenly spread when there are too many to try."""
    before = {pred.operation for pred in compiled.ops[new].preds}
    first = max((place for place, i in enumerate(built, start=1) if i in before), default=0)
    most = max(4, EFFORT // (modes * max(1, len(built))))
    step = max(1, (len(built) - first) // most)
    yield from range(len(built), first - 1, -step)
