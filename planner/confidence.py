"""Plan at a chosen confidence: minutes that are kept in so many cases of a hundred.

A plan at even odds uses medians. One that aims higher uses the same shop at a slower pace: every
run and every changeover gets the minutes that its own spread keeps in 80 or 95 of 100 cases.
The plan carries that shop, so its audit needs to know nothing of spreads.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from math import ceil, exp
from statistics import NormalDist

from planner.shop import ChangeoverRow, Shop

EVEN = 50
"""Confidence of a plan that uses medians, per cent."""


@dataclass(frozen=True, slots=True)
class Spread:
    """Standard deviations in logs: 0.1 means that two runs in three are within 10 %."""

    run: float = 0.15
    setup: float = 0.25


@dataclass(frozen=True, slots=True)
class Spreads:
    """The spread of each station, and that of stations that nobody has logged yet."""

    usual: Spread = Spread()
    """Common practice: no published value is known."""
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


def confident_shop(shop: Shop, confidence: int, spreads: Spreads) -> Shop:
    """The shop at the pace that keeps its minutes in `confidence` per cent of cases."""
    if confidence == EVEN:
        return shop
    stations = tuple(
        station.model_copy(
            update={
                "pace": round(station.pace * factor_at(confidence, spreads.of(station.name).run), 4)
            }
        )
        for station in shop.stations
    )
    rows = tuple(
        row.model_copy(
            update={"minutes": minutes_at(row.minutes, confidence, _setup(shop, row, spreads))}
        )
        if row.minutes
        else row
        for row in shop.changeovers
    )
    return shop.model_copy(update={"stations": stations, "changeovers": rows})


def _setup(shop: Shop, row: ChangeoverRow, spreads: Spreads) -> float:
    """The largest set-up spread of the stations that a row of the table is for."""
    own = [
        spreads.of(station.name).setup
        for station in shop.stations
        if row.station in (station.name, station.kind, station.base)
    ]
    return max(own, default=spreads.usual.setup)
