"""Order lists of one sheet a day: which sheets they are, and the day as Due where no column is."""

from __future__ import annotations

import contextlib
import datetime as dt
from collections.abc import Iterable, Sequence
from dataclasses import replace

from planner.errors import InputError
from planner_io.workbook.dates import DateHabit, day, shown
from planner_io.workbook.find import fits, has_needed
from planner_io.workbook.grid import Grid
from planner_io.workbook.orders_sheet import ORDERS
from planner_io.workbook.report import Place, Report
from planner_io.workbook.table import Table

_ANY_START = dt.date(2026, 1, 5)
"""By which it is told whether a name is a day at all."""
_LEAST_COLUMNS = 3
_LEAST = 2
"""Sheets that are a list of days; one alone may be called so by chance."""


def day_sheets(grids: Iterable[Grid]) -> Sequence[Grid]:
    """The visible sheets that are called by a day and have the columns of order lines, but for Due,
    which the name tells; none unless they are several. Where they are, those count that have a few
    of the columns, too, and are told what they lack."""
    named = [
        grid for grid in grids if grid.visible and _day(grid.name, DateHabit(start=_ANY_START))
    ]
    whole = [grid for grid in named if has_needed(grid, ORDERS, but=frozenset({"due"}))]
    if len(whole) < _LEAST:
        return []
    return [grid for grid in named if grid in whole or fits(grid, ORDERS) >= _LEAST_COLUMNS]


def _day(name: str, habit: DateHabit) -> dt.date | None:
    with contextlib.suppress(InputError):  # its name is no day, so it is a sheet of another kind
        return day(name, habit).value
    return None


def with_day(table: Table, habit: DateHabit, report: Report) -> Table | None:
    """The table with the day of its sheet as Due, where no column is; None, and an error, where it
    is a weekday and nothing tells the week."""
    name = table.grid.name
    if "due" in table.headers or not _day(name, DateHabit(start=_ANY_START)):
        return table
    due = _day(name, habit)
    if due is None:
        report.error(
            Place(name, f"A{table.header_row}"),
            f"there is no column Due, and {name} may be of any week; add one, or give --start, or "
            "Plan starts in Settings",
            name,
            "a column Due",
        )
        return None
    report.note(f"no column Due: due on {shown(due)}, as the sheet is called", Place(name))
    return replace(table, given={**table.given, "due": due})
