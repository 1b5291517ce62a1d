"""Invariant 3: nobody and nothing does two things at once, and only within hours."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from itertools import pairwise

from planner.audit.facts import Breaches, Facts, breach
from planner.hours import Interval, common, working
from planner.records import Slot

Spans = tuple[tuple[int, int], ...]


def check_calendar(facts: Facts) -> Breaches:
    """All breaches of invariant 3."""
    for place, slots in facts.by_place.items():
        yield from _one_at_a_time(
            facts, place, [(slot.setup_start_min, slot.end_min, slot.operation) for slot in slots]
        )
    for person in facts.shop.people:
        yield from _one_at_a_time(facts, person.name, sorted(_busy(facts, person.name)))
    hours = _Hours(facts)
    for slot in facts.plan.slots:
        if not _in_order(slot):
            text = "its pieces are not one after the other from its start to its end."
            yield breach(3, slot.operation, text)
    for slot in facts.to_come:
        yield from _people(facts, slot)
        yield from _changeover(facts, slot, hours)
        yield from _run(facts, slot, hours)


class _Hours:
    """Working intervals of stations and people, each expanded once."""

    def __init__(self, facts: Facts) -> None:
        self._facts = facts
        self._known: dict[str, tuple[Interval, ...]] = {}

    def of(self, names: Iterable[str]) -> Spans:
        return common(self._one(name) for name in names)

    def usual(self, names: Iterable[str]) -> Spans:
        """The common hours that are overtime for nobody."""
        return common(
            tuple(piece for piece in self._one(name) if not piece.overtime) for name in names
        )

    def _one(self, name: str) -> tuple[Interval, ...]:
        if name not in self._known:
            options = self._facts.plan.options
            self._known[name] = working(self._facts.shop, name, options.start, options.days)
        return self._known[name]


def _busy(facts: Facts, person: str) -> Iterator[tuple[int, int, str]]:
    """When a person is bound: from the start of the changeover to the end of the run, or of the
    changeover alone where the run needs nobody."""
    for slot in facts.plan.slots:
        if person not in slot.people or slot.end_min <= facts.plan.options.start_min:
            continue
        changed = slot.setup_start_min + slot.setup_min
        end = slot.end_min if facts.stations[slot.station].is_attended else changed
        if end > slot.setup_start_min:
            yield slot.setup_start_min, end, slot.operation


def _one_at_a_time(facts: Facts, who: str, spans: list[tuple[int, int, str]]) -> Breaches:
    for before, after in pairwise(spans):
        over = min(before[1], after[1]) - after[0]
        if over > 0:
            when = facts.clock(after[0])
            text = f"does {before[2]} and {after[2]} at once for {over} minutes from {when}."
            yield breach(3, who, text)


def _people(facts: Facts, slot: Slot) -> Breaches:
    operation = facts.operations[slot.operation]
    if not facts.shop.people:
        return
    nobody = slot.setup_min == 0 and not facts.stations[slot.station].is_attended
    needed = 0 if nobody and not slot.people else operation.at(slot.station).people
    found = len(set(slot.people))
    if found != len(slot.people):
        yield breach(3, slot.operation, "names somebody twice among its people.")
    if found != needed:
        yield breach(3, slot.operation, f"is done by {found} people and needs {needed}.")
    able = {person.name for person in facts.shop.people if slot.station in person.stations}
    for name in slot.people:
        if name not in able:
            yield breach(3, slot.operation, f"{name} may not run {slot.station}.")


def _changeover(facts: Facts, slot: Slot, hours: _Hours) -> Breaches:
    start, end = slot.setup_start_min, slot.setup_start_min + slot.setup_min
    first = facts.plan.options.start_min
    if start < first:
        text = f"its changeover begins {first - start} minutes before the plan does."
        yield breach(3, slot.operation, text)
    if end > slot.start_min:
        over = end - slot.start_min
        yield breach(3, slot.operation, f"begins {over} minutes before its changeover has ended.")
    spans = hours.of((slot.station, *slot.people))
    if slot.setup_min and not any(open_ <= start and end <= close for open_, close in spans):
        when = facts.clock(start)
        text = f"its changeover of {slot.setup_min} minutes from {when} is split or out of hours."
        yield breach(3, slot.operation, text)


def _run(facts: Facts, slot: Slot, hours: _Hours) -> Breaches:
    people = slot.people if facts.stations[slot.station].is_attended else ()
    who = (slot.station, *people)
    spans = hours.of(who)
    worked = sum(end - begin for begin, end in slot.pieces)
    if worked != slot.minutes:
        text = f"works {worked} minutes in its pieces, and says {slot.minutes}."
        yield breach(3, slot.operation, text)
    for begin, end in slot.pieces:
        if not any(open_ <= begin and end <= close for open_, close in spans):
            text = f"works out of hours between {facts.clock(begin)} and {facts.clock(end)}."
            yield breach(3, slot.operation, text)
    for (_, ended), (goes_on, _) in pairwise(slot.pieces):
        idle = sum(
            max(0, min(close, goes_on) - max(open_, ended)) for open_, close in hours.usual(who)
        )
        if idle:
            text = f"pauses for {idle} usual working minutes from {facts.clock(ended)}."
            yield breach(3, slot.operation, text)


def _in_order(slot: Slot) -> bool:
    times = [time for piece in slot.pieces for time in piece]
    whole = bool(times) and (times[0], times[-1]) == (slot.start_min, slot.end_min)
    return whole and all(before < after for before, after in pairwise(times))
