"""What a faster changeover is worth: for each kind of change at each station, a minute less."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass

from planner.records import Plan
from planner.shop import House, What
from planner_io.views.ruler import money


@dataclass(frozen=True)
class Worth:
    """One kind of change at a station, in a mean week."""

    station: str
    what: What
    times: float
    """How often it is made and takes time; one that is made beside a longer one takes none."""
    minutes: float
    cents: int
    """What it would save if each took a minute less and all else stayed as it is."""

    @property
    def each(self) -> float:
        """Minutes that one takes, in the mean."""
        return self.minutes / self.times


def worth(plans: Sequence[Plan], minute_cents: int) -> tuple[Worth, ...]:
    """Each kind of change that takes time, the one first of which a minute is worth the most."""
    times: Counter[tuple[str, What]] = Counter()
    minutes: Counter[tuple[str, What]] = Counter()
    changes = (
        (slot.station, change) for plan in plans for slot in plan.slots for change in slot.changes
    )
    for station, change in changes:
        times[station, change.what] += change.minutes > 0
        minutes[station, change.what] += change.minutes
    weeks = max(1, len(plans))
    found = [
        Worth(*at, count / weeks, minutes[at] / weeks, round(minute_cents * count / weeks))
        for at, count in times.items()
        if count
    ]
    return tuple(sorted(found, key=lambda row: (-row.cents, -row.minutes, row.station)))


def minute_words(house: House) -> str:
    """What a minute counts, and who says so."""
    cents = money(house.minute_cents, house.currency)
    return f"A minute counts {cents} (Settings, Cost of a finisher minute)."
