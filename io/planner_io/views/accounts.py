"""The changeover ledger: minutes by kind, station and day, and the same week in other orders."""

from __future__ import annotations

from collections import defaultdict
from dataclasses import dataclass

from planner.hours import day_name, duration
from planner.records import Yardstick
from planner.shop import What
from planner_io.views.floors import floors
from planner_io.views.index import Index

BASELINE = "by due date"
"""The order of work that the difference at the foot is taken against."""


@dataclass(frozen=True)
class LedgerDay:
    """Changeover minutes of a station on a day, in the order of the ledger's kinds."""

    station: str
    day: str
    minutes: tuple[int, ...]
    count: int

    @property
    def total(self) -> int:
        """Minutes of all kinds."""
        return sum(self.minutes)


@dataclass(frozen=True)
class Difference:
    """This plan less the baseline, at the foot of the account."""

    baseline: str
    minutes: int
    share: float | None
    """Of the baseline; None when that has no changeovers."""
    by_kind: tuple[int, ...]
    late_lines: int
    late_min: int
    words: str


@dataclass(frozen=True)
class Account:
    """The whole ledger."""

    kinds: tuple[What, ...]
    """The kinds that cost minutes anywhere, in the order of `What`."""
    days: tuple[LedgerDay, ...]
    yardsticks: tuple[Yardstick, ...]
    difference: Difference | None
    floors: tuple[str, ...]

    def kind_total(self, kind: int) -> int:
        """Minutes of one kind over the week."""
        return sum(row.minutes[kind] for row in self.days)

    @property
    def total(self) -> int:
        """Minutes of the week."""
        return sum(row.total for row in self.days)


def account(index: Index) -> Account:
    """The ledger of a plan."""
    plan = index.plan
    used = {row.what for row in plan.ledger if row.minutes}
    for stick in plan.yardsticks:
        used |= {what for what, minutes in stick.by_what.items() if minutes}
    kinds = tuple(what for what in What if what in used)
    return Account(
        kinds=kinds,
        days=_days(index, kinds),
        yardsticks=plan.yardsticks,
        difference=difference(plan.yardsticks, kinds),
        floors=floors(index),
    )


def _days(index: Index, kinds: tuple[What, ...]) -> tuple[LedgerDay, ...]:
    minutes: dict[tuple[str, object], dict[What, int]] = defaultdict(lambda: defaultdict(int))
    counts: dict[tuple[str, object], int] = defaultdict(int)
    for row in index.plan.ledger:
        minutes[row.station, row.day][row.what] += row.minutes
        counts[row.station, row.day] += row.count
    places = {station.name: n for n, station in enumerate(index.plan.shop.stations)}
    rows = sorted(
        {(row.station, row.day) for row in index.plan.ledger},
        key=lambda key: (places.get(key[0], len(places)), key[1]),
    )
    return tuple(
        LedgerDay(
            station,
            day_name(day),
            tuple(minutes[station, day][kind] for kind in kinds),
            counts[station, day],
        )
        for station, day in rows
    )


def difference(
    yardsticks: tuple[Yardstick, ...], kinds: tuple[What, ...] = ()
) -> Difference | None:
    """This plan less due-date order, or less the first order there is to compare with."""
    if len(yardsticks) < 2:
        return None
    plan, others = yardsticks[0], yardsticks[1:]
    base = next((other for other in others if other.name == BASELINE), others[0])
    minutes = plan.changeover_min - base.changeover_min
    share = minutes / base.changeover_min if base.changeover_min else None
    per_cent = f" ({share:+.0%})".replace("-", "−") if share is not None else ""
    side = "more" if minutes > 0 else "less"
    words = f"{duration(abs(minutes))} {side} changeover than {base.name}"
    return Difference(
        baseline=base.name,
        minutes=minutes,
        share=share,
        by_kind=tuple(plan.by_what.get(k, 0) - base.by_what.get(k, 0) for k in kinds),
        late_lines=plan.late_lines - base.late_lines,
        late_min=plan.late_min - base.late_min,
        words=f"{words}{per_cent}" if minutes else f"As much changeover as {base.name}",
    )
