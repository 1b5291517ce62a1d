"""What runs really took: log rows, what is wrong with them, and what they say about a model.

A run of n pieces through the finisher takes

    seconds = formula time / slip + n × handling

where the formula time is the travel of all pieces over the through-feed formula's feed. Both
unknowns are multiples of the shop's own settings, which the observation carries along.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from datetime import date
from enum import StrEnum

from planner.finisher.feed import Drive, feed_mm_min
from planner.shop import Belt, Shop, Station, StationKind, What
from planner.times import travel_nm, wheels_of
from planner.tube import Family
from planner.units import NM_PER_INCH, NM_PER_MM, format_size

WHOLE_MINUTE_S = 60.0
WATCH_S = 1.0
"""How finely a run's minutes are written, and a tube timed with a watch, in seconds."""
STEEPEST_MDEG = 30_000
"""No brake wheel tilts further (common practice: 5 to 10°)."""
LONGEST_RUN_MIN = 24 * 60
"""A longer run is a slip of the pen."""


@dataclass(frozen=True, slots=True)
class LoggedSetup:
    """Minutes that one kind of change really took."""

    what: What
    minutes: float


@dataclass(frozen=True, slots=True)
class LoggedRun:
    """One row of the log: a pass of some pieces on one belt, as it really went."""

    row: int
    """Number of the row, to point at."""
    day: date
    station: str
    belt: str
    family: Family
    od_nm: int
    length_nm: int
    """Length of a piece."""
    count: int
    tilt_mdeg: int
    minutes: float
    wall_nm: int | None = None
    who: str = ""
    spring: str = ""
    """How the spring stood, if this setting was good."""
    setups: tuple[LoggedSetup, ...] = ()
    timed: bool = False
    """A tube timed with a watch from laying in to taking out: no handling in it."""


class Carry(StrEnum):
    """How a piece is carried, which is what its handling depends on."""

    HAND = "in one hand"
    STICK = "as a stick"
    TWO = "by two people"


OD_CLASSES_NM = (NM_PER_INCH, 2 * NM_PER_INCH)
"""ODs up to 1 in, up to 2 in, and above."""


def od_class(od_nm: int) -> str:
    """The class of an OD."""
    names = ("up to 1 in", "1 to 2 in", "above 2 in")
    return names[sum(od_nm > limit for limit in OD_CLASSES_NM)]


def _carry_of(station: Station, length_nm: int) -> Carry:
    """How a piece of this length is carried at a finisher."""
    if length_nm <= station.finisher.carry_nm:
        return Carry.HAND
    return Carry.TWO if length_nm > station.finisher.two_people_over_nm else Carry.STICK


@dataclass(frozen=True, slots=True)
class Work:
    """A pass as the model sees it, done or still to do."""

    station: str
    od_class: str
    family: str
    belt: str
    carry: str
    count: int
    """Pieces handled; 0 for a timed tube."""
    formula_s: float
    """Travel of all pieces over the formula's feed, without slip."""
    slip: float
    """The shop's own setting."""
    handling_s: float
    """The shop's own setting for this way of carrying."""

    @property
    def usual_s(self) -> float:
        """Seconds by the shop's own settings."""
        return self.formula_s / self.slip + self.count * self.handling_s


@dataclass(frozen=True, slots=True)
class Observation:
    """A pass that was done, and the seconds it took."""

    work: Work
    seconds: float
    row: int = 0
    day: date = date.min
    resolution_s: float = WHOLE_MINUTE_S
    """What the log is rounded to."""


@dataclass(frozen=True, slots=True)
class Wrong:
    """What is wrong with one field of a log row."""

    field: str
    read: str
    expected: str


def work_of(
    shop: Shop,
    station: Station,
    belt: Belt,
    family: Family,
    od_nm: int,
    length_nm: int,
    count: int,
    tilt_mdeg: int,
) -> Work:
    """A pass of `count` equal pieces, by the shop's wheels and settings."""
    wheels, settings = wheels_of(shop, station), station.finisher
    feed = abs(feed_mm_min(Drive(wheels.brake_nm, wheels.brake_rpm), tilt_mdeg))
    carry = _carry_of(station, length_nm)
    handling = settings.short_handling_s if carry is Carry.HAND else settings.handling_s
    travel_mm = travel_nm(station, belt, length_nm) / NM_PER_MM
    return Work(
        station=station.name,
        od_class=od_class(od_nm),
        family=family.value,
        belt=belt.name,
        carry=carry.value,
        count=count,
        formula_s=count * travel_mm / feed * 60,
        slip=settings.slip,
        handling_s=handling,
    )


def observe(shop: Shop, run: LoggedRun) -> Observation:
    """A log row that `wrong_fields` finds nothing wrong with, as the model sees it."""
    belt = next(belt for belt in shop.belts if belt.name == run.belt)
    work = work_of(
        shop,
        shop.station(run.station),
        belt,
        run.family,
        run.od_nm,
        run.length_nm,
        run.count,
        run.tilt_mdeg,
    )
    if run.timed:
        return Observation(replace(work, count=0), run.minutes * 60, run.row, run.day, WATCH_S)
    return Observation(work, run.minutes * 60, run.row, run.day)


def wrong_fields(shop: Shop, run: LoggedRun, today: date | None = None) -> tuple[Wrong, ...]:
    """Everything in a row that cannot be right; such a row is refused, never mended."""
    return (
        *_wrong_names(shop, run),
        *_wrong_numbers(run),
        *_wrong_setups(run),
        *_early(run, today),
    )


def _wrong_names(shop: Shop, run: LoggedRun) -> Iterator[Wrong]:
    finishers = {station.name: station for station in shop.of_kind(StationKind.FINISHER)}
    belts = {belt.name: belt for belt in shop.belts}
    if run.station not in finishers:
        yield Wrong("station", run.station, f"a finisher of the shop: {', '.join(finishers)}")
    elif not (finishers[run.station].od_min_nm <= run.od_nm <= finishers[run.station].od_max_nm):
        yield Wrong("od", format_size(run.od_nm, shop.house.unit), "an OD that this finisher takes")
    if run.belt not in belts:
        yield Wrong("belt", run.belt, f"a belt of the shop: {', '.join(belts)}")
    elif run.family not in belts[run.belt].families:
        allowed = ", ".join(family.value for family in belts[run.belt].families)
        yield Wrong("family", run.family.value, f"a family that {run.belt} may touch: {allowed}")


def _wrong_numbers(run: LoggedRun) -> Iterator[Wrong]:
    if run.count <= 0:
        yield Wrong("count", f"{run.count}", "at least 1 piece")
    if run.length_nm <= 0:
        yield Wrong("length", f"{run.length_nm / NM_PER_MM:g} mm", "a length above zero")
    if not 0 < abs(run.tilt_mdeg) <= STEEPEST_MDEG:
        yield Wrong("tilt", f"{run.tilt_mdeg / 1000:g}°", "a tilt above 0° and up to 30°")
    if not 0 < run.minutes <= LONGEST_RUN_MIN:
        yield Wrong("minutes", f"{run.minutes:g}", "minutes above 0, a day at most")


def _wrong_setups(run: LoggedRun) -> Iterator[Wrong]:
    for setup in run.setups:
        if not 0 <= setup.minutes <= LONGEST_RUN_MIN:
            yield Wrong(f"{setup.what.value} minutes", f"{setup.minutes:g}", "0 minutes or more")


def _early(run: LoggedRun, today: date | None) -> Iterator[Wrong]:
    """A run that was logged before its day has come."""
    if today is not None and run.day > today:
        yield Wrong("day", run.day.isoformat(), f"a day up to {today.isoformat()}")
