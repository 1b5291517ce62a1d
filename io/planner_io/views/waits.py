"""Who an order line waits for where work is not done by the end of the day, as somebody is off the
day after: it may then be late although it has hours to spare."""

from __future__ import annotations

from collections.abc import Iterator

from planner.hours import DAY_MIN, common, spans_of, usual_spans, when, worked_between
from planner.operations import finals
from planner.records import Slot
from planner.risk import worked
from planner_io.views.index import Index

LONG_MIN = 120
"""Working minutes of the shop that a wait has to take to be told."""


def waits(index: Index, line: str, latest_min: int) -> str:
    """What waits for whom, and until when, in words: the line's last step, or one of that day that
    it follows. Empty where there is no such wait before `latest_min`."""
    last = index.slots[finals(index.plan.lots, index.plan.operations)[line]]
    return next(filter(None, (_wait(index, it, latest_min) for it in _chain(index, last))), "")


def _chain(index: Index, slot: Slot) -> Iterator[Slot]:
    """A slot, the one that it follows, and so on back to the morning of its day."""
    follows: Slot | None = slot
    while follows and _day(follows) == _day(slot):
        yield follows
        follows = _before(index, follows)


def _before(index: Index, slot: Slot) -> Slot | None:
    """The last that ends before a slot of what it needs: its station, its people, its tube."""
    after, people = set(index.operations[slot.operation].after), set(slot.people)
    needed = (
        other
        for other in index.plan.slots
        if other.station == slot.station or other.operation in after or people & {*other.people}
    )
    ended = (other for other in needed if other.end_min <= slot.start_min and other != slot)
    return max(ended, key=lambda other: (other.end_min, other.operation), default=None)


def _wait(index: Index, slot: Slot, latest_min: int) -> str:
    """Who a slot waits for where it is not done on its day, in words."""
    hours = {name: worked(index.plan, name) for name in _needed(index, slot)}
    together = common(hours.values())
    off_min = max((end for start, end in together if start // DAY_MIN == _day(slot)), default=0)
    back_min = next((start for start, _ in together if start > off_min), None)
    if back_min is None or back_min >= latest_min:
        return ""
    usual = usual_spans(index.plan.shop, index.start, index.plan.options.days)
    missed = worked_between(usual, off_min, back_min)
    away = [
        name
        for name, own in hours.items()
        if worked_between(spans_of(own), off_min, back_min) < missed
    ]
    if missed < LONG_MIN or not away:
        return ""
    off, back = when(index.moment(off_min)), when(index.moment(back_min))
    return f"{slot.operation} not done by {off} waits for {' and '.join(away)} until {back}"


def _needed(index: Index, slot: Slot) -> tuple[str, ...]:
    """The station and, where it does not run alone, its people."""
    attended = index.plan.shop.station(slot.station).is_attended
    return (slot.station, *(slot.people if attended else ()))


def _day(slot: Slot) -> int:
    """Number of the day on which a slot ends."""
    return (slot.end_min - 1) // DAY_MIN
