"""Build the shop's records from rows: each function knows one sheet."""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from typing import TypeVar

from planner.abrasives import Grade, System
from planner.errors import InputError
from planner.shop import (
    Belt,
    ChangeoverRow,
    HoursKind,
    HoursRow,
    Mounted,
    Person,
    Rail,
    StationKind,
    Tool,
    What,
    Wheels,
)
from planner.units import parse_od
from planner_io.workbook import cells, dates
from planner_io.workbook.cells import Parsed
from planner_io.workbook.grid import Value
from planner_io.workbook.kinds import build, read_fields
from planner_io.workbook.names import find_name, listed, plain_name
from planner_io.workbook.radii import read_radius
from planner_io.workbook.rows import RowReader

T = TypeVar("T")

WEEKDAYS = ("monday", "tuesday", "wednesday", "thursday", "friday", "saturday", "sunday")
_ALL_BUT = re.compile(
    r"(?:all|any|every\w*)(?: stations?)? (?:but|except(?: for)?|apart from) ", re.IGNORECASE
)


@dataclass(frozen=True)
class Names:
    """Names that rows may refer to."""

    stations: Mapping[str, StationKind]
    bases: tuple[str, ...] = ()
    people: tuple[str, ...] = ()


def _named(reader: RowReader, key: str, text: str, names: Iterable[str], what: str) -> str | None:
    """The name that a cell means; reported when there is none."""
    known = {plain_name(name): name for name in names}
    match = find_name(text, known)
    if match is None:
        reader.fail(
            key,
            f"{text} is no {what}; write one of {listed(known.values())}",
            text,
            listed(known.values()),
        )
        return None
    if match.guessed:
        reader.report.note(f"“{text}” read as {match.value}", reader.row.place(key))
    return match.value


def _station(reader: RowReader, fields: dict[str, object], names: Iterable[str]) -> None:
    if isinstance(text := fields.get("station"), str):
        fields["station"] = _named(reader, "station", text, names, "station")


def wheels(reader: RowReader, known: Names) -> list[Wheels]:
    """The wheels of one finisher."""
    fields = read_fields(reader)
    _station(reader, fields, _of_kind(known, StationKind.FINISHER))
    return _one(build(reader, Wheels, fields))


def tool(reader: RowReader, known: Names) -> list[Tool]:
    """One die, cutter or roller."""
    fields = read_fields(reader, without=("clr_nm",))
    _station(reader, fields, known.stations)
    od_nm = fields.get("od_nm")
    radius = read_radius(reader, "clr_nm", od_nm if isinstance(od_nm, int) else 0)
    if reader.raw("clr_nm") is not None:
        fields["clr_nm"] = radius
    elif fields.get("kind") == "die":
        reader.fail("clr_nm", "a die needs its centreline radius; write it here", "", "a CLR")
    return _one(build(reader, Tool, fields))


def belt(reader: RowReader, known: Names) -> list[Belt]:
    """One belt; whether it is non-woven goes by its grade unless the row says so."""
    fields = read_fields(reader)
    grade = fields.get("grade")
    if isinstance(grade, Grade):
        fields.setdefault("non_woven", grade.system == System.NON_WOVEN)
    return _one(build(reader, Belt, fields))


def rail(reader: RowReader, known: Names) -> list[Rail]:
    """One guide rail."""
    return _one(build(reader, Rail, read_fields(reader)))


def person(reader: RowReader, known: Names) -> list[Person]:
    """One person; kinds of stations and `all` stand for the stations that they cover."""
    fields = read_fields(reader)
    raw = reader.raw("stations")
    if raw is not None:
        fields["stations"] = tuple(_runs(reader, cells.text(raw), known))
    return _one(build(reader, Person, fields))


def _runs(reader: RowReader, text: str, known: Names) -> list[str]:
    """The stations that a list names, or all but those."""
    but = _ALL_BUT.match(text)
    named = cells.split_list(text[but.end() :] if but else text, known.stations)
    found = dict.fromkeys(
        name for each in named for name in _covered(reader, each.removeprefix("the "), known)
    )
    if not but:
        return list(found)
    kept = [name for name in known.stations if name not in found]
    reader.tell("stations", text, f"“{text}” read as {', '.join(kept) or 'none'}")
    return kept


def _covered(reader: RowReader, text: str, known: Names) -> list[str]:
    if plain_name(text) in {"all", "any", "every station", "everything"}:
        return list(known.stations)
    exact = {plain_name(name): name for name in known.stations}
    if plain_name(text) in exact:
        return [exact[plain_name(text)]]
    kinds = {plain_name(kind): kind for kind in known.stations.values()}
    if plain_name(text) in kinds:
        return _of_kind(known, kinds[plain_name(text)])
    name = _named(reader, "stations", text, known.stations, "station")
    return [name] if name else []


def _of_kind(known: Names, kind: StationKind) -> list[str]:
    return [name for name, each in known.stations.items() if each == kind]


def hours(reader: RowReader, known: Names) -> list[HoursRow]:
    """The hours of one row: a row for each weekday that it names, or one for a date."""
    fields = read_fields(reader)
    who = str(fields.get("who", "shop"))
    names = ("shop", *known.stations, *known.people)
    fields["who"] = _named(reader, "who", who, names, "station or person") or who
    days = _days(reader, fields.pop("day", None))
    kind = fields.get("kind", HoursKind.WORK)
    if kind != HoursKind.CLOSED and not {"start_min", "end_min"} <= fields.keys():
        missing = "start_min" if "start_min" not in fields else "end_min"
        if not reader.failed:
            reader.fail(missing, "a time of day is missing; write one such as 07:00", "", "07:00")
    rows = [build(reader, HoursRow, {**fields, **day}) for day in days]
    return [row for row in rows if row is not None]


def _days(reader: RowReader, value: object) -> list[dict[str, object]]:
    if not isinstance(value, str):
        return []
    weekdays = weekdays_of(value)
    if weekdays:
        return [{"weekday": day} for day in weekdays]
    raw = reader.raw("day")
    try:
        found = dates.day(raw if raw is not None else value, reader.house.dates)
    except InputError as problem:
        first = problem.findings[0]
        expected = "a weekday, a range such as Mon-Fri, or a date"
        reader.fail("day", f'read "{value}", expected {expected}', first.read, expected)
        return []
    if found.note:
        reader.report.note(found.note, reader.row.place("day"))
    return [{"day": found.value}]


def weekdays_of(text: str) -> list[int]:
    """The weekdays that a text names, 0 for Monday; empty when it names none.

    >>> weekdays_of("Mon-Fri"), weekdays_of("Sat, Sun"), weekdays_of("30 Nov")
    ([0, 1, 2, 3, 4], [5, 6], [])
    """
    words = text.lower().strip()
    groups = {
        "weekdays": range(5),
        "weekday": range(5),
        "daily": range(7),
        "every day": range(7),
        "weekend": range(5, 7),
        "weekends": range(5, 7),
    }
    if words in groups:
        return list(groups[words])
    found: list[int] = []
    for part in re.split(r"\s*[,;/&+]\s*|\s+and\s+", words):
        ends = [_weekday(end) for end in re.split(r"\s*(?:-|–|—|\bto\b)\s*", part)]
        if not ends or len(ends) > 2 or any(end is None for end in ends):
            return []
        first, last = ends[0], ends[-1]
        if first is not None and last is not None:
            span = (last - first) % 7
            found.extend((first + step) % 7 for step in range(span + 1))
    return sorted(set(found))


def _weekday(text: str) -> int | None:
    word = text.strip(" .").removesuffix("s")
    return next(
        (
            number
            for number, name in enumerate(WEEKDAYS)
            if len(word) >= 2 and (name.startswith(word) or word == name[:4])
        ),
        None,
    )


def changeovers(reader: RowReader, known: Names) -> list[ChangeoverRow]:
    """The minutes of one change."""
    fields = read_fields(reader)
    _station(reader, fields, (*StationKind, *known.bases, *known.stations))
    what = fields.get("what")
    for key in ("before", "after"):
        if isinstance(text := fields.get(key), str):
            fields[key] = _state(reader, key, what, text)
    return _one(build(reader, ChangeoverRow, {k: v for k, v in fields.items() if v is not None}))


def mounted(reader: RowReader, known: Names) -> list[Mounted]:
    """One thing that stands on a station when the plan starts."""
    fields = read_fields(reader)
    _station(reader, fields, (*known.bases, *known.stations))
    if isinstance(text := fields.get("value"), str):
        fields["value"] = _state(reader, "value", fields.get("what"), text)
    return _one(build(reader, Mounted, fields))


def _state(reader: RowReader, key: str, what: object, text: str) -> str | None:
    """A mounted value as the plan names it: an OD by its nanometres, a family by its word."""
    if plain_name(text) in {"any", "anything", "any other", "all"}:
        return None
    value: Value = reader.raw(key) or text

    def od(cell: Value) -> Parsed[str]:
        return Parsed(str(parse_od(cell, default=reader.house.unit).nm))

    def family(cell: Value) -> Parsed[str]:
        return Parsed(cells.families(cell).value[0].value)

    if what == What.OD:
        return reader.take(key, od, "") if value else None
    if what == What.FAMILY:
        return reader.take(key, family, "") if value else None
    return text


def _one(item: T | None) -> list[T]:
    return [] if item is None else [item]
