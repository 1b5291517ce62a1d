"""What an owner wants to know first: what changeovers cost, what is saved, what to better next."""

from __future__ import annotations

from collections.abc import Iterator

from planner.hours import duration
from planner_io.views.accounts import Account, Difference
from planner_io.views.index import Index
from planner_io.views.ruler import money, per_cent, plural
from planner_io.views.summary import Figure
from planner_io.views.worth import Worth


def headlines(index: Index, book: Account) -> tuple[Figure, ...]:
    """The three figures of an account, as far as it has them."""
    house = index.plan.shop.house

    def cost(minutes: int) -> str:
        return money(minutes * house.minute_cents, house.currency)

    changes = plural(sum(row.count for row in book.days), "change")
    spent = Figure(duration(book.total), "in changeovers", f"{cost(book.total)}, {changes}")
    found = [spent]
    if foot := book.difference:
        more = ", ".join(_apart(foot, cost(abs(foot.minutes))))
        name = f"{foot.side} changeover than {foot.baseline}" if foot.minutes else foot.words
        found.append(Figure(duration(abs(foot.minutes)), name, more))
    if book.worth:
        found.append(_next(book.worth[0], house.currency))
    return tuple(found)


def _apart(foot: Difference, cost: str) -> Iterator[str]:
    """The difference as a share and in money, and what more or less is late."""
    if foot.minutes:
        sign = "+" if foot.minutes > 0 else "−"
        yield from [f"{sign}{per_cent(abs(foot.share))}"] if foot.share else []
        yield f"{cost} {'lost' if foot.minutes > 0 else 'saved'}"
    if foot.late_lines:
        side = "more" if foot.late_lines > 0 else "fewer"
        yield f"{plural(abs(foot.late_lines), 'line')} {side} late"


def _next(first: Worth, currency: str) -> Figure:
    """The change of which a minute less is worth the most."""
    now = f"{first.times:g} times, now {first.each:.1f} min each"
    return Figure(
        money(first.cents, currency),
        "a week for a minute less each time",
        f"{first.what.value} at {first.station}: {now}",
    )


def sentences(figures: tuple[Figure, ...]) -> tuple[str, ...]:
    """The figures where there is no room to set them large."""
    return tuple(
        f"{one.number} {one.name[:1].lower()}{one.name[1:]}{f' ({one.more})' if one.more else ''}."
        for one in figures
    )
