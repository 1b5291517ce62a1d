"""Which rows of Orders are order lines: no examples, no totals, no notes below the table."""

from __future__ import annotations

import re

from planner_io.workbook import cells
from planner_io.workbook.examples import is_example
from planner_io.workbook.report import Report
from planner_io.workbook.table import Row, Table

NEVER_BLANK = ("material", "grade", "od", "due")
"""Columns of which an order line fills one at least."""
TUBE = frozenset({"material", "grade", "od", "wall", "length"})
"""Columns of which an order line that says what is made fills one at least."""
MOST_NOTES = 2
"""Cells of a row below the table that may hold a note."""

_TOTAL = re.compile(
    r"(?:\S+ +){0,4}[a-z]*-?(?:totals?|sum|summe|gesamt|somme|suma)\b", re.IGNORECASE
)
_NEVER_IN_TOTALS = ("od", "due", "material")
_HEADINGS = frozenset({"order", "customer", "part", "notes"})
_COUNTS = frozenset({"quantity", "open", "done"})
_AMOUNTS = ("quantity", "length", "od", "due")


def order_rows(table: Table, report: Report) -> list[Row]:
    """The rows of a sheet without those that are no order lines, which are told."""
    rows = [row for row in table.rows() if not _passed_over(row, report)]
    return _without_notes(rows, report)


def _passed_over(row: Row, report: Report) -> bool:
    """Whether a row is no order line: the template's example, or a total."""
    if is_example(row):
        report.note("the example row is left out", row.start)
        return True
    if _is_total(row):
        report.note("read as a row of totals and left out", row.start)
        return True
    return False


def is_heading(row: Row) -> bool:
    """Whether a row says one thing only, in words, and that is no part of a tube: a customer's name
    or an order's number above its lines."""
    (key, value), *rest = row.values.items()
    return not rest and isinstance(value, str) and key in _HEADINGS


def _is_total(row: Row) -> bool:
    """Whether a row without tube and due date says so in any cell, or has quantities alone."""
    says = [
        key for key, value in row.values.items() if isinstance(value, str) and _TOTAL.match(value)
    ]
    blank = not {*_NEVER_IN_TOTALS} & row.values.keys() - {*says}
    return blank and (bool(says) or row.values.keys() <= _COUNTS)


def _without_notes(rows: list[Row], report: Report) -> list[Row]:
    """The rows without those below all others that hold words alone, and in one place or two."""
    last = len(rows)
    while last and _is_note(rows[last - 1]):
        last -= 1
    for row in rows[last:]:
        shown = "; ".join(cells.text(value) for value in row.values.values())
        words = "left out as a note below the table; complete the row if it is an order line"
        report.warn(row.start, words, shown[:80])
    return rows[:last]


def _is_note(row: Row) -> bool:
    words = all(isinstance(value, str) for value in row.values.values())
    amounts = [cells.text(row.values[key]) for key in _AMOUNTS if key in row.values]
    return (
        words
        and len(row.values) <= MOST_NOTES
        and not any(amount[:1].isdigit() for amount in amounts)
        and (len(row.values) == 1 or not row.values.keys() & {*NEVER_BLANK})
    )
