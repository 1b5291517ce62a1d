"""How far real minutes lie from planned ones, and plans at a chosen confidence: minutes that are
kept in so many cases of a hundred.

Real minutes differ from the plan's for two reasons. One run takes longer than the next, and all
runs take longer than the shop believed, as a feed or a time in its sheets is off. The first evens
out over a week, the second does not.

A plan at even odds uses medians. One that aims higher uses the same shop at a slower pace: every
run and every changeover gets the minutes that its own spread keeps in 80 or 95 of 100 cases.
The plan carries that shop, so its audit needs to know nothing of spreads.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from math import ceil, exp, floor, hypot
from statistics import NormalDist

from planner.shop import ChangeoverRow, Shop, Station
from planner.uncertainty import LikelyMinutes

EVEN = 50
"""Confidence of a plan that uses medians, per cent."""


@dataclass(frozen=True, slots=True)
class Spread:
    """Standard deviations in logs: 0.1 means that two runs in three are within 10 %.

    Without a log they are common practice, from memory: no published value is known. Minutes that
    a shop has entered and not timed are taken to be a fifth off in two cases of three.
    """

    run: float = 0.15
    """Of one run from the next."""
    setup: float = 0.25
    """Of one changeover from the next."""
    run_shared: float = 0.2
    """What all runs of the station are off by together."""
    setup_shared: float = 0.2
    """What all its changeovers are off by together."""

    @property
    def any_run(self) -> float:
        """How far any one run lies from the plan, for both reasons."""
        return hypot(self.run, self.run_shared)

    @property
    def any_setup(self) -> float:
        """How far any one changeover lies from the plan, for both reasons."""
        return hypot(self.setup, self.setup_shared)


@dataclass(frozen=True, slots=True)
class Spreads:
    """The spread of each station, and that of stations that nobody has logged yet."""

    usual: Spread = Spread()
    stations: Mapping[str, Spread] = field(default_factory=dict[str, Spread])

    def of(self, station: str) -> Spread:
        """The spread of a station."""
        return self.stations.get(station, self.usual)


def factor_at(confidence: int, spread: float) -> float:
    """What a median is multiplied by to be kept in `confidence` per cent of cases."""
    return exp(NormalDist().inv_cdf(confidence / 100) * spread)


def minutes_at(minutes: float, confidence: int, spread: float) -> int:
    """Whole minutes that are kept in `confidence` per cent of cases (50, 80 or 95)."""
    return max(1, ceil(minutes * factor_at(confidence, spread) - 1e-9))


def likely_minutes(operation: str, median: float, spread: float, runs: int) -> LikelyMinutes:
    """The minutes between which a pass stays in 80 % of cases, `spread` being of any one run."""
    reach = factor_at(90, spread)
    return LikelyMinutes(
        operation=operation,
        low_min=floor(median / reach),
        median_min=round(median),
        high_min=ceil(median * reach),
        runs=runs,
    )


def confident_shop(shop: Shop, confidence: int, spreads: Spreads) -> Shop:
    """The shop at the pace that keeps its minutes in `confidence` per cent of cases."""
    if confidence == EVEN:
        return shop
    stations = tuple(_paced(station, confidence, spreads) for station in shop.stations)
    rows = tuple(
        row.model_copy(
            update={"minutes": minutes_at(row.minutes, confidence, _setup(shop, row, spreads))}
        )
        if row.minutes
        else row
        for row in shop.changeovers
    )
    return shop.model_copy(update={"stations": stations, "changeovers": rows})


def _paced(station: Station, confidence: int, spreads: Spreads) -> Station:
    factor = factor_at(confidence, spreads.of(station.name).any_run)
    return station.model_copy(update={"pace": round(station.pace * factor, 4)})


def _setup(shop: Shop, row: ChangeoverRow, spreads: Spreads) -> float:
    """The largest set-up spread of the stations that a row of the table is for."""
    own = [
        spreads.of(station.name).any_setup
        for station in shop.stations
        if row.station in (station.name, station.kind, station.base)
    ]
    return max(own, default=spreads.usual.any_setup)
