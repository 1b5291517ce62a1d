"""The day that `--start` names, written as people write dates."""

from __future__ import annotations

from datetime import date

import typer

from planner.errors import InputError


def first_day(words: str) -> date:
    """A date without a time that can be read in one way only.

    Raises typer.BadParameter, which names what was read and what would do.
    """
    from planner_io.workbook.dates import DateHabit, moment  # noqa: PLC0415 - help must be quick

    try:
        found = moment(words, DateHabit()).value
    except InputError:
        found = None
    if found is None or found.minute is not None:
        raise typer.BadParameter(
            f'read "{words}", expected a date such as 2026-11-30 or 30 Nov 2026.'
        )
    return found.day
