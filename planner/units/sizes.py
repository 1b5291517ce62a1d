"""Read an OD or a wall: a length, a gauge number, a pipe size and schedule, or OD and wall at once.

>>> parse_od("1-1/4 sch 40").nm, parse_od("1-1/4 sch 40").wall_nm
(42164000, 3556000)
>>> parse_wall("16 ga").note
'16 ga read as BWG 16, .065"'
>>> parse_od("1-1/2 x .065").wall_nm
1651000
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from typing import Final

from planner.errors import InputError
from planner.standard_sizes import (
    BWG_NM,
    SWG_NM,
    Pipe,
    pipe_of_dn,
    pipe_of_od,
    pipe_of_size,
    schedule_name,
)
from planner.units.length import parse_length
from planner.units.numbers import MAX_TEXT, AmbiguousAmountError, amount, plain
from planner.units.reading import NM_PER_INCH, Reading, Unit, or_mm, refuse
from planner.units.show import format_decimal_inch

OD_EXPECTED: Final = 'an outside diameter such as 1-1/2", 38.1 mm or 1-1/4 sch 40'
WALL_EXPECTED: Final = "a wall such as .065, 1.65 mm, 16 ga or sch 40"
MAX_OD_NM: Final = 24 * NM_PER_INCH
MAX_WALL_NM: Final = 3 * NM_PER_INCH // 2

_SCHEDULE: Final = (
    r"(?:s(?:ch(?:edule)?)?[./-]? ?(?P<schedule>[0-9]{1,3}s?|std|xs|xh)"
    r"|(?P<weight>std|xs|xh|(?:5|10|40|80)s))"
)
_PIPE = re.compile(
    rf"(?P<mark>(?:nps|ips) ?)?(?P<size>[0-9 .,/-]+?) ?(?:\"|in\.?|inch)?"
    rf" ?(?P<word>pipe|nominal|nps|ips|nb)?,? ?{_SCHEDULE}?(?P<end> ?pipe)?",
    re.ASCII,
)
_DN = re.compile(
    rf"(?:dn ?(?P<dn>[0-9]{{1,3}})|(?P<bore>[0-9]{{2,3}}) ?(?:mm ?)?nb),? ?{_SCHEDULE}?", re.ASCII
)
"""Nominal bore is said in inches or, from 10 on, in mm."""
_GAUGE = re.compile(
    r"(?:#(?P<sign>[0-9]{1,2})"
    r"|#?(?P<number>[0-9]{1,2}) ?(?P<kind>ga\.?|gauge|gage|g|bwg|swg|awg))( wall)?",
    re.ASCII,
)
_BY_GAUGE = r"#?[0-9]{1,2} ?(?:ga\.?|gauge|gage|g|bwg|swg)"
_TWICE = re.compile(
    rf"(?P<gauge>{_BY_GAUGE}) ?[(/=,]? ?(?P<size>0?\.[0-9]+) ?\"?\)?"
    rf"|(?P<first>0?\.[0-9]+) ?\"? ?[(/=,]? ?(?P<then>{_BY_GAUGE})\)?",
    re.ASCII,
)
"""A wall by its gauge and in inches, one behind the other."""
_MILS = re.compile(r"0[0-9]{2}", re.ASCII)
SCHEDULE_ALONE = re.compile(_SCHEDULE, re.ASCII)
_BOTH = re.compile(r"(?P<od>.+?) ?[x×*] ?(?P<wall>.+)")
_THREE = re.compile(r"(?:\.?[0-9][^x×*]*[x×*] ?){2}\.?[0-9].*", re.ASCII)
_BESIDE = re.compile(
    r"(?P<od>.+?),? (?P<wall>#?[0-9]{1,2} ?(?:ga\.?|gauge|gage|bwg|swg)(?: wall)?"
    r"|0?\.[0-9]+ ?\"? ?(?:wall|wt|w))",
    re.ASCII,
)
"""OD and a wall that says what it is: nothing stands between them."""
_TWO_NUMBERS = re.compile(r"(?P<od>[0-9].*?)\"? (?P<wall>0?\.[0-9]+)\"?", re.ASCII)
_OD_WORDS = re.compile(
    r"^(?:[ø⌀∅]|od\b|dia\.?|rd\b|round\b) ?| ?(?:od|o\.d\.|dia\.?|rd\.?|round|tube)$"
)
_WALL_WORDS = re.compile(r"^wall ?|(?: ?(?:wall|wt|w|aw|avg\.?|rd\.?|round|tube))+$")
_ROUND_SECTION = re.compile(r" ?\b(?:chs|circular hollow section)\b ?")
_SQUARE = re.compile(r"\b(?:sq|square|rect|rectangular|shs|rhs|hss)\b")
_SOLID = re.compile(r"\b(?:bar|rod|solid|flat|angle|plate|channel)\b")


@dataclass(frozen=True)
class OdReading(Reading):
    """An OD in nm; `wall_nm` too when the text named a schedule or a wall, and whether it named a
    pipe size."""

    wall_nm: int | None = None
    pipe: bool = False


def parse_od(value: object, *, default: Unit = "inch") -> OdReading:
    """Read a cell as an outside diameter, or as a pipe size with or without its schedule.

    Raises InputError for what is neither, or is thicker than 24 in.
    """
    if not isinstance(value, str):
        return _plain_od(value, value, default)
    words = _ROUND_SECTION.sub("", plain(value))
    if len(value) > MAX_TEXT:
        raise refuse(value, OD_EXPECTED, "too long")
    if _SQUARE.search(words):
        raise refuse(value, OD_EXPECTED, "only round tube goes through a centreless finisher")
    if _SOLID.search(words):
        raise refuse(
            value, OD_EXPECTED, "that is no tube; take the row out, as only tube is planned"
        )
    alone = _OD_WORDS.sub("", words)
    if pipe := _pipe_od(value, alone):
        return pipe
    if _THREE.fullmatch(words):
        three = "three sizes: round tube has an OD and a wall, and its length has its own column"
        raise refuse(value, OD_EXPECTED, three)
    if match := _BOTH.fullmatch(words):
        shared = _shared_unit(match["wall"], default)
        return _od_and_wall(value, match["od"], match["wall"], shared)
    if match := _BESIDE.fullmatch(words):
        return _od_and_wall(value, match["od"], match["wall"], default)
    if match := _TWO_NUMBERS.fullmatch(words):
        meant = f"{match['od']} x {match['wall']}"
        raise refuse(value, OD_EXPECTED, f"if the second is the wall, write {meant}")
    return _plain_od(value, alone, default)


def _plain_od(value: object, words: object, default: Unit) -> OdReading:
    reading = _length(value, words, default, OD_EXPECTED)
    if reading.nm > MAX_OD_NM:
        raise refuse(value, OD_EXPECTED, f"thicker than 24 in{or_mm(value, default)}")
    return OdReading(reading.nm, reading.literal, reading.note)


def _length(value: object, words: object, default: Unit, expected: str) -> Reading:
    """A length, refused in the words of what the cell should have held."""
    try:
        return parse_length(words, default=default)
    except InputError as problem:
        raise refuse(value, expected, _why(problem)) from problem


def _why(problem: InputError) -> str:
    """What a refusal says in brackets."""
    return problem.findings[0].message.partition('" (')[2].partition("), expected")[0]


def _shared_unit(wall: str, default: Unit) -> Unit:
    """The unit behind `38.1 x 1.65 mm` counts for both numbers."""
    if wall.endswith("mm"):
        return "mm"
    return "inch" if wall.endswith(('"', "in", "inch")) else default


def _od_and_wall(value: str, od: str, wall: str, default: Unit) -> OdReading:
    try:
        thing = parse_od(od, default=default)
        thickness = parse_wall(wall, default=default, od_nm=thing.nm)
    except InputError as problem:
        why = _why(problem) or f"“{problem.findings[0].read}” in it is no size"
        raise refuse(value, OD_EXPECTED, why) from problem
    notes = "; ".join(note for note in (thing.note, thickness.note) if note)
    return OdReading(thing.nm, thing.literal and thickness.literal, notes, thickness.nm)


def _pipe_od(value: str, words: str) -> OdReading | None:
    if match := _DN.fullmatch(words):
        found = pipe_of_dn(int(match["dn"] or match["bore"]))
    elif match := _PIPE.fullmatch(words):
        if not any(match[name] for name in ("mark", "word", "schedule", "weight", "end")):
            return None
        found = _nominal(value, match["size"])
    else:
        return None
    if found is None:
        raise refuse(value, OD_EXPECTED, "no such pipe size from 1/8 to 6")
    schedule = match["schedule"] or match["weight"]
    wall_nm = _scheduled_wall(value, found, schedule) if schedule else None
    note = f"NPS {found.name} pipe read as OD {format_decimal_inch(found.od_nm)}"
    if wall_nm:
        note += f", wall {format_decimal_inch(wall_nm)}"
    return OdReading(found.od_nm, literal=False, note=note, wall_nm=wall_nm, pipe=True)


def _nominal(value: str, size: str) -> Pipe | None:
    try:
        found = amount(size)
    except AmbiguousAmountError as problem:
        raise refuse(value, OD_EXPECTED, str(problem)) from problem
    return pipe_of_size(found.value) if found else None


def _scheduled_wall(value: object, found: Pipe, schedule: str) -> int:
    wall_nm = found.walls_nm.get(schedule_name(schedule))
    if wall_nm is None:
        known = ", ".join(found.walls_nm)
        raise refuse(value, OD_EXPECTED, f"NPS {found.name} has schedules {known}")
    return wall_nm


def parse_wall(value: object, *, default: Unit = "inch", od_nm: int | None = None) -> Reading:
    """Read a cell as a wall thickness: a length, a gauge number, or a schedule of a pipe's OD.

    A gauge number of tube means the Birmingham wire gauge unless it says SWG, and the reading says
    which.  Raises
    InputError for anything else, for a wall over 1-1/2 in, and for one that leaves no bore in
    `od_nm`.
    """
    reading = _wall(value, default, od_nm)
    if reading.nm > MAX_WALL_NM:
        gauge = f"; for a gauge write {value} ga" if _whole(value) else or_mm(value, default)
        raise refuse(value, WALL_EXPECTED, f"too thick{gauge}")
    if od_nm is not None and 2 * reading.nm >= od_nm:
        raise refuse(value, WALL_EXPECTED, "such a wall leaves no bore in the tube")
    return reading


def _whole(value: object) -> bool:
    return str(value).isascii() and str(value).isdigit()


def _wall(value: object, default: Unit, od_nm: int | None) -> Reading:
    if not isinstance(value, str):
        return _length(value, value, default, WALL_EXPECTED)
    if len(value) > MAX_TEXT:
        raise refuse(value, WALL_EXPECTED, "too long")
    words = plain(value)
    alone = _WALL_WORDS.sub("", words)
    if match := _GAUGE.fullmatch(alone):
        return _gauge(value, int(match["sign"] or match["number"]), match["kind"] or "ga")
    if match := _TWICE.fullmatch(words):
        return _said_twice(value, match["gauge"] or match["then"], match["size"] or match["first"])
    if match := SCHEDULE_ALONE.fullmatch(words):
        return _schedule(value, match["schedule"] or match["weight"], od_nm)
    if default == "inch" and _MILS.fullmatch(alone):
        found = _length(value, f".{alone}", default, WALL_EXPECTED)
        return Reading(found.nm, literal=False, note=f"{value} read as .{alone}")
    return _length(value, alone, default, WALL_EXPECTED)


def _said_twice(value: str, gauge: str, size: str) -> Reading:
    """A wall by gauge and in inches, which must agree to the thousandth."""
    found = parse_wall(gauge)
    if abs(found.nm - parse_wall(size).nm) > NM_PER_INCH // 2000:
        raise refuse(value, WALL_EXPECTED, f"{found.note}, not {size}")
    return found


def _gauge(value: str, number: int, kind: str) -> Reading:
    if kind == "awg":
        raise refuse(value, WALL_EXPECTED, "tube gauge is BWG; give this wall in inches or mm")
    name, table = ("SWG", SWG_NM) if kind == "swg" else ("BWG", BWG_NM)
    wall_nm = table.get(number)
    if wall_nm is None:
        raise refuse(value, WALL_EXPECTED, "gauge numbers go from 7 to 24")
    note = f"{value.strip()} read as {name} {number}, {format_decimal_inch(wall_nm)}"
    return Reading(wall_nm, literal=kind in {"bwg", "swg"}, note=note)


def _schedule(value: str, schedule: str, od_nm: int | None) -> Reading:
    found = pipe_of_od(od_nm) if od_nm is not None else None
    if found is None:
        raise refuse(value, WALL_EXPECTED, "a schedule needs a pipe's OD beside it")
    wall_nm = _scheduled_wall(value, found, schedule)
    note = f"schedule {schedule.upper()} of NPS {found.name} is {format_decimal_inch(wall_nm)}"
    return Reading(wall_nm, literal=False, note=note)
