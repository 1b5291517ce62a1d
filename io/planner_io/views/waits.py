"""Who an order line waits for where work is not done by the end of the day, as somebody is off the
day after: it may then be late although it has hours to spare."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from functools import cached_property

from planner.hours import DAY_MIN, Interval, common, spans_of, usual_spans, when, worked_between
from planner.operations import finals
from planner.records import Slot
from planner.risk import worked
from planner_io.views.index import Index

LONG_MIN = 120
"""Working minutes of the shop that a wait has to take to be told."""
NEAR_MIN = 120
"""Working minutes by which work may end before somebody leaves, or before what follows it begins,
and be thought to run over."""


@dataclass(frozen=True)
class Wait:
    """Work that stands still until somebody is back, unless it is done before."""

    words: str
    back_min: int


@dataclass(frozen=True)
class Waits:
    """The waits of a plan."""

    index: Index

    def words(self, line: str, latest_min: int) -> str:
        """What waits for whom, and until when: the line's last step, or one that it closely
        follows. Empty where there is no such wait, or none that ends before `latest_min`."""
        for operation in self._chain(self._finals[line]) if self._by_operation else ():
            wait = self._by_operation.get(operation)
            if wait and wait.back_min < latest_min:
                return wait.words
        return ""

    @cached_property
    def _finals(self) -> dict[str, str]:
        return finals(self.index.plan.lots, self.index.plan.operations)

    @cached_property
    def _past(self) -> frozenset[str]:
        """What has begun already, and runs on with whoever is there."""
        again = self.index.plan.replan
        return frozenset(again.past) if again else frozenset()

    @cached_property
    def _by_operation(self) -> dict[str, Wait]:
        """The waits of operations that have not begun."""
        slots = (slot for slot in self.index.plan.slots if slot.operation not in self._past)
        return {slot.operation: wait for slot in slots if (wait := self._wait(slot))}

    def _wait(self, slot: Slot) -> Wait | None:
        """Who a slot waits for where it is not done on its day."""
        hours = {name: self._hours[name] for name in self._needed(slot)}
        together, day = common(hours.values()), (slot.end_min - 1) // DAY_MIN
        off_min = max((end for start, end in together if start // DAY_MIN == day), default=0)
        back_min = next((start for start, _ in together if start > off_min), None)
        if back_min is None or worked_between(self._usual, slot.end_min, off_min) > NEAR_MIN:
            return None
        missed = worked_between(self._usual, off_min, back_min)
        away = [
            name
            for name, own in hours.items()
            if worked_between(spans_of(own), off_min, back_min) < missed
        ]
        if missed < LONG_MIN or not away:
            return None
        off, back = (when(self.index.moment(minute)) for minute in (off_min, back_min))
        words = f"{slot.operation} not done by {off} waits for {' and '.join(away)} until {back}"
        return Wait(words, back_min)

    def _needed(self, slot: Slot) -> tuple[str, ...]:
        """The station and, where it does not run alone, its people."""
        attended = self.index.plan.shop.station(slot.station).is_attended
        return (slot.station, *(slot.people if attended else ()))

    def _chain(self, operation: str) -> Iterator[str]:
        """An operation, those that it closely follows, and so on, as far as none has begun."""
        queue, seen = [operation], {operation, *self._past}
        for each in queue:
            yield each
            near = [it for it in self._before[each] if it not in seen]
            seen.update(near)
            queue.extend(near)

    @cached_property
    def _before(self) -> dict[str, tuple[str, ...]]:
        """Of each operation those of its station, its people and its tube that end shortly before
        it begins."""
        slots, last = self.index.slots, dict[str, str]()
        found: dict[str, tuple[str, ...]] = {}
        for slot in sorted(slots.values(), key=lambda it: (it.start_min, it.end_min)):
            needed = (slot.station, *slot.people)
            held = {last[name] for name in needed if name in last}
            held.update(self.index.operations[slot.operation].after)
            begin_min = slot.start_min - slot.setup_min
            found[slot.operation] = tuple(
                key
                for key in sorted(held)
                if worked_between(self._usual, slots[key].end_min, begin_min) <= NEAR_MIN
            )
            last.update(dict.fromkeys(needed, slot.operation))
        return found

    @cached_property
    def _usual(self) -> tuple[tuple[int, int], ...]:
        return usual_spans(self.index.plan.shop, self.index.start, self.index.plan.options.days)

    @cached_property
    def _hours(self) -> dict[str, tuple[Interval, ...]]:
        """When each station and each person works."""
        shop = self.index.plan.shop
        names = [*(it.name for it in shop.stations), *(it.name for it in shop.people)]
        names += [person for slot in self.index.plan.slots for person in slot.people]
        return {name: worked(self.index.plan, name) for name in dict.fromkeys(names)}
