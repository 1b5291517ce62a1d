"""Published size tables for tube and pipe: Birmingham and British standard wire gauge, and nominal
pipe sizes.

Tables stand in thousandths of an inch as printed and leave in nanometres.  Sources:
BWG 7-24 as printed with tube wall tables; SWG 7-24 from memory; pipe by ASME B36.10M and
B36.19M.  Only sizes that a tube shop finishes are kept: NPS 1/8 to 6.

>>> BWG_NM[16]
1651000
>>> pipe("1-1/4").od_nm, pipe("1-1/4").walls_nm["40"]
(42164000, 3556000)
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from fractions import Fraction
from types import MappingProxyType

_NM_PER_MIL = 25_400

MILL_SHORT_NM = 250 * _NM_PER_MIL
"""How much shorter than ordered a mill may cut tube to length: 1/4 in up to 22 ft and above (ASTM
A500, structural tube; over it may be 1/2 in up to 22 ft, else 3/4 in)."""

_BWG_MILS = dict(
    zip(
        range(7, 25),
        (180, 165, 148, 134, 120, 109, 95, 83, 72, 65, 58, 49, 42, 35, 32, 28, 25, 22),
        strict=True,
    )
)

BWG_NM: Mapping[int, int] = MappingProxyType({n: t * _NM_PER_MIL for n, t in _BWG_MILS.items()})
"""Wall thickness in nm by Birmingham wire gauge number."""

_SWG_MILS = dict(
    zip(
        range(7, 25),
        (176, 160, 144, 128, 116, 104, 92, 80, 72, 64, 56, 48, 40, 36, 32, 28, 24, 22),
        strict=True,
    )
)

SWG_NM: Mapping[int, int] = MappingProxyType({n: t * _NM_PER_MIL for n, t in _SWG_MILS.items()})
"""Wall thickness in nm by British standard wire gauge number, where a shop says SWG."""

SCHEDULES = ("5S", "10S", "40", "80", "160")
"""The schedules that the table knows, thin to thick."""

SCHEDULE_ALIASES: Mapping[str, str] = MappingProxyType(
    {"5": "5S", "10": "10S", "40S": "40", "80S": "80", "STD": "40", "XS": "80", "XH": "80"}
)
"""Other names with the same wall at these sizes (B36.10M and B36.19M agree up to NPS 6)."""


@dataclass(frozen=True)
class Pipe:
    """One nominal pipe size: its name, DN number, OD and the walls by schedule, in nm."""

    name: str
    size: Fraction
    dn: int
    od_nm: int
    walls_nm: Mapping[str, int]


def _row(name: str, size: str, dn: int, od_mils: int, walls_mils: tuple[int | None, ...]) -> Pipe:
    walls = {
        schedule: mils * _NM_PER_MIL
        for schedule, mils in zip(SCHEDULES, walls_mils, strict=True)
        if mils is not None
    }
    return Pipe(name, Fraction(size), dn, od_mils * _NM_PER_MIL, MappingProxyType(walls))


PIPES: tuple[Pipe, ...] = (
    _row("1/8", "1/8", 6, 405, (None, 49, 68, 95, None)),
    _row("1/4", "1/4", 8, 540, (None, 65, 88, 119, None)),
    _row("3/8", "3/8", 10, 675, (None, 65, 91, 126, None)),
    _row("1/2", "1/2", 15, 840, (65, 83, 109, 147, 188)),
    _row("3/4", "3/4", 20, 1050, (65, 83, 113, 154, 219)),
    _row("1", "1", 25, 1315, (65, 109, 133, 179, 250)),
    _row("1-1/4", "5/4", 32, 1660, (65, 109, 140, 191, 250)),
    _row("1-1/2", "3/2", 40, 1900, (65, 109, 145, 200, 281)),
    _row("2", "2", 50, 2375, (65, 109, 154, 218, 344)),
    _row("2-1/2", "5/2", 65, 2875, (83, 120, 203, 276, 375)),
    _row("3", "3", 80, 3500, (83, 120, 216, 300, 438)),
    _row("3-1/2", "7/2", 90, 4000, (83, 120, 226, 318, None)),
    _row("4", "4", 100, 4500, (83, 120, 237, 337, 531)),
    _row("5", "5", 125, 5563, (109, 134, 258, 375, 625)),
    _row("6", "6", 150, 6625, (109, 134, 280, 432, 719)),
)


def pipe(name: str) -> Pipe:
    """The pipe size of that name, such as `1-1/4`; KeyError when the table has none."""
    return {row.name: row for row in PIPES}[name]


def pipe_of_size(size: Fraction) -> Pipe | None:
    """The pipe of a nominal size in inches (not its OD)."""
    return next((row for row in PIPES if row.size == size), None)


def pipe_of_dn(dn: int) -> Pipe | None:
    """The pipe of a metric DN number."""
    return next((row for row in PIPES if row.dn == dn), None)


def pipe_of_od(od_nm: int) -> Pipe | None:
    """The pipe with exactly this OD."""
    return next((row for row in PIPES if row.od_nm == od_nm), None)


def schedule_name(text: str) -> str:
    """The table's name of a schedule: `40s` and `STD` are `40`; an unknown one stays as it is."""
    name = text.upper()
    return SCHEDULE_ALIASES.get(name, name)
