"""The changeover ledger: minutes by kind, station and day, and the same week in other orders."""

from __future__ import annotations

from collections import Counter, defaultdict
from collections.abc import Mapping, Sequence
from datetime import date, timedelta

from planner.held import Paused
from planner.hours import DAY_MIN
from planner.orders import OrderLine
from planner.records import LedgerRow, LineDone, Slot
from planner.shop import What
from planner.yardsticks import THIS_PLAN, Placing, Yardstick


def ledger_rows(
    slots: Sequence[Slot], start: date, parts: Sequence[Paused] = ()
) -> tuple[LedgerRow, ...]:
    """Minutes and number of changes, by station, day and kind, in that order; those for parts of
    runs that stood still among them.

    A changeover belongs to the day on which it begins.
    """
    minutes: Counter[tuple[str, int, What]] = Counter()
    counts: Counter[tuple[str, int, What]] = Counter()
    changed: list[Slot | Paused] = [*slots, *parts]
    for slot in changed:
        for change in slot.changes:
            place = (slot.station, slot.setup_start_min // DAY_MIN, change.what)
            minutes[place] += change.minutes
            counts[place] += 1
    stations = list(dict.fromkeys(slot.station for slot in changed))
    kinds = list(What)
    order = sorted(counts, key=lambda at: (stations.index(at[0]), at[1], kinds.index(at[2])))
    return tuple(
        LedgerRow(
            station=station,
            day=start + timedelta(days=day),
            what=what,
            minutes=minutes[station, day, what],
            count=counts[station, day, what],
        )
        for station, day, what in order
    )


def lines_done(
    finals: Mapping[str, str], slots: Sequence[Slot], due_min: Mapping[str, int]
) -> tuple[LineDone, ...]:
    """When each order line is complete, by its last operation."""
    ends = {slot.operation: slot.end_min for slot in slots}
    return tuple(
        LineDone(line=line, done_min=ends[final], due_min=due_min[line])
        for line, final in finals.items()
    )


def yardstick(
    name: str,
    slots: Sequence[Slot],
    done: Sequence[LineDone],
    orders: Mapping[str, OrderLine],
    parts: Sequence[Paused] = (),
) -> Yardstick:
    """Changeovers and lateness of one way to order the week, with the changeovers for parts of runs
    that stood still, which are the same in every order."""
    by_what: dict[What, int] = defaultdict(int)
    changed: list[Slot | Paused] = [*slots, *parts]
    for slot in changed:
        for change in slot.changes:
            by_what[change.what] += change.minutes
    late = {line.line: line.done_min - line.due_min for line in done}
    late = {key: minutes for key, minutes in late.items() if minutes > 0}
    return Yardstick(
        name=name,
        changeover_min=sum(by_what.values()),
        by_what={what: by_what[what] for what in What if what in by_what},
        late_lines=len(late),
        late_min=sum(late.values()),
        weighted_late_min=sum(orders[key].weight * minutes for key, minutes in late.items()),
        placings=() if name == THIS_PLAN else _placings(slots),
    )


def _placings(slots: Sequence[Slot]) -> tuple[Placing, ...]:
    """The slots in the order of time, without what follows from the rest of the plan."""
    return tuple(
        Placing(
            operation=slot.operation,
            station=slot.station,
            people=slot.people,
            setup_start_min=slot.setup_start_min,
            pieces=slot.pieces,
        )
        for slot in sorted(slots, key=lambda slot: (slot.setup_start_min, slot.start_min))
    )
