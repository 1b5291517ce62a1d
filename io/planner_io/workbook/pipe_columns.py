"""Sizes whose meaning stands in another cell: a pipe size by its header or by the schedule beside
it, a wall by its header or by the size beside it."""

from __future__ import annotations

import re

from planner.standard_sizes import pipe_of_od, pipe_of_size
from planner.units import NM_PER_INCH
from planner.units.numbers import AmbiguousAmountError, amount, plain
from planner.units.reading import refuse
from planner.units.sizes import SCHEDULE_ALONE
from planner_io.workbook import cells
from planner_io.workbook.grid import Value
from planner_io.workbook.names import plain_name

PIPE_TITLES = frozenset(
    map(plain_name, ("pipe size", "pipe", "nps", "ips", "nominal size", "nominal pipe size"))
)
DN_TITLES = frozenset({plain_name("dn")})
"""Headers, by plain name, of nominal sizes in inches and in mm."""
_BARE = re.compile(r'([0-9][0-9 ./-]*|\.[0-9]+) ?"?', re.ASCII)
_EXACT = re.compile(r"[0-9]*\.[0-9]{3,}", re.ASCII)
"""With three decimals a size is measured: 3.500 is no pipe size."""
_SCHEDULE_NUMBERS = frozenset({"5", "10", "40", "80", "160"})
GAUGES = range(7, 25)
_SCHEDULE = re.compile(r"[0-9]{1,3}[sS]?")
"""A schedule without the word; 16ga and 1/8 below `Sch / wall` are walls by themselves."""
_GAUGE = frozenset({"ga", "gauge", "gage", "bwg"})


def od_as_meant(value: Value, title: str, wall: Value | None, *, inches: bool) -> Value:
    """An OD cell with the word pipe where it is a nominal size: by its header, or by the
    schedule that its wall is. Raises InputError where it may be either."""
    name = plain_name(title)
    words = plain(cells.text(value))
    match = _BARE.fullmatch(words)
    if match and name in DN_TITLES:
        return f"DN {match[1]}"
    scheduled = wall is not None and is_schedule(wall)
    if (
        not match
        or not inches
        or _EXACT.fullmatch(match[1])
        or not (scheduled or name in PIPE_TITLES)
    ):
        return value
    nominal, is_od = _sizes(match[1])
    if nominal and is_od and name not in PIPE_TITLES:
        raise refuse(
            cells.text(value),
            f"{match[1]} pipe, or its outside diameter with three decimals",
            "pipe of this OD and pipe of this nominal size are two",
        )
    return f"{match[1]} pipe" if nominal else value


def is_schedule(wall: Value) -> bool:
    """Whether a wall is said by its schedule."""
    return SCHEDULE_ALONE.fullmatch(plain(cells.text(wall))) is not None


def _sizes(text: str) -> tuple[bool, bool]:
    """Whether a number of inches is a nominal pipe size, and whether it is the OD of a pipe."""
    try:
        found = amount(text.strip())
    except AmbiguousAmountError:
        return False, False
    if found is None:
        return False, False
    is_od = pipe_of_od(round(found.value * NM_PER_INCH)) is not None
    return pipe_of_size(found.value) is not None, is_od


def wall_as_meant(value: Value, title: str) -> Value:
    """A wall as its header means it: 16 under `Gauge` or `Wall (SWG)`, 40 or S40 under `Sch`."""
    name, shown = plain_name(title), cells.text(value)
    gauge = _gauge(name.split())
    if gauge and shown.isdigit() and (name.startswith("ga") or int(shown) in GAUGES):
        return f"{shown} {gauge}"
    number = shown[1:] if shown[:1] in "sS" else shown
    if name.startswith("sch") and _SCHEDULE.fullmatch(number):
        return f"sch {number}"
    return value


def _gauge(words: list[str]) -> str:
    """The gauge that a header of walls names, empty for none."""
    if "swg" in words:
        return "SWG"
    return "ga" if not _GAUGE.isdisjoint(words) else ""


def wall_beside(value: Value, of_pipe: bool) -> Value:
    """A bare whole number as a wall in inches: a schedule beside a pipe size, else a gauge."""
    shown = cells.text(value)
    if not (shown.isascii() and shown.isdigit()) or isinstance(value, bool):
        return value
    if of_pipe and shown in _SCHEDULE_NUMBERS:
        return f"sch {shown}"
    return f"{shown} ga" if int(shown) in GAUGES and shown[0] != "0" else value
