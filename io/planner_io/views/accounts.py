"""The changeover ledger: minutes by kind, station and day, and the same week in other orders."""

from __future__ import annotations

from collections import defaultdict
from dataclasses import dataclass

from planner.hours import day_name, duration, how_late, when_minute
from planner.shop import What
from planner.yardsticks import BY_DUE_DATE, Yardstick
from planner_io.views.floors import floors
from planner_io.views.index import Index
from planner_io.views.ruler import per_cent
from planner_io.views.worth import Worth, minute_words, worth


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

    @property
    def words(self) -> str:
        """The difference in changeovers in words."""
        if not self.minutes:
            return f"As much changeover as {self.baseline}"
        words = f"{duration(abs(self.minutes))} {self.side} changeover than {self.baseline}"
        sign = "+" if self.minutes > 0 else "−"
        return words + (f" ({sign}{per_cent(abs(self.share))})" if self.share else "")

    @property
    def side(self) -> str:
        """Whether this plan changes over for more minutes than the baseline, or for less."""
        return "more" if self.minutes > 0 else "less"

    @property
    def late(self) -> str:
        """The difference in lateness of all lines, in words with its sign."""
        sign = "+" if self.late_min > 0 else "−" if self.late_min else ""
        return sign + how_late(abs(self.late_min))


@dataclass(frozen=True)
class Account:
    """The whole ledger."""

    kinds: tuple[What, ...]
    """The kinds that cost minutes anywhere, in the order of `What`."""
    days: tuple[LedgerDay, ...]
    yardsticks: tuple[Yardstick, ...]
    difference: Difference | None
    floors: tuple[str, ...]
    worth: tuple[Worth, ...]
    money: str
    """What a minute counts."""
    basis: str
    """What the orders of the week have in common, and so what their difference leaves out."""

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
    foot = difference(plan.yardsticks, kinds)
    return Account(
        kinds=kinds,
        days=_days(index, kinds),
        yardsticks=plan.yardsticks,
        difference=foot,
        floors=floors(index),
        worth=worth([plan], plan.shop.house.minute_cents),
        money=minute_words(plan.shop.house),
        basis=_basis(index),
    )


def _basis(index: Index) -> str:
    again = index.plan.replan
    said = (
        "Each order of the week is run by the same rules, hours, people and cut lists; only the "
        "sequence differs"
    )
    if again is None:
        return f"{said}."
    now = when_minute(again.now_min, index.start)
    return f"{said}, and what had begun by {now}, or is locked or pinned, stays where it is."


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
    base = next((other for other in others if other.name == BY_DUE_DATE), others[0])
    minutes = plan.changeover_min - base.changeover_min
    return Difference(
        baseline=base.name,
        minutes=minutes,
        share=minutes / base.changeover_min if base.changeover_min else None,
        by_kind=tuple(plan.by_what.get(k, 0) - base.by_what.get(k, 0) for k in kinds),
        late_lines=plan.late_lines - base.late_lines,
        late_min=plan.late_min - base.late_min,
    )
