"""Changeover ledgers of several weeks side by side, as tables."""

from __future__ import annotations

from collections.abc import Sequence

import pandas as pd

from planner.records import Plan
from planner.shop import What
from planner_io.views.accounts import BASELINE

TOTAL = "all"
OTHER = "by due date"
SAVED = "saved"
WORTH = "worth of a minute less"


def minutes_by_week(plans: Sequence[Plan]) -> pd.DataFrame:
    """Changeover minutes: a row for each week, a column for each kind, their total, the same week
    by due date, and what the plan saved against it."""
    table = _by_kind(plans, "minutes")
    table[TOTAL] = table.sum(axis="columns")
    due = [_by_due_date(plan) for plan in plans]
    table[OTHER] = pd.Series(due, index=table.index, dtype="Int64")
    table[SAVED] = table[OTHER] - table[TOTAL]
    return table


def worth_of_a_minute(plans: Sequence[Plan]) -> pd.DataFrame:
    """For each kind of change: how often it is made a week, how long it takes, and what a minute
    less each time is worth a week, in cents of the last week's house. Changes that take no time
    are left out."""
    counts, minutes = _by_kind(plans, "count").sum(), _by_kind(plans, "minutes").sum()
    a_week = counts / max(1, len(plans))
    cents = plans[-1].shop.house.minute_cents if plans else 0
    table = pd.DataFrame(
        {
            "times a week": a_week.round(1),
            "minutes each": (minutes / counts.where(counts > 0)).round(1),
            WORTH: (a_week * cents).round().astype("int64"),
        }
    )
    return table[minutes > 0].sort_values(WORTH, ascending=False, kind="stable")


def _by_kind(plans: Sequence[Plan], field: str) -> pd.DataFrame:
    weeks = [plan.options.start.isoformat() for plan in plans]
    rows = [
        (number, row.what.value, row.minutes if field == "minutes" else row.count)
        for number, plan in enumerate(plans)
        for row in plan.ledger
    ]
    frame = pd.DataFrame(rows, columns=["week", "kind", "value"])
    table = frame.pivot_table(
        index="week", columns="kind", values="value", aggfunc="sum", fill_value=0
    )
    kinds = [what.value for what in What if what.value in table.columns]
    table = table.reindex(index=range(len(plans)), columns=kinds, fill_value=0)
    table.index = pd.Index(weeks, name="week of")
    return table


def _by_due_date(plan: Plan) -> int | None:
    found = [other for other in plan.yardsticks if other.name == BASELINE]
    return found[0].changeover_min if found else None
