"""Tube that a finisher cannot be set up for, told before it is planned."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from planner.errors import Finding, Severity
from planner.finisher.card import set_up_for
from planner.mounting import belt_for, rail_for
from planner.orders import OrderLine
from planner.shop import Belt, Shop, Station, StationKind
from planner.sticks import able
from planner.times import passes, without_wheels
from planner.tube import TubeSpec
from planner.units import format_size


def check_set_ups(orders: Sequence[OrderLine], shop: Shop) -> Iterator[Finding]:
    """An error for each finisher without wheels that may finish one of the lines, and a warning for
    each other one and OD for which rail and stop have no place, with the belts."""
    yield from _without_wheels(orders, shop)
    yield from _without_place(orders, shop)


def _without_wheels(orders: Sequence[OrderLine], shop: Shop) -> Iterator[Finding]:
    """Feeds, and with them all minutes, follow from the wheels."""
    with_wheels = {wheels.station for wheels in shop.wheels}
    specs = [line.spec for line in orders if line.recipe is not None]
    for station in shop.of_kind(StationKind.FINISHER):
        fit = any(station in able(shop, StationKind.FINISHER, spec) for spec in specs)
        if fit and station.name not in with_wheels:
            yield Finding(
                severity=Severity.ERROR,
                message=without_wheels(station),
                sheet="Wheels",
                subject=station.name,
            )


def _without_place(orders: Sequence[OrderLine], shop: Shop) -> Iterator[Finding]:
    set_ups = {
        (station.name, spec.od_nm, spec.family, belt.name): (station, spec, belt)
        for station, spec, belt in _set_ups(orders, shop)
    }
    found: dict[tuple[str, int], dict[str, str]] = {}
    for station, spec, belt in set_ups.values():
        why = _why_none(shop, station, spec, belt)
        if why:
            found.setdefault((station.name, spec.od_nm), {}).setdefault(belt.name, why)
    for (name, od_nm), whys in found.items():
        size, belts = format_size(od_nm, shop.house.unit), ", ".join(whys)
        text = f"{name}: no place for rail and stop with {size} under {belts}, so cards give none"
        message = f"{text}. {next(iter(whys.values()))}"
        yield Finding(severity=Severity.WARNING, message=message, subject=name)


def _set_ups(orders: Sequence[OrderLine], shop: Shop) -> Iterator[tuple[Station, TubeSpec, Belt]]:
    """Where and under which belts the lines may be finished."""
    with_wheels = {wheels.station for wheels in shop.wheels}
    for line in orders:
        if line.recipe is not None:
            for station in able(shop, StationKind.FINISHER, line.spec):
                if station.name in with_wheels:
                    yield from ((station, line.spec, belt) for belt in _belts(line, shop))


def _belts(line: OrderLine, shop: Shop) -> Iterator[Belt]:
    """The belts that may do the passes of a line."""
    for _, step in passes(shop.recipe(line.recipe or ""), line.spec.surface):
        for coarse in (True, False):
            belt = belt_for(shop, step.grade, line.spec.family, coarse)
            if belt:
                yield belt


def _why_none(shop: Shop, station: Station, spec: TubeSpec, belt: Belt) -> str:
    """What speaks against the set-up; empty where it has a place, or where there is no rail."""
    rail = rail_for(shop, spec.od_nm, spec.family)
    result = set_up_for(shop, station, spec.od_nm, belt, rail).result if rail else None
    if result is None or result.usable:
        return ""
    return next(found.message for found in result.findings if found.severity is Severity.ERROR)
