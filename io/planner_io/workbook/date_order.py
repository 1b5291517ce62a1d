"""Which number is the day in the dates of a column, by what its other dates say."""

from __future__ import annotations

import datetime as dt
import re
from collections.abc import Iterable, Sequence

from planner.errors import InputError
from planner_io.workbook.dates import DateHabit, Order, only_order, read_moment, two_numbers
from planner_io.workbook.grid import Value

CLOSE_DAYS = 60
"""Dates of one column that lie this close together speak for the order that makes them so."""
LEAST_MADE = 2
"""Dates and texts from which on that is no chance."""
LAST_MONTH = 12
_OTHERS = "as other dates of the column"
_MARK = re.compile(r"[0-9]([-/.])[0-9]")


def out_of_order(values: Sequence[Value], habit: DateHabit) -> list[int]:
    """Which values have the day and the month the other way round than most that are written with
    the same mark between them: 12.04.2026 among 04.12.2026, each read as it lies near the plan."""
    found: dict[str, dict[Order, list[int]]] = {}
    for number, value in enumerate(values):
        if (mark := _mark(value)) and (order := _order(value, habit)):
            found.setdefault(mark, {}).setdefault(order, []).append(number)
    mixed = (list(orders.values()) for orders in found.values() if len(orders) > 1)
    return sorted(number for orders in mixed for number in min(reversed(orders), key=len))


def half_made(values: Sequence[Value]) -> list[int]:
    """Which values are dates that a spreadsheet may have made of text with day and month swapped:
    all of them up to the 12th, where it left as text those that have no such month."""
    made = [n for n, value in enumerate(values) if isinstance(value, dt.date)]
    left = [pair for value in values if (pair := two_numbers(value))]
    swapped = all(only_order(first, second) for first, second, _ in left)
    early = all(isinstance(v := values[n], dt.date) and v.day <= LAST_MONTH for n in made)
    several = min(len(made), len(left)) >= LEAST_MADE
    return made if several and swapped and early else []


def _mark(value: Value) -> str:
    match = _MARK.search(value) if isinstance(value, str) else None
    return match[1] if match else ""


def _order(value: Value, habit: DateHabit) -> Order | None:
    pair = two_numbers(value)
    if pair is None or pair[0] == pair[1]:
        return None
    try:
        day = read_moment(value, habit).value.day
    except InputError:
        return None  # of which its row is told
    return Order.DAY_FIRST if (day.day, day.month) == pair[:2] else Order.MONTH_FIRST


def evidence(values: Iterable[Value], habit: DateHabit | None = None) -> tuple[Order | None, str]:
    """The order in which the dates of a column are written, and why; None when nothing tells.

    A date that can be read only one way decides, unless another contradicts it, or more of them
    would then lie far from the plan and near it the other way round. Otherwise the order that
    puts several dates close together does, if the other one does not; then that of the dates which
    their weekday or, by what is known from the `habit`, their nearness decides, where all are
    written with one mark.
    """
    values = list(values)
    pairs = [pair for value in values if (pair := two_numbers(value))]
    only = {order for first, second, _ in pairs if (order := only_order(first, second))}
    if only:
        order = only.pop() if len(only) == 1 else None
        return (None if _speak_against(order, values, habit) else order), _OTHERS
    spans = {order: _span(pairs, order) for order in Order}
    close = [order for order, span in spans.items() if span is not None and span <= CLOSE_DAYS]
    if len(close) == 1 and len(set(pairs)) > 1:
        return close[0], "the dates of the column then lie close together"
    marks = {mark for value in values if (mark := _mark(value))}
    if len(marks) > 1 or len(set(pairs)) <= 1:
        return None, ""  # each kind may be written by another hand; one date decides for itself
    decided = {order for value in values if (order := _order(value, habit or DateHabit()))}
    return (decided.pop(), _OTHERS) if len(decided) == 1 else (None, "")


def _speak_against(order: Order | None, values: list[Value], habit: DateHabit | None) -> bool:
    """Whether most dates of a column, each read as it lies near the plan, have another order."""
    said = [found for value in values if (found := _order(value, habit or DateHabit()))]
    return 2 * sum(found is order for found in said) < len(said)


def _span(pairs: list[tuple[int, int, str]], order: Order) -> int | None:
    """Days from the first to the last of the dates; None unless all of them exist. What is written
    without a year is in the first of the years that are."""
    found: list[dt.date] = []
    usual = min((int(year) % 100 for _, _, year in pairs if year), default=1)
    for first, second, year in pairs:
        month, number = (first, second) if order == Order.MONTH_FIRST else (second, first)
        full = (int(year) % 100 if year else usual) + 2000
        try:
            found.append(dt.date(full, month, number))
        except ValueError:
            return None
    return (max(found) - min(found)).days if found else None
