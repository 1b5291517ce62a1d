"""When an order line is due, and what speaks against it."""

from __future__ import annotations

from dataclasses import replace
from datetime import date, datetime, timedelta

from planner.hours import DAY_MIN, SHOP, clock, end_of_day, moment, working
from planner.shop import Shop
from planner_io.workbook import cells
from planner_io.workbook.cells import Parsed
from planner_io.workbook.date_order import evidence, half_made, out_of_order
from planner_io.workbook.dates import DateHabit, Moment, far_ahead, read_moment, shown, without_year
from planner_io.workbook.day_times import NOON
from planner_io.workbook.grid import Value
from planner_io.workbook.report import Report
from planner_io.workbook.rows import Habits, RowReader
from planner_io.workbook.table import Row, Table


def with_evidence(house: Habits, table: Table) -> Habits:
    """How the dates are written, by the Due column itself where no setting says so."""
    dates = replace(house.dates, epoch=table.grid.epoch)
    if dates.order is None:
        order, why = evidence(
            (value for row in table.rows() if (value := row.values.get("due"))), dates
        )
        dates = replace(dates, order=order, why=why)
    return Habits(house.unit, dates)


def doubt_order_of_dates(rows: list[Row], habit: DateHabit, report: Report) -> None:
    """Warn of dates with day and month the other way round than the rest of their column."""
    dated = [row for row in rows if "due" in row.values]
    if made := half_made([row.values["due"] for row in dated]):
        first = dated[made[0]]
        report.warn(
            first.place("due"),
            "all dates up to the 12th are dates, and all others are text: the spreadsheet may have "
            "swapped day and month of those that it knew; check them, and write months as words",
            cells.text(first.values["due"]),
        )
    for number in out_of_order([row.values["due"] for row in dated], habit):
        value = dated[number].values["due"]
        report.warn(
            dated[number].place("due"),
            f"read as {shown(read_moment(value, habit).value.day)}, with day and month the other "
            "way round than most dates of the column that are written so; write the month as a "
            "word",
            cells.text(value),
        )


def read_due(reader: RowReader, shop: Shop, start: date | None) -> datetime | None:
    """When a row is due, for a plan from `start` on; None when the cell fails."""

    def parse(value: Value) -> Parsed[Moment | None]:
        found = read_moment(value, reader.house.dates)
        return Parsed(found.value, found.note)

    due = reader.take("due", parse, None)
    if due is None:
        return None
    today = reader.house.dates.today
    if start:
        _doubt_day(reader, due.day, start)
    elif today:
        _doubt_year(reader, due.day, today)
    if due.minute is None:
        return end_of_day(shop, due.day)
    if due.minute < NOON:
        _doubt_early(reader, shop, due.day, due.minute)
    return moment(due.minute, due.day)


def _doubt_day(reader: RowReader, day: date, start: date) -> None:
    place = reader.row.place("due")
    if day < start:
        reader.report.warn(
            place,
            f"due on {day}, before the plan starts on {start}; it can only be late, so "
            "correct the date or agree on another",
            str(day),
        )
    elif (day - start).days > 366:
        reader.report.warn(place, f"due on {day}, more than a year ahead; check the year", str(day))
    else:
        _doubt_year(reader, day, start)


def _doubt_year(reader: RowReader, day: date, near: date) -> None:
    """Warn of a date in numbers without a year that lies months ahead."""
    value = reader.raw("due")
    if without_year(value) and far_ahead(day, near):
        reader.report.warn(
            reader.row.place("due"),
            f"due on {day}, months ahead; write the month as a word, or the year if it is meant so",
            cells.text(value or ""),
        )


def _doubt_early(reader: RowReader, shop: Shop, day: date, minute: int) -> None:
    """Warn of a time before the shop opens, as 4:00 may be meant for the afternoon."""
    at = DAY_MIN + minute
    hours = working(shop, SHOP, day - timedelta(days=1), 2)
    begun = any(piece.start_min <= at and piece.end_min > DAY_MIN for piece in hours)
    opens = next((piece.start_min - DAY_MIN for piece in hours if piece.start_min > at), None)
    if opens is not None and not begun:
        reader.report.warn(
            reader.row.place("due"),
            f"due at {clock(minute)}, before the shop opens at {clock(opens)}, so it has to be "
            f"ready the day before; write {clock(minute)} pm if the afternoon is meant",
            clock(minute),
        )
