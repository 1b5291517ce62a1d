"""Priorities, by word or by how many times a late minute counts."""

from __future__ import annotations

from collections.abc import Mapping

from planner.errors import InputError
from planner.units.reading import refuse
from planner_io.workbook import cells
from planner_io.workbook.cells import Parsed
from planner_io.workbook.grid import Value
from planner_io.workbook.names import find_name, plain_name
from planner_io.workbook.report import Report
from planner_io.workbook.table import Row

PRIORITIES: Mapping[str, int] = {
    plain_name(word): weight
    for weight, words in (
        (1, ("low", "normal", "standard", "usual", "medium", "regular", "no", "n", "false")),
        (1, ("niedrig", "nein", "basse", "normale", "non", "baja", "media")),
        (3, ("high", "hoch", "haute", "alta")),
        (5, ("rush", "urgent", "hot", "asap", "critical", "top", "yes", "y", "x", "true")),
        (5, ("eilig", "eilt", "dringend", "ja", "urgente", "oui", "sí")),
    )
    for word in words
}
"""How many times a late minute counts, by word."""


def doubt_ranks(rows: list[Row], report: Report) -> None:
    """Warn of priorities in numbers from 1 on, as some shops call the most urgent work 1."""
    numbers = [
        (row, cells.text(row.values["priority"])) for row in rows if "priority" in row.values
    ]
    ranks = {text for _, text in numbers if text.isdigit()}
    if "1" in ranks and len(ranks) > 1:
        first = next(row for row, text in numbers if text in ranks)
        most = max(ranks, key=int)
        report.warn(
            first.place("priority"),
            f"numbers are how many times a late minute counts, so {most} goes before 1; if 1 is "
            "the most urgent here, write rush, high, normal and low instead",
        )


def priority(value: Value) -> Parsed[int]:
    """How many times a late minute of the line counts, by word or number."""
    expected = "low, normal, high, rush, or how many times a late minute counts (1 to 100)"
    if cells.is_nothing(value):
        return Parsed(1)
    if isinstance(value, (str, bool)) and (match := find_name(cells.text(value), PRIORITIES)):
        return Parsed(match.value)
    try:
        found = cells.whole(value, 1, 100, expected)
    except InputError as problem:
        raise refuse(cells.text(value), expected) from problem
    note = f"priority {found.value} read as: a late minute counts {found.value} times"
    return Parsed(found.value, note if found.value > 1 else "")
