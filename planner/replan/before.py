"""By when what the floor has not reported must have ended, since reported work began then.

The plan's minutes are a guess, a report is none: where the floor says that a later pass began at
14:55, whatever was issued ahead of it there had ended by then, and took less time if need be.
"""

from __future__ import annotations

from collections.abc import Collection, Mapping, Sequence
from dataclasses import dataclass

from planner.progress import Progress, State
from planner.records import Operation, Slot

LEAST_SHARE = 0.5
"""What would have to go in less than this share of its minutes had not gone so: it is asked for."""


@dataclass(frozen=True, slots=True)
class Bound:
    """A reported beginning, and the issued minutes between the end of an operation and it."""

    begun_min: int
    after: int

    def times(self, slot: Slot, free: int, ready: int) -> tuple[int, int, int] | None:
        """Setup start, start and end from minute `free` on, its tube there from `ready` on, and in
        time; None where that is too little time."""
        span = slot.end_min - slot.setup_start_min
        room = self.begun_min - free
        share = min(1.0, room / (span + self.after))
        if share < LEAST_SHARE:
            return None
        setup_start = free if share < 1 else self.begun_min - self.after - span
        end = setup_start + round(share * span)
        start = max(ready, setup_start + round(share * (slot.start_min - slot.setup_start_min)))
        return (setup_start, start, end) if start < end else None


def bounds(
    slots: Sequence[Slot],
    operations: Mapping[str, Operation],
    places: Mapping[str, str],
    told: Mapping[str, Progress],
    recorded: Collection[str] = (),
) -> dict[str, Bound]:
    """The bound of each operation that something reported came after: at its station or base,
    or of the work that waits for it. `slots` are in issued order, and the times of those
    `recorded` are known."""
    found: dict[str, Bound] = {}
    due: dict[str, Bound] = {}
    for slot in reversed(slots):
        key, place = slot.operation, places[slot.station]
        row = told.get(key)
        if row is not None and row.state is State.OPEN:
            continue
        if row is not None and row.start_min is not None:
            begins = Bound(row.start_min, 0)
        elif row is None and key in recorded:
            begins = Bound(slot.start_min, 0)
        else:
            known = [due[name] for name in (place, key) if name in due]
            if not known:
                continue
            found[key] = min(known, key=lambda one: one.begun_min - one.after)
            span = slot.end_min - slot.setup_start_min
            begins = Bound(found[key].begun_min, found[key].after + span)
        only_set_up = row is not None and row.state is State.SET_UP
        for name in (place, *(() if only_set_up else operations[key].after)):
            due[name] = min(
                (one for one in (due.get(name), begins) if one),
                key=lambda one: one.begun_min - one.after,
            )
    return found
