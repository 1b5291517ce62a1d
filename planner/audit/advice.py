"""Invariant 6, of what is advised: other ways to share lots are of the plan's own lots and lines.

What they would save was told by searches that are not run again; what follows from the plan is
worked out anew.
"""

from __future__ import annotations

from planner.advice import LotsTried, Merger
from planner.audit.facts import Breaches, Facts, breach
from planner.hours import DAY_MIN
from planner.orders import Step


def check_advice(facts: Facts) -> Breaches:
    """All breaches of what is said of lots that could be cut as one, or were tried otherwise."""
    for merger in facts.plan.mergers:
        yield from _merger(facts, merger)
    for tried in facts.plan.lots_tried:
        yield from _tried(facts, tried)


def _merger(facts: Facts, merger: Merger) -> Breaches:
    early, late = facts.lots[merger.early], facts.lots[merger.late]
    who = f"{early.key} and {late.key}"
    if (early.spec, early.recipe, early.saw_first) != (late.spec, late.recipe, late.saw_first):
        yield breach(6, who, "cannot be cut as one: their tube, finish or way differs.")
    days = late.due_min // DAY_MIN - early.due_min // DAY_MIN
    if early.key == late.key or merger.days_apart != days or days < 0:
        yield breach(6, who, f"are said to be due {merger.days_apart} days apart, not {days}.")
    delay = sum(
        operation.alternatives[0].minutes
        for operation in (*facts.of_lot(late.key, Step.FINISH), *facts.of_lot(late.key, Step.SAW))
    )
    if merger.delays_min != delay:
        text = f"one delays the other by {delay} minutes of work, not {merger.delays_min}."
        yield breach(6, who, text)
    apart = sum(facts.cut_lists[lot.key].cost_cents for lot in (early, late))
    if not 0 < merger.saves_cents <= apart:
        yield breach(6, who, f"are said to save {merger.saves_cents} cents of {apart}.")


def _tried(facts: Facts, tried: LotsTried) -> Breaches:
    own = sorted(line for key in set(tried.lots) for line in facts.lots[key].lines)
    instead = sorted(line for lines in tried.instead for line in lines)
    if own != instead:
        who = ", ".join(tried.lots)
        yield breach(6, who, "was not tried otherwise with the same order lines.")
