"""Put what the log has taught into the shop: slip, handling and changeover minutes."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from math import exp, sqrt
from statistics import median

from planner.confidence import Spread, Spreads
from planner.finisher.calibration import Calibration, Duration, calibrate
from planner.finisher.change_times import SetupTime, setup_times
from planner.finisher.drift import Drift, drifts
from planner.finisher.observations import Carry, LoggedRun, Observation, observe
from planner.finisher.validation import Validation, cross_validate
from planner.shop import (
    ChangeoverRow,
    FinisherSettings,
    GoodSetting,
    Shop,
    Station,
    StationKind,
    What,
)

LARGEST_SLIP = 1.2
"""More than this over the formula is no slip but a wrong diameter or speed in the shop file."""


def _table_minutes(shop: Shop) -> dict[What, float]:
    """Mean minutes of each kind of change in the table of the shop's finishers, above zero."""
    finishers = shop.of_kind(StationKind.FINISHER)
    places = {StationKind.FINISHER.value, *(s.name for s in finishers)}
    places |= {s.base for s in finishers if s.base}
    names = {None, *(s.name for s in finishers)}
    minutes: dict[What, list[int]] = {}
    for row in shop.changeovers:
        mounts_another = row.what is What.ATTACHMENT and row.after not in names
        if row.station in places and row.minutes > 0 and not mounts_another:
            minutes.setdefault(row.what, []).append(row.minutes)
    return {what: sum(all_) / len(all_) for what, all_ in minutes.items()}


def learned_setups(shop: Shop, runs: Sequence[LoggedRun]) -> dict[What, SetupTime]:
    """What each kind of change at the finishers takes, by table and log together."""
    return setup_times(runs, _table_minutes(shop))


def learned_shop(shop: Shop, calibration: Calibration, setups: Mapping[What, SetupTime]) -> Shop:
    """The shop with the medians that the log has taught; unlogged things stay as they were."""
    stations = tuple(
        station.model_copy(update={"finisher": _settings(station, calibration)})
        if station.kind is StationKind.FINISHER
        else station
        for station in shop.stations
    )
    rows = tuple(made for row in shop.changeovers for made in _rows(shop, row, setups))
    return shop.model_copy(update={"stations": stations, "changeovers": rows})


def _settings(station: Station, calibration: Calibration) -> FinisherSettings:
    def corrections(part: str, *levels: tuple[str, str]) -> float:
        wanted = {(part, "", ""), *((part, factor, level) for factor, level in levels)}
        pairs = zip(calibration.columns, calibration.effects, strict=True)
        return exp(sum(float(effect) for column, effect in pairs if column in wanted))

    here = ("station", station.name)
    settings = station.finisher
    slip = settings.slip / corrections("slip", here)
    stick = corrections("handling", here, ("carry", Carry.STICK.value))
    hand = corrections("handling", here, ("carry", Carry.HAND.value))
    return settings.model_copy(
        update={
            "slip": min(LARGEST_SLIP, round(slip, 4)),
            "handling_s": max(1, round(settings.handling_s * stick)),
            "short_handling_s": max(1, round(settings.short_handling_s * hand)),
        }
    )


def _rows(
    shop: Shop, row: ChangeoverRow, setups: Mapping[What, SetupTime]
) -> Iterator[ChangeoverRow]:
    """The row with the minutes that the log has taught. One for whatever is mounted on a base
    stays as it is for the others, and a finisher there gets a row of its own."""
    setup = setups.get(row.what)
    if setup is None or setup.runs == 0 or row.minutes == 0:
        yield row
        return
    minutes = max(1, round(row.minutes * setup.median_min / setup.table_min))
    learned = row.model_copy(update={"minutes": minutes})
    finishers = shop.of_kind(StationKind.FINISHER)
    on_base = [s.name for s in finishers if s.base == row.station and row.what is What.ATTACHMENT]
    if (
        row.station in {StationKind.FINISHER.value, *(s.name for s in finishers)}
        or row.after in on_base
    ):
        yield learned
    else:
        yield row
        if row.after is None:
            names = [name for name in on_base if not _has_its_own(shop, row, name)]
            yield from (learned.model_copy(update={"after": name}) for name in names)


def _has_its_own(shop: Shop, row: ChangeoverRow, name: str) -> bool:
    """Whether another row of the base already gives the minutes of mounting a station of it."""
    return any(
        (other.station, other.what, other.after) == (row.station, row.what, name)
        and other.before in (None, row.before)
        for other in shop.changeovers
    )


@dataclass(frozen=True)
class Lesson:
    """Everything that a log teaches about a shop."""

    shop: Shop
    """The shop with the learned medians."""
    calibration: Calibration
    setups: Mapping[What, SetupTime]
    validation: Validation | None
    """Errors before and after; None while there are too few runs."""
    drifts: tuple[Drift, ...]
    observations: tuple[Observation, ...]

    @property
    def spreads(self) -> Spreads:
        """The spread of each logged finisher's runs and changeovers."""
        works: dict[str, list[Duration]] = {}
        for observation in self.observations:
            told = self.calibration.predict(observation.work)
            works.setdefault(observation.work.station, []).append(told)
        logged = [time for time in self.setups.values() if time.runs]
        setup = max(logged, key=lambda time: time.spread, default=None)
        return Spreads(stations={name: _spread(told, setup) for name, told in works.items()})


def _spread(told: Sequence[Duration], setup: SetupTime | None) -> Spread:
    """The spread of a finisher by its logged runs and the least sure of its logged changes: as
    wide as they are told on cards, and of that as much shared as is."""
    usual = Spread()
    run, run_shared = _parted(
        median(each.spread for each in told), median(each.shared for each in told)
    )
    if setup is None:
        return Spread(run, usual.setup, run_shared, usual.setup_shared)
    each, together = _parted(setup.spread, setup.shared)
    return Spread(run, each, run_shared, together)


def _parted(spread: float, shared: float) -> tuple[float, float]:
    """What is of one run and what all share, of a spread and the part of its variance."""
    return spread * sqrt(1 - shared), spread * sqrt(shared)


def learn(shop: Shop, runs: Sequence[LoggedRun]) -> Lesson:
    """Learn from the rows of a log; rows in which `wrong_fields` finds something are the
    caller's to refuse."""
    ordered = sorted(runs, key=lambda run: (run.day, run.row))
    observations = tuple(observe(shop, run) for run in ordered)
    calibration = calibrate(observations)
    setups = learned_setups(shop, ordered)
    learned = learned_shop(shop, calibration, setups)
    return Lesson(
        shop=learned.model_copy(update={"good": (*shop.good, *_good(ordered))}),
        calibration=calibration,
        setups=setups,
        validation=cross_validate(observations),
        drifts=drifts(calibration, observations),
        observations=observations,
    )


def _good(runs: Sequence[LoggedRun]) -> tuple[GoodSetting, ...]:
    """The settings of the runs that were logged with their spring."""
    return tuple(
        GoodSetting(
            od_nm=run.od_nm,
            wall_nm=run.wall_nm,
            spring=run.spring,
            tilt_mdeg=abs(run.tilt_mdeg),
            day=run.day,
            station=run.station,
        )
        for run in runs
        if run.spring and run.wall_nm is not None
    )
