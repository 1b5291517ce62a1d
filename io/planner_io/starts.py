"""The first day of a plan, and what in the orders speaks against it."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date, timedelta

from planner.blank_checks import located
from planner.errors import Finding, InputError, Severity
from planner.orders import OrderLine
from planner_io.workbook import Reading

FAR = timedelta(days=3 * 366)
"""Due dates further than this from the start of the plan are mistyped."""


@dataclass(frozen=True)
class Start:
    """The first day of a plan, and who says so."""

    day: date
    because: str


def choose_start(asked: date | None, reading: Reading, today: date) -> Start:
    """The day asked for, else the workbook's, else the next Monday, which may be `today`.

    Raises InputError when order lines are due so far from it that one of the dates is wrong.
    """
    ahead = -today.weekday() % 7
    start = Start(today + timedelta(days=ahead), "next Monday" if ahead else "today")
    if asked is not None:
        start = Start(asked, "as asked for")
    elif reading.start is not None:
        start = Start(reading.start, "as the workbook says")
    far = _too_far(reading, start.day)
    if far:
        raise InputError(far)
    return start


def doubts(reading: Reading, start: date) -> tuple[Finding, ...]:
    """What in a workbook speaks against a plan that begins on `start`."""
    return _too_far(reading, start) or due_before(reading.orders, reading, start)


def due_before(lines: Iterable[OrderLine], reading: Reading, start: date) -> tuple[Finding, ...]:
    """Lines that are late whatever is done; those due before the start with which the workbook was
    read were told then."""
    told = reading.start or date.min
    return tuple(_past(line, start) for line in lines if told <= line.due.date() < start)


def _too_far(reading: Reading, start: date) -> tuple[Finding, ...]:
    far = (line for line in reading.orders if abs(line.due.date() - start) > FAR)
    return tuple(_far(line, start) for line in far)


def _far(line: OrderLine, start: date) -> Finding:
    message = (
        f"Line {line.key} is due on {line.due.date()}, years away from the plan's start on "
        f"{start}: correct its date, or the start."
    )
    return located(line, Severity.ERROR, message)


def _past(line: OrderLine, start: date) -> Finding:
    message = (
        f"Line {line.key} was due on {line.due.date()}, before the plan begins on {start}, so it "
        "is late whatever is done: correct its date if it is mistyped, or begin earlier (--start)."
    )
    return located(line, Severity.WARNING, message)
