"""Invariant 6, of what is likely: chances are shares, of lines that the plan has, in order."""

from __future__ import annotations

from collections.abc import Sequence
from math import ceil, floor

from planner.audit.facts import Breaches, Facts, breach
from planner.confidence import factor_at
from planner.orders import Step
from planner.records import LineDone
from planner.uncertainty import LikelyMinutes, LineChance, Risk

PACE_ROUNDED = 1e-4
"""A pace has four decimals."""


def check_uncertainty(facts: Facts) -> Breaches:
    """All breaches of the likely minutes and the risk; what was drawn is not drawn again."""
    yield from _likely(facts)
    risk = facts.plan.risk
    if risk is None:
        return
    if risk.weeks < 1:
        yield breach(6, "risk", f"rests on {risk.weeks} simulated weeks.")
        return
    if risk.seed != facts.plan.options.seed:
        yield breach(6, "risk", f"is drawn with seed {risk.seed}, not that of the options.")
    shares = [(line.line, line.chance) for line in risk.lines]
    odd = list(_no_shares(risk.weeks, [*shares, ("all lines", risk.all_on_time)]))
    named = list(_names(facts, risk))
    yield from (*odd, *named)
    yield from _together(risk)
    yield from _order(risk)
    if not odd and not named:
        for line, done in zip(risk.lines, facts.plan.done, strict=True):
            yield from _agrees(facts, line, done, risk.weeks)


def _no_shares(weeks: int, chances: Sequence[tuple[str, float]]) -> Breaches:
    """Chances that are no number of weeks out of all of them."""
    for what, chance in chances:
        if not 0 <= chance <= 1 or abs(chance * weeks - round(chance * weeks)) > weeks * 1e-9:
            text = f"is on time with a chance of {chance}, which is no share of {weeks} weeks."
            yield breach(6, what, text)


def _agrees(facts: Facts, line: LineChance, done: LineDone, weeks: int) -> Breaches:
    """The weeks in which a line is on time are those that are done by its due time, so its
    quantiles lie on the same side of it; of what is done by now all weeks say the same."""
    told = (line.low_min, line.median_min, line.high_min)
    on_time = round(line.chance * weeks)
    for share, minute in zip((0.1, 0.5, 0.9), told, strict=True):
        place = share * (weeks - 1)
        before, after = ceil(place) < on_time, floor(place) >= on_time
        if (before and minute > done.due_min) or (after and minute < done.due_min):
            text = f"is on time in {on_time} of {weeks} weeks, but done by {minute} in {share:.0%}."
            yield breach(6, line.line, text)
    if line.line in facts.ended:
        if set(told) != {done.done_min} or on_time != weeks * (done.done_min <= done.due_min):
            yield breach(6, line.line, "is done by now, and not said to be so in all weeks.")
    elif line.low_min < facts.plan.options.start_min:
        yield breach(6, line.line, "is likely to be done before its work can go on.")


def _together(risk: Risk) -> Breaches:
    """All lines are on time in no more weeks than any of them, and in all weeks but those in which
    one of them is late."""
    chances = [line.chance for line in risk.lines]
    if risk.all_on_time > min(chances, default=1.0):
        yield breach(6, "all lines", "are on time more often than one of them.")
    if risk.all_on_time < 1 - sum(1 - chance for chance in chances) - 1e-9:
        yield breach(6, "all lines", "are late more often than all of them, one by one, added up.")


def _likely(facts: Facts) -> Breaches:
    likely = facts.plan.likely
    open_passes = [
        operation.key
        for operation in facts.plan.operations
        if operation.step is Step.FINISH and operation.key not in facts.past
    ]
    if likely and [one.operation for one in likely] != open_passes:
        yield breach(6, "likely minutes", "are of other operations than the open passes.")
        return
    for one in likely:
        yield from _one_likely(facts, one)


def _one_likely(facts: Facts, one: LikelyMinutes) -> Breaches:
    slot = facts.slots[one.operation]
    median = slot.minutes / facts.stations[slot.station].pace
    if abs(one.median_min - median) > 0.5 + 1e-9:
        yield breach(6, one.operation, f"has a median of {one.median_min}, not {median:.1f}.")
    if not 0 <= one.low_min <= one.median_min <= one.high_min or one.runs < 0:
        words = f"{one.low_min} to {one.high_min} minutes from {one.runs} runs"
        yield breach(6, one.operation, f"is likely to take {words}.")


def _names(facts: Facts, risk: Risk) -> Breaches:
    if [line.line for line in risk.lines] != [done.line for done in facts.plan.done]:
        yield breach(6, "risk", "has other order lines than the plan.")
    if [each.station for each in risk.spreads] != [each.name for each in facts.shop.stations]:
        yield breach(6, "risk", "has other stations than the shop.")
        return
    for each, station in zip(risk.spreads, facts.shop.stations, strict=True):
        if min(each.run, each.setup) < 0:
            yield breach(6, each.station, "has a spread below zero.")
        pace = factor_at(facts.plan.options.confidence, each.run)
        if abs(station.pace - pace) > PACE_ROUNDED:
            text = f"has a pace of {station.pace}, its spread and the confidence give {pace:.4f}."
            yield breach(6, each.station, text)


def _order(risk: Risk) -> Breaches:
    ranges = [(line.line, line.low_min, line.median_min, line.high_min) for line in risk.lines]
    changeovers = (
        risk.changeover_low_min,
        risk.changeover_median_min,
        risk.changeover_high_min,
    )
    for what, low, middle, high in (*ranges, ("changeovers", *changeovers)):
        if not 0 <= low <= middle <= high:
            yield breach(6, what, f"has a likely range of {low}, {middle}, {high} minutes.")
