"""What is left of a run that stands still, and where that is planned again.

Where nothing else was begun at its station since, nor by its people, it goes on where it is. Else
the part that is done is a record of the plan (`planner.held.Paused`), and the operation is planned
again with the minutes that are left of it.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from math import gcd

from planner.held import Paused
from planner.progress import Progress
from planner.records import Operation, Plan, Slot
from planner.replan import guesses


def paused_before(issued: Plan) -> Mapping[str, Paused]:
    """What stood still when the issued plan was made, by operation."""
    return {one.operation: one for one in issued.replan.paused} if issued.replan else {}


def all_minutes(slot: Slot, known: Paused | None) -> int:
    """The minutes that all of a run takes, of which the slot may have the rest alone."""
    return slot.minutes if known is None else slot.minutes * known.of // known.left


def part_left(
    slot: Slot, count: int, row: Progress, ran: int, known: Paused | None
) -> tuple[int, int]:
    """Of all its minutes, how much of a run is left: by the pieces that are done if they are
    given, else by the minutes that it `ran` since the row says that it began."""
    if row.pieces is not None:
        return max(0, count - row.pieces), count
    of = slot.minutes
    left = max(guesses.minutes_left(of), of - ran)
    return (left, of) if known is None else _shortened(left * known.left, of * known.of)


def minutes_left(slot: Slot, part: tuple[int, int], known: Paused | None) -> int:
    """Minutes of a part of a run, rounded up."""
    left, of = part
    return -(-all_minutes(slot, known) * left // max(1, of))


def is_told_again(row: Progress, known: Paused | None) -> bool:
    """Whether a row says no more than what was known when the issued plan was made."""
    if known is None:
        return False
    since = row.start_min in (None, known.start_min) and row.end_min in (None, known.end_min)
    return since and row.pieces in (None, known.pieces)


def rests(operations: Iterable[Operation], paused: Mapping[str, Paused]) -> list[Operation]:
    """Operations, those that stood still with what is left of them."""
    return [_rest(one, paused[one.key]) if one.key in paused else one for one in operations]


def _rest(operation: Operation, paused: Paused) -> Operation:
    ways = tuple(
        way.model_copy(update={"minutes": -(-way.minutes * paused.left // paused.of)})
        for way in operation.alternatives
    )
    return operation.model_copy(update={"alternatives": ways})


def _shortened(left: int, of: int) -> tuple[int, int]:
    both = gcd(left, of)
    return left // both, of // both
