"""What must be changed from one mounted state to the next, and the minutes that it takes.

This is the one rule of changeovers; the search, the ledger and the audit all follow it:

* Each station remembers what is mounted on it, also while it is off a shared base. A base
  has one thing of its own mounted: the attachment.
* Only what an operation asks for is changed; everything else stays as it is.
* The minutes of one change come from the most specific row of the shop's table: a row for the
  station's (or base's) name before one for its kind, then the row that names more of `before`
  and `after`, then the one that names `after`. Without a row the change takes no minutes,
  but is a change all the same, so a new run begins; only a clean-down that takes no minutes
  is none, as nothing is cleaned. Where it is not known what is mounted,
  only rows for any `before` fit.
* A changeover is the sum of its changes; at a station of `longest_of`, or one that shares its
  base, they are done side by side, so the longest one counts and the others add nothing.
"""

from __future__ import annotations

from collections.abc import Mapping

from planner.change import Change
from planner.shop import ChangeoverRow, Mounted, Shop, Station, What

MountedState = Mapping[What, str]
"""What is mounted on a station, or must be: an OD as its nanometres, everything else by name."""


def required(state: MountedState, station: Station) -> dict[What, str]:
    """What an operation that asks for `state` needs at `station`: on a shared base also the
    station itself as the attachment."""
    needed = dict(state)
    needed.pop(What.ATTACHMENT, None)
    return {What.ATTACHMENT: station.name, **needed} if station.base else needed


def change_minutes(shop: Shop, station: Station, what: What, before: str | None, after: str) -> int:
    """Minutes of one change alone, by the most specific row of the shop's table; 0 without one.

    `before` is None when nothing is mounted or it is not known.
    """
    rows = [row for row in shop.changeovers if _fits(row, station, what, before, after)]
    return max(rows, key=lambda row: _specificity(row, station)).minutes if rows else 0


def changes(
    before: MountedState, after: MountedState, station: Station, shop: Shop
) -> tuple[Change, ...]:
    """The changes from `before` to what `after` asks for, in the order of `What`.

    `after` is as `required` gives it. The minutes add up to those of the changeover.
    """
    found = [
        Change(
            what=what,
            before=before.get(what),
            after=after[what],
            minutes=change_minutes(shop, station, what, before.get(what), after[what]),
        )
        for what in What
        if what in after and before.get(what) != after[what]
    ]
    found = [change for change in found if change.minutes or change.what is not What.FAMILY]
    return _side_by_side(found) if is_longest(shop, station) else tuple(found)


def setup_minutes(found: tuple[Change, ...]) -> int:
    """Minutes of the changeover that consists of these changes."""
    return sum(change.minutes for change in found)


def is_longest(shop: Shop, station: Station) -> bool:
    """Whether the station's changes are done side by side, so that the longest one counts."""
    names: set[str | None] = {station.base}
    for other in shop.stations:
        if other.name == station.name or (station.base and other.base == station.base):
            names |= {other.name, other.kind}
    return any(name in names for name in shop.longest_of)


class Mounts:
    """What is mounted everywhere in the shop, as time goes on."""

    def __init__(self, shop: Shop) -> None:
        self._on: dict[str, dict[What, str]] = {}
        bases = {station.name: station.base for station in shop.stations if station.base}
        for row in shop.mounted:
            is_swap = row.what == What.ATTACHMENT
            place = bases.get(row.station, row.station) if is_swap else row.station
            self._on.setdefault(place, {})[row.what] = row.value

    def before(self, station: Station) -> dict[What, str]:
        """What stands on `station` now, with the attachment on its base."""
        state = dict(self._on.get(station.name, {}))
        on_base = self._on.get(station.base, {}) if station.base else {}
        if What.ATTACHMENT in on_base:
            state[What.ATTACHMENT] = on_base[What.ATTACHMENT]
        return state

    def mount(self, station: Station, after: MountedState) -> None:
        """Put on `station` what `after` asks for, as `required` gives it."""
        for what, value in after.items():
            place = station.base if what == What.ATTACHMENT and station.base else station.name
            self._on.setdefault(place, {})[what] = value

    def rows(self) -> tuple[Mounted, ...]:
        """All of it as the shop would say it, a base for the station of its attachment."""
        return tuple(
            Mounted(station=place, what=what, value=value)
            for place, on in self._on.items()
            for what, value in on.items()
        )


def _fits(row: ChangeoverRow, station: Station, what: What, before: str | None, after: str) -> bool:
    return (
        row.what == what
        and row.station in (station.name, station.base, station.kind)
        and row.before in (None, before)
        and row.after in (None, after)
    )


def _specificity(row: ChangeoverRow, station: Station) -> tuple[bool, int, bool]:
    by_name = row.station in (station.name, station.base)
    given = (row.before is not None) + (row.after is not None)
    return by_name, given, row.after is not None


def _side_by_side(found: list[Change]) -> tuple[Change, ...]:
    if not found:
        return ()
    longest = max(found, key=lambda change: change.minutes)
    return tuple(
        change if change is longest else change.model_copy(update={"minutes": 0})
        for change in found
    )
