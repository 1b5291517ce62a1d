"""How the cells of each kind of column are read: one table from kind to parser."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Protocol, TypeVar

from pydantic import BaseModel, ValidationError

from planner.abrasives import parse_grade
from planner.units.reading import refuse
from planner_io.conversions import FEEDS, feed_mm_min
from planner_io.workbook import areas, cells, dates
from planner_io.workbook.cells import Parsed
from planner_io.workbook.columns import Column, Kind
from planner_io.workbook.grid import Value
from planner_io.workbook.names import plain_name
from planner_io.workbook.rows import Habits, RowReader

M = TypeVar("M", bound=BaseModel)

_MOST = 1_000_000


class Parser(Protocol):
    """Reads a value by the unit of its header, the house's habits and its column."""

    def __call__(self, value: Value, unit: str, house: Habits, column: Column) -> Parsed[object]:
        """What the value says; InputError when it cannot be read."""
        ...


def _text(value: Value, unit: str, house: Habits, column: Column) -> Parsed[object]:
    return Parsed(cells.text(value))


def _list(value: Value, unit: str, house: Habits, column: Column) -> Parsed[object]:
    return Parsed(tuple(cells.split_list(cells.text(value))))


def _whole(value: Value, unit: str, house: Habits, column: Column) -> Parsed[object]:
    found = cells.whole(value, 0, _MOST, "a whole number")
    return Parsed(found.value, found.note)


def _decimal(value: Value, unit: str, house: Habits, column: Column) -> Parsed[object]:
    found = cells.decimal(value)
    return Parsed(found.value, found.note)


def _share(value: Value, unit: str, house: Habits, column: Column) -> Parsed[object]:
    found = cells.share(value)
    return Parsed(found.value, found.note)


def _length(value: Value, unit: str, house: Habits, column: Column) -> Parsed[object]:
    zero_ok = column.kind == Kind.ALLOWANCE
    found = cells.length(value, unit, house.unit, zero_ok=zero_ok)
    return Parsed(found.value, found.note)


def _offset(value: Value, unit: str, house: Habits, column: Column) -> Parsed[object]:
    found = cells.offset(value, unit, house.unit)
    return Parsed(found.value, found.note)


def _od(value: Value, unit: str, house: Habits, column: Column) -> Parsed[object]:
    found = cells.od(value, unit, house.unit)
    return Parsed(found.nm, found.note)


def _angle(value: Value, unit: str, house: Habits, column: Column) -> Parsed[object]:
    return Parsed(cells.angle(value).value)


def _seconds(value: Value, unit: str, house: Habits, column: Column) -> Parsed[object]:
    return Parsed(cells.seconds(value, unit or "s").value)


def _minutes(value: Value, unit: str, house: Habits, column: Column) -> Parsed[object]:
    if unit in areas.CM2:
        raise refuse(cells.text(value), "minutes; an area stands in a column of its own")
    return Parsed(cells.minutes(value, unit).value)


def _money(value: Value, unit: str, house: Habits, column: Column) -> Parsed[object]:
    found = cells.cents(value)
    return Parsed(found.value, found.note)


def _date(value: Value, unit: str, house: Habits, column: Column) -> Parsed[object]:
    found = dates.day(value, house.dates)
    return Parsed(found.value, found.note)


def _clock(value: Value, unit: str, house: Habits, column: Column) -> Parsed[object]:
    return Parsed(cells.clock(value).value)


def _yes_no(value: Value, unit: str, house: Habits, column: Column) -> Parsed[object]:
    return Parsed(cells.yes_no(value).value)


def _choice(value: Value, unit: str, house: Habits, column: Column) -> Parsed[object]:
    found = choice_of(value, column)
    return Parsed(found.value, found.note)


def choice_of(value: Value, column: Column) -> Parsed[str]:
    """The choice of a column that a cell means; InputError when it is none."""
    known = {plain_name(word): word for word in column.choices}
    meant = {plain_name(word): to for to, words in column.meant for word in words.split(",")}
    if (word := plain_name(cells.text(value))) in meant.keys() - known.keys():
        return Parsed(meant[word], f"“{cells.text(value)}” read as {meant[word]}")
    return cells.choice(value, known, column.choices)


def _grade(value: Value, unit: str, house: Habits, column: Column) -> Parsed[object]:
    found = parse_grade(value)
    return Parsed(found.grade, found.note)


def _families(value: Value, unit: str, house: Habits, column: Column) -> Parsed[object]:
    found = cells.families(value)
    return Parsed(found.value, found.note)


def _feed(value: Value, unit: str, house: Habits, column: Column) -> Parsed[object]:
    """A feed in whole millimetres a minute; without a unit it is in those."""
    shown = cells.text(value).lower()
    for words in (" per minute", " per min", " a minute"):
        shown = shown.replace(words, "/min")
    number = shown.rstrip("abcdefghijklmnopqrstuvwxyz/ ")
    named = shown[len(number) :].strip() or "mm/min"
    if named not in FEEDS:
        raise refuse(cells.text(value), f"a feed such as 10 ft/min, in {', '.join(FEEDS)}")
    speed = cells.decimal(number or value, "a feed such as 10 ft/min or 3000 mm/min")
    return Parsed(round(feed_mm_min(speed.value, named)), speed.note)


def _area(value: Value, unit: str, house: Habits, column: Column) -> Parsed[object]:
    found = areas.area(value, unit, house.unit)
    return Parsed(found.value, found.note)


def _factors(value: Value, unit: str, house: Habits, column: Column) -> Parsed[object]:
    return Parsed(areas.factors(value).value)


PARSERS: Mapping[Kind, Parser] = {
    Kind.TEXT: _text,
    Kind.LIST: _list,
    Kind.WHOLE: _whole,
    Kind.DECIMAL: _decimal,
    Kind.SHARE: _share,
    Kind.LENGTH: _length,
    Kind.ALLOWANCE: _length,
    Kind.OFFSET: _offset,
    Kind.OD: _od,
    Kind.ANGLE: _angle,
    Kind.SECONDS: _seconds,
    Kind.MINUTES: _minutes,
    Kind.MONEY: _money,
    Kind.DATE: _date,
    Kind.CLOCK: _clock,
    Kind.YES_NO: _yes_no,
    Kind.CHOICE: _choice,
    Kind.GRADE: _grade,
    Kind.FAMILIES: _families,
    Kind.FEED: _feed,
    Kind.AREA: _area,
    Kind.FACTORS: _factors,
}


def read_fields(reader: RowReader, *, without: tuple[str, ...] = ()) -> dict[str, object]:
    """Every filled cell of a row by the field that its column fills; failures are reported.

    Columns `without` are left to the caller.
    """
    fields: dict[str, object] = {}
    for column in reader.row.table.spec.columns:
        if column.key in without:
            continue
        value = reader.raw(column.key)
        if value is not None or column.required:
            fields[column.key] = read_field(reader, column)
    return {key: value for key, value in fields.items() if value is not None}


def read_field(reader: RowReader, column: Column) -> object:
    """One cell as its column's kind; None when it is blank or fails."""

    def parse(value: Value) -> Parsed[object]:
        return PARSERS[column.kind](value, reader.unit(column.key), reader.house, column)

    return reader.take(column.key, parse, None)


def build(reader: RowReader, model: type[M], fields: Mapping[str, object]) -> M | None:
    """The model of a row's fields; what the model refuses is reported at its cell."""
    if reader.failed:
        return None
    try:
        return model.model_validate(dict(fields))
    except ValidationError as problem:
        known = {column.key for column in reader.row.table.spec.columns}
        for error in problem.errors():
            key = str(error["loc"][0]) if error["loc"] else ""
            at = key if key in known else reader.row.table.spec.columns[0].key
            reader.fail(
                at,
                f"{cells.text(reader.raw(at) or '')} cannot be: {error['msg'].lower()}",
                reader.raw(at),
            )
        return None
