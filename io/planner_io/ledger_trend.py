"""Changeover ledgers of several weeks side by side, as tables."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from itertools import pairwise

import pandas as pd

from planner.records import Plan
from planner.shop import What
from planner.yardsticks import BY_DUE_DATE
from planner_io.ledger_weeks import Week
from planner_io.views.worth import worth

WEEK = "week of"
TOTAL, CHANGES = "together", "changes"
MINUTES, COST, OTHER = "minutes", "cost", BY_DUE_DATE
SAVED, SAVED_COST = "saved", "saved cost"
LATE_LINES, LATE, DONE = "lines late", "late, all lines", "all done"
TIMED, OF, PLANNED, TOOK = "timed", "of", "planned", "took"
TIMES, EACH, WORTH = "times a week", "minutes each", "worth of a minute less"
DIFFERENCE = "difference"


def minutes_by_week(weeks: Sequence[Week]) -> pd.DataFrame:
    """Changeover minutes: a row for each week, a column for each kind, their total, and how many
    changes those are."""
    plans = [week.plan for week in weeks]
    kinds = [what for what in What if any(row.what is what for p in plans for row in p.ledger)]
    rows = [
        [sum(row.minutes for row in plan.ledger if row.what is what) for what in kinds]
        for plan in plans
    ]
    table = pd.DataFrame(rows, index=_labels(weeks), columns=[what.value for what in kinds])
    table[TOTAL] = table.sum(axis="columns")
    table[CHANGES] = [sum(row.count for row in plan.ledger) for plan in plans]
    return table.astype("Int64")


def cost_by_week(weeks: Sequence[Week]) -> pd.DataFrame:
    """What changeovers came to, a row for each week: minutes and cents, minutes of the same week by
    due date, what the plan saved against it, what was late, and the minute of the week in which the
    last line is done. A minute counts as in the last week's house."""
    plans = [week.plan for week in weeks]
    table = pd.DataFrame(index=_labels(weeks))
    table[MINUTES] = [sum(row.minutes for row in plan.ledger) for plan in plans]
    table[COST] = table[MINUTES] * minute_cents(weeks)
    table[OTHER] = pd.Series([_by_due_date(p) for p in plans], index=table.index, dtype="Int64")
    table[SAVED] = table[OTHER] - table[MINUTES]
    table[SAVED_COST] = table[SAVED] * minute_cents(weeks)
    table[LATE_LINES] = [len(plan.late) for plan in plans]
    table[LATE] = [sum(row.late_min for row in plan.late) for plan in plans]
    table[DONE] = [max((row.done_min for row in plan.done), default=0) for plan in plans]
    return table.astype("Int64")


def with_differences(table: pd.DataFrame) -> pd.DataFrame:
    """The table with a row after each week but the first: what it has more than the week before."""
    rows = [table.iloc[:1]]
    for before, after in pairwise(range(len(table))):
        more = (table.iloc[after] - table.iloc[before]).to_frame(DIFFERENCE).T
        rows += [table.iloc[[after]], more]
    return pd.concat(rows).rename_axis(WEEK)


def taken_by_week(weeks: Sequence[Week]) -> pd.DataFrame:
    """What the floor took: by week and station how many changeovers were timed on tablets, of how
    many, their minutes as planned, what they took, and the difference."""
    rows: list[tuple[str, str, int, int, int, int, int]] = []
    for week in weeks:
        made = Counter(slot.station for slot in week.plan.slots if slot.setup_min)
        for station in [station.name for station in week.plan.shop.stations]:
            timed = [one for one in week.timed if one.station == station]
            if timed:
                planned = sum(one.planned_min for one in timed)
                took = sum(one.took_min for one in timed)
                counts = len(timed), made[station]
                rows.append((week.label, station, *counts, planned, took, took - planned))
    columns = [WEEK, "station", TIMED, OF, PLANNED, TOOK, DIFFERENCE]
    return pd.DataFrame(rows, columns=columns).set_index([WEEK, "station"])


def worth_of_a_minute(weeks: Sequence[Week]) -> pd.DataFrame:
    """For each kind of change at each station: how often it takes time in a week, how long it
    takes, and what a minute less each time is worth a week, in cents of the last week's house."""
    found = worth([week.plan for week in weeks], minute_cents(weeks))
    rows = [(row.station, row.what.value, row.times, row.each, row.cents) for row in found]
    columns = ["station", "change", TIMES, EACH, WORTH]
    return pd.DataFrame(rows, columns=columns).set_index(["station", "change"])


def minute_cents(weeks: Sequence[Week]) -> int:
    """What a minute counts, by the last week's house."""
    return weeks[-1].plan.shop.house.minute_cents if weeks else 0


def _labels(weeks: Sequence[Week]) -> pd.Index[str]:
    return pd.Index([week.label for week in weeks], name=WEEK)


def _by_due_date(plan: Plan) -> int | None:
    found = [other for other in plan.yardsticks if other.name == BY_DUE_DATE]
    return found[0].changeover_min if found else None
