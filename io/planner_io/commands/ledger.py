"""`brightrun ledger`: changeovers over the weeks, and what a faster one is worth."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from pathlib import Path

import pandas as pd

from planner.hours import clock, how_late, when
from planner_io.console import say, tell
from planner_io.ledger_trend import (
    COST,
    DIFFERENCE,
    DONE,
    LATE,
    SAVED_COST,
    WORTH,
    cost_by_week,
    minutes_by_week,
    taken_by_week,
    with_differences,
    worth_of_a_minute,
)
from planner_io.ledger_weeks import Week, read_folders, weeks
from planner_io.views.accounts import account
from planner_io.views.headlines import headlines, sentences
from planner_io.views.index import Index
from planner_io.views.ruler import day_of, money
from planner_io.views.sureness import room_words
from planner_io.views.worth import minute_words

GAP = 2
"""Blanks before a heading of several words, so that it is told from the one beside it."""


def ledger(folders: Sequence[Path]) -> None:
    """Print the account of plans already made, in the order of their weeks."""
    found = weeks(read_folders(folders))
    for line in _told(found):
        tell(line)
    last = Index(found[-1].plan)
    say(f"Week of {found[-1].label}")
    for line in sentences(headlines(last, account(last))):
        say(f"  {line}")
    say("")
    house = last.plan.shop.house
    _table("Changeover minutes", with_differences(minutes_by_week(found)), house.currency)
    _table("What they come to", with_differences(cost_by_week(found)), house.currency)
    taken = taken_by_week(found)
    if taken.empty:
        say("What the floor took is not known: no changeover was timed on a tablet.\n")
    else:
        _table("What the floor took, where it was timed on a tablet", taken, house.currency)
    worth = worth_of_a_minute(found)
    mean = f", in the mean of {len(found)} weeks" if len(found) > 1 else ""
    title = f"What a minute less is worth a week, for each kind of change{mean}"
    _table(title, worth, house.currency)
    say(minute_words(house))


def _told(found: Sequence[Week]) -> Iterator[str]:
    """Which plans stand for a week, and what is left out of their comparison."""
    for week in found:
        if week.before:
            names = ", ".join(one.name for one in week.before)
            yield f"{week.label} was planned again, and counts once: {names} is in it."
        if week.plan.replan:
            now = when(Index(week.plan).moment(week.plan.replan.now_min))
            yield f"{week.label}: by due date is from {now} on; before, it is what was done."
        if room := room_words(week.plan):
            yield f"{week.label}: planned with {room}."


def _table(title: str, table: pd.DataFrame, currency: str) -> None:
    say(title)
    more = [label == DIFFERENCE for label in table.index]
    shown = {
        str(name): [
            _cell(str(name), value, currency, signed=is_more or name == DIFFERENCE)
            for value, is_more in zip(column, more, strict=True)
        ]
        for name, column in table.items()
    }
    widths = [GAP + len(name) for name in shown]
    words = pd.DataFrame(shown, index=table.index).to_string(sparsify=False, col_space=widths)
    say(f"{words}\n")


def _cell(name: str, value: float | None, currency: str, *, signed: bool) -> str:
    """An amount in words; a difference with its sign."""
    if value is None or pd.isna(value):
        return "–"
    if name == DONE and not signed:
        return f"day {1 + day_of(round(value))}, {clock(round(value))}"
    sign = "+" if value > 0 else "−" if value < 0 else ""
    return (sign if signed or value < 0 else "") + _amount(name, abs(value), currency)


def _amount(name: str, value: float, currency: str) -> str:
    if name in (COST, SAVED_COST, WORTH):
        return money(round(value), currency)
    if name in (LATE, DONE):
        return how_late(round(value))
    return f"{value:.1f}" if isinstance(value, float) else str(value)
