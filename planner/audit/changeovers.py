"""Invariant 4: every changeover has the minutes of the shop's table for what really was mounted."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Sequence

from planner.audit.facts import Breaches, Facts, breach
from planner.changeovers import Mounts, changes, required, setup_minutes
from planner.records import Change, Slot


def check_changeovers(facts: Facts) -> Breaches:
    """All breaches of invariant 4, and runs that are numbered wrongly."""
    runs: dict[str, int] = {}
    for slot, real in real_changes(facts):
        yield from _minutes(slot, real)
        yield from _run_number(slot, real, runs)


def real_changes(facts: Facts) -> Iterator[tuple[Slot, tuple[Change, ...]]]:
    """Each slot, in the order of time at its place, with what really has to be changed for it."""
    for slots in facts.by_place.values():
        mounts = Mounts(facts.shop)
        for slot in slots:
            station = facts.stations[slot.station]
            after = required(facts.operations[slot.operation].at(slot.station).state, station)
            yield slot, changes(mounts.before(station), after, station, facts.shop)
            mounts.mount(station, after)


def _minutes(slot: Slot, real: Sequence[Change]) -> Breaches:
    minutes = setup_minutes(tuple(real))
    if slot.setup_min != minutes:
        text = f"its changeover takes {slot.setup_min} minutes, the table gives {minutes}."
        yield breach(4, slot.operation, text)
    said, right = Counter(slot.changes), Counter(real)
    for changes_of, words in ((said - right, "not so"), (right - said, "not listed")):
        for change in sorted(changes_of, key=str):
            text = (
                f"{change.what.value} from {change.before or 'nothing known'} to {change.after} "
                f"in {change.minutes} minutes"
            )
            yield breach(4, slot.operation, f"{text} is {words}.")


def _run_number(slot: Slot, real: Sequence[Change], runs: dict[str, int]) -> Breaches:
    last = runs.get(slot.station, 0)
    right = last + 1 if real or not last else last
    if slot.run != right:
        yield breach(4, slot.operation, f"is in run {slot.run} of {slot.station}, not {right}.")
    runs[slot.station] = right
