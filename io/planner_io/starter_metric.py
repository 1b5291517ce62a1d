"""The starter shop in millimetres: the same stations, people and habits with round metric sizes.

ODs are those of ISO 4200 and of usual metric tube (from memory); all else is as round as a shop in
inches would have it, and likewise meant to be written over.
"""

from __future__ import annotations

from collections.abc import Iterator
from functools import cache

from planner.shop import (
    Belt,
    House,
    Mounted,
    Rail,
    Shop,
    Station,
    StationKind,
    Tool,
    ToolKind,
    What,
)
from planner.stock import StockItem
from planner.tube import Family, Surface, TubeSpec, mass_g
from planner.units import NM_PER_MM, format_mm
from planner_io.starter import (
    BENDER,
    FINISHER,
    NOTCHER,
    SAW,
    STEEL,
    starter_shop,
)
from planner_io.starter_stock import PRICE_PER_KG


def _nm(mm: float) -> int:
    return round(mm * NM_PER_MM)


def _mm(nm: int) -> str:
    return format_mm(nm, 2).removesuffix(" mm")


@cache
def metric_shop() -> Shop:
    """The starter shop with metric sizes."""
    shop = starter_shop()
    house = House(unit="mm", currency="€", paper="a4", remnant_nm=_nm(600))
    return shop.model_copy(
        update={
            "house": house,
            "stations": tuple(map(_station, shop.stations)),
            "wheels": tuple(
                wheels.model_copy(
                    update={
                        "contact_nm": _nm(250),
                        "brake_nm": _nm(150),
                        "stop_margin_nm": _nm(1.5),
                        "stop_clear_nm": _nm(1.5),
                    }
                )
                for wheels in shop.wheels
            ),
            "belts": tuple(map(_belt, shop.belts)),
            "rails": tuple(_rails()),
            "tools": (*_dies(), *_rollers()),
            "mounted": tuple(map(_mounted, shop.mounted)),
        }
    )


_OD_MM = {FINISHER: (12, 80), SAW: (10, 100), NOTCHER: (20, 80), BENDER: (20, 65)}
_LONGEST_BENT_MM = 3_600


def _station(station: Station) -> Station:
    changes: dict[str, object] = {}
    if station.kind is StationKind.FINISHER:
        lengths = {
            "short_nm": _nm(300),
            "carry_nm": _nm(1_500),
            "stands_over_nm": _nm(2_500),
            "two_people_over_nm": _nm(5_000),
            "longest_nm": _nm(7_500),
        }
        changes["finisher"] = station.finisher.model_copy(update=lengths)
    if station.kind is StationKind.SAW:
        lengths = {"stick_trim_nm": _nm(6), "clamp_nm": _nm(50)}
        changes["saw"] = station.saw.model_copy(update=lengths)
    if station.name in _OD_MM:
        least, most = _OD_MM[station.name]
        changes |= {"od_min_nm": _nm(least), "od_max_nm": _nm(most)}
    if station.longest_nm is not None:
        changes["longest_nm"] = _nm(_LONGEST_BENT_MM)
    return station.model_copy(update=changes)


def _belt(belt: Belt) -> Belt:
    thickness_nm = _nm(6) if belt.non_woven else belt.thickness_nm
    return belt.model_copy(update={"width_nm": _nm(100), "thickness_nm": thickness_nm})


def _rails() -> Iterator[Rail]:
    """As in the starter shop: like does not rub on like, and stainless has bronze of its own."""
    kinds = (
        ("bronze", "bronze", STEEL),
        ("clean bronze", "bronze", (Family.STAINLESS,)),
        ("steel", "steel", (Family.ALUMINIUM,)),
    )
    for name, material, families in kinds:
        for size in (1.5, 3, 6):
            yield Rail(
                name=f"{name} {size:g}",
                thickness_nm=_nm(size),
                material=material,
                families=families,
            )


_DIES_MM = (
    (25, 75, True),
    (30, 90, True),
    (33.7, 100, False),
    (38, 115, True),
    (42.4, 127, False),
    (42.4, 127, True),
    (48.3, 145, True),
    (50, 150, True),
    (60.3, 180, False),
)
_ROLLERS_MM = (25, 30, 33.7, 38, 42.4, 48.3, 50, 60.3)


def _dies() -> Iterator[Tool]:
    for od, clr, soft in _DIES_MM:
        yield Tool(
            name=f"die {od:g} x {clr}{' soft' if soft else ''}",
            kind=ToolKind.DIE,
            station=BENDER,
            od_nm=_nm(od),
            clr_nm=_nm(clr),
            soft=soft,
        )


def _rollers() -> Iterator[Tool]:
    for od in _ROLLERS_MM:
        yield Tool(name=f"roller {od:g}", kind=ToolKind.ROLLER, station=NOTCHER, od_nm=_nm(od))


def _mounted(what: Mounted) -> Mounted:
    values = {What.OD: str(_nm(42.4)), What.RAIL: "bronze 6", What.DIE: "die 42.4 x 127"}
    return what.model_copy(update={"value": values.get(what.what, what.value)})


_SCALED, _BRIGHT = Surface.SCALED, Surface.BRIGHT
_TUBE_MM = (
    (Family.CARBON, "S235", 25, 1.5, _BRIGHT),
    (Family.CARBON, "S235", 33.7, 2.6, _SCALED),
    (Family.CARBON, "S235", 42.4, 2.6, _SCALED),
    (Family.CARBON, "S235", 48.3, 2.6, _SCALED),
    (Family.CARBON, "S235", 60.3, 2.9, _SCALED),
    (Family.ALLOY, "4130", 25, 2, _BRIGHT),
    (Family.ALLOY, "4130", 38, 2.5, _BRIGHT),
    (Family.STAINLESS, "304", 25, 1.5, _BRIGHT),
    (Family.STAINLESS, "304", 38, 1.5, _BRIGHT),
    (Family.STAINLESS, "304", 42.4, 2, _BRIGHT),
    (Family.STAINLESS, "304", 48.3, 2, _BRIGHT),
    (Family.STAINLESS, "316", 42.4, 2, _BRIGHT),
    (Family.ALUMINIUM, "6060-T6", 30, 3, _BRIGHT),
    (Family.ALUMINIUM, "6060-T6", 50, 3, _BRIGHT),
)
_STICK_NM = _nm(6_000)


@cache
def metric_stock() -> tuple[StockItem, ...]:
    """Sticks of the usual metric tubes, 6 m long, bought as needed and there at once."""
    return tuple(
        _stick(TubeSpec(family=family, grade=grade, od_nm=_nm(od), wall_nm=_nm(w), surface=surface))
        for family, grade, od, w, surface in _TUBE_MM
    )


def _stick(spec: TubeSpec) -> StockItem:
    euros = round(mass_g(spec, _STICK_NM) / 1000 * PRICE_PER_KG[spec.family])
    return StockItem(
        key=f"{spec.grade} {_mm(spec.od_nm)} x {_mm(spec.wall_nm)}",
        spec=spec,
        length_nm=_STICK_NM,
        price_cents=100 * euros,
        location=f"rack {spec.family.value[0].upper()}",
    )
