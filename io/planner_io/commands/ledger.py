"""`brightrun ledger`: changeovers over the weeks, and what a faster one is worth."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from pathlib import Path

from planner_io.console import say, tell
from planner_io.ledger_trend import WORTH, minutes_by_week, worth_of_a_minute
from planner_io.plan_file import read_plan
from planner_io.views.ruler import money


def ledger(folders: Sequence[Path]) -> None:
    """Print the account of plans already made, in the order of their weeks."""
    plans = sorted((read_plan(folder) for folder in folders), key=lambda plan: plan.options.start)
    for week, count in Counter(plan.options.start for plan in plans).items():
        if count > 1:
            tell(
                f"{count} of the plans begin on {week}, and each counts as a week of its own: give "
                "the last one of a week that was planned again."
            )
    say("Changeover minutes")
    minutes = minutes_by_week(plans)
    say(minutes.astype(object).where(minutes.notna(), "–").to_string())
    say()
    say("What a minute less is worth a week, for each kind of change")
    worth = worth_of_a_minute(plans)
    currency = plans[-1].shop.house.currency
    amounts = [money(cents, currency) for cents in worth[WORTH].tolist()]
    say(worth.assign(**{WORTH: amounts}).to_string())
    say()
    say(f"A minute counts {money(plans[-1].shop.house.minute_cents, currency)}, as Settings say.")
