"""Invariant 4: every changeover has the minutes of the shop's table for what really was mounted."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Sequence

from planner.audit.facts import Breaches, Facts, breach, by_time
from planner.change import Change
from planner.changeovers import Mounts, changes, required, setup_minutes
from planner.held import Paused
from planner.records import Slot


def check_changeovers(facts: Facts) -> Breaches:
    """All breaches of invariant 4, and runs that are numbered wrongly."""
    runs: dict[str, int] = {}
    for one, real in _all_changes(facts):
        if isinstance(one, Slot):
            yield from _minutes(one, real)
        yield from _changes(one, real)
        yield from _run_number(one, real, runs)


def real_changes(facts: Facts) -> Iterator[tuple[Slot, tuple[Change, ...]]]:
    """Each slot, in the order of time at its place, with what really has to be changed for it."""
    return ((one, real) for one, real in _all_changes(facts) if isinstance(one, Slot))


def _all_changes(facts: Facts) -> Iterator[tuple[Slot | Paused, tuple[Change, ...]]]:
    """The same of slots and of parts after which a run gave way."""
    places = dict.fromkeys((*facts.by_place, *map(facts.place, facts.parts)))
    for place in places:
        mounts = Mounts(facts.shop)
        there: list[Slot | Paused] = [*facts.by_place.get(place, ())]
        there += (part for part in facts.parts if facts.place(part) == place)
        for one in sorted(there, key=by_time):
            station = facts.stations[one.station]
            after = required(facts.operations[one.operation].at(one.station).state, station)
            yield one, changes(mounts.before(station), after, station, facts.shop)
            mounts.mount(station, after)


def _minutes(slot: Slot, real: Sequence[Change]) -> Breaches:
    minutes = setup_minutes(tuple(real))
    if slot.setup_min != minutes:
        text = f"its changeover takes {slot.setup_min} minutes, the table gives {minutes}."
        yield breach(4, slot.operation, text)


def _changes(slot: Slot | Paused, real: Sequence[Change]) -> Breaches:
    said, right = Counter(slot.changes), Counter(real)
    for changes_of, words in ((said - right, "not so"), (right - said, "not listed")):
        for change in sorted(changes_of, key=str):
            text = (
                f"{change.what.value} from {change.before or 'nothing known'} to {change.after} "
                f"in {change.minutes} minutes"
            )
            yield breach(4, slot.operation, f"{text} is {words}.")


def _run_number(slot: Slot | Paused, real: Sequence[Change], runs: dict[str, int]) -> Breaches:
    last = runs.get(slot.station, 0)
    right = last + 1 if real or not last else last
    if isinstance(slot, Slot) and slot.run != right:
        yield breach(4, slot.operation, f"is in run {slot.run} of {slot.station}, not {right}.")
    runs[slot.station] = right
