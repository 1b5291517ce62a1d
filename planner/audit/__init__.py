"""Checks a finished Plan from scratch; nothing is written that fails.

The audit takes no derived figure of the plan on trust, and imports nothing of what made it:
neither the cut-list nor the run-order engine, nor the forming of lots. Each file proves one
of the invariants that docs/plan.md explains to a stranger:

0. `whole`, `listed`: every name means one thing, and every list is in its order.
1. `material`: every piece is cut once, from a stick of its spec that holds it and is there.
2. `order_of_work`, `stations`: coarse to fine, finished before it is cut or bent, and where
   it can be done.
3. `calendar`: nobody and nothing does two things at once, and only within hours.
4. `changeovers`: every changeover has the minutes of the shop's table.
5. `times`: every time is the model's to the minute, and what is late says so.
6. `figures`: costs, floors, ledger and buy list are what the plan itself comes to.
   `other_orders`: the orders of the week that the plan is compared with can be worked, and come to
   what they say.
   `cards`: every run has its set-up card with the numbers that the shop's model gives.
   `uncertainty`: chances are those of the weeks drawn again, ranges those of the spreads.
   `advice`: other ways to share lots are of the plan's own lots and lines.
   `lost`: what the floor lost is of the plan's own lots, and no more than they have.
   `held`: in a week planned again, work that is done, begun or must stay has not moved.
"""

from __future__ import annotations

from collections.abc import Callable
from importlib.metadata import version

from planner.audit.advice import check_advice
from planner.audit.calendar import check_calendar
from planner.audit.cards import check_card_numbers, check_card_places, check_card_words
from planner.audit.changeovers import check_changeovers
from planner.audit.facts import Breaches, Facts, breach
from planner.audit.figures import check_figures
from planner.audit.held import check_held
from planner.audit.listed import check_listed
from planner.audit.lost import check_lost
from planner.audit.material import check_material
from planner.audit.order_of_work import check_order_of_work
from planner.audit.other_orders import check_other_orders
from planner.audit.stations import check_stations
from planner.audit.times import check_times
from planner.audit.uncertainty import check_risk, check_uncertainty
from planner.audit.whole import whole
from planner.errors import AuditError, BrightrunError, Finding, Severity, has_errors
from planner.records import Plan

__all__ = ["assert_plan_valid", "audit"]

CHECKS = (
    check_listed,
    check_material,
    check_order_of_work,
    check_stations,
    check_calendar,
    check_changeovers,
    check_times,
    check_figures,
    check_card_places,
    check_held,
    check_lost,
    check_uncertainty,
    check_advice,
)
AFTER_ALL = (check_other_orders, check_card_numbers, check_risk)
"""Checks of what follows from everything else, for a plan that holds otherwise."""


def audit(plan: Plan) -> tuple[Finding, ...]:
    """Every breach of an invariant in the plan; empty for a plan that holds.

    When names in the plan mean nothing, only that is reported, as nothing else can be checked.
    Where all holds but the words of cards, and another version has made the plan, these are
    warnings behind one that says so: versions word cautions and remarks otherwise.
    """
    broken = tuple(whole(plan))
    if broken:
        return broken
    facts = Facts(plan)
    found = tuple(finding for check in CHECKS for finding in _found(check, facts))
    found = found or tuple(finding for check in AFTER_ALL for finding in _found(check, facts))
    return found or _worded(plan, tuple(_found(check_card_words, facts)))


def _worded(plan: Plan, lacking: tuple[Finding, ...]) -> tuple[Finding, ...]:
    """What cards lack in words; warnings where another version made them."""
    here = version("brightrun")
    if not lacking or plan.version == here:
        return lacking
    text = (
        f"The plan was written by another version, brightrun {plan.version}; {here}, here, has "
        "other words on its cards, and does not prove those: plan the week again, or compare them."
    )
    told = Finding(severity=Severity.WARNING, message=text, subject="set-up cards")
    return told, *(one.model_copy(update={"severity": Severity.WARNING}) for one in lacking)


def _found(check: Callable[[Facts], Breaches], facts: Facts) -> Breaches:
    """What a check finds; a model that refuses the plan's own data is a finding too."""
    try:
        yield from check(facts)
    except (BrightrunError, ArithmeticError) as problem:
        yield breach(0, "plan", f"cannot be worked out again: {problem}")


def assert_plan_valid(plan: Plan) -> None:
    """Raise AuditError with every breach if the plan does not hold."""
    findings = audit(plan)
    if has_errors(findings):
        raise AuditError(findings)
