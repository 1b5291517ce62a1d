"""The starter shop's tube and its prices: invented, to be replaced by the sheet Stock."""

from __future__ import annotations

from functools import cache

from planner.stock import StockItem
from planner.tube import Family, Surface, TubeSpec, mass_g
from planner.units import NM_PER_FOOT, parse_length, parse_od

_SCALED, _BRIGHT = Surface.SCALED, Surface.BRIGHT

_TUBE = (
    (Family.CARBON, "A513", "1", ".065", _BRIGHT),
    (Family.CARBON, "A513", "1-1/4", ".083", _SCALED),
    (Family.CARBON, "A513", "1-1/2", ".083", _SCALED),
    (Family.CARBON, "A513", "1-1/2", ".120", _SCALED),
    (Family.CARBON, "A513", "2", ".120", _SCALED),
    (Family.CARBON, "A53", "1-1/4 sch 40", "", _SCALED),
    (Family.CARBON, "A53", "1-1/2 sch 40", "", _SCALED),
    (Family.ALLOY, "4130", "1", ".065", _BRIGHT),
    (Family.ALLOY, "4130", "1-1/4", ".095", _BRIGHT),
    (Family.ALLOY, "4130", "1-5/8", ".095", _BRIGHT),
    (Family.STAINLESS, "304", "1", ".065", _BRIGHT),
    (Family.STAINLESS, "304", "1-1/2", ".065", _BRIGHT),
    (Family.STAINLESS, "304", "2", ".065", _BRIGHT),
    (Family.STAINLESS, "316", "1-1/2", ".065", _BRIGHT),
    (Family.ALUMINIUM, "6061-T6", "1-1/4", ".125", _BRIGHT),
    (Family.ALUMINIUM, "6061-T6", "1-1/2", ".125", _BRIGHT),
    (Family.ALUMINIUM, "6061-T6", "2", ".125", _BRIGHT),
    (Family.ALUMINIUM, "6063-T52", "1-1/2", ".125", _BRIGHT),
)
PRICE_PER_KG = {
    Family.CARBON: 3.1,
    Family.ALLOY: 9.5,
    Family.STAINLESS: 8.4,
    Family.ALUMINIUM: 11.0,
}
"""Round prices in the shop's currency."""
_LENGTHS_FT = (20, 24)


@cache
def starter_stock() -> tuple[StockItem, ...]:
    """Sticks of the usual tubes in two lengths, bought as needed and there at once."""
    return tuple(
        _stick(family, grade, od, wall, surface, feet)
        for family, grade, od, wall, surface in _TUBE
        for feet in _LENGTHS_FT
    )


def _stick(
    family: Family, grade: str, od: str, wall: str, surface: Surface, feet: int
) -> StockItem:
    size = parse_od(od)
    wall_nm = size.wall_nm or parse_length(wall).nm
    spec = TubeSpec(family=family, grade=grade, od_nm=size.nm, wall_nm=wall_nm, surface=surface)
    length_nm = feet * NM_PER_FOOT
    dollars = round(mass_g(spec, length_nm) / 1000 * PRICE_PER_KG[family])
    return StockItem(
        key=f"{grade} {od}{' x ' + wall if wall else ''} {feet} ft",
        spec=spec,
        length_nm=length_nm,
        price_cents=100 * dollars,
        lead_days=0,
        location=f"rack {family.value[0].upper()}",
    )
