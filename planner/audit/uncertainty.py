"""Invariant 6, of what is likely: the weeks are drawn again, and ranges follow from spreads."""

from __future__ import annotations

from planner.audit.facts import Breaches, Facts, breach
from planner.confidence import Spread, Spreads, factor_at, likely_minutes
from planner.orders import Step
from planner.risk import with_risk
from planner.uncertainty import LikelyMinutes, Risk, StationSpread

PACE_ROUNDED = 1e-4
"""A pace has four decimals."""
MOST_WEEKS = 100_000
"""More are not drawn again."""


def check_uncertainty(facts: Facts) -> Breaches:
    """All breaches of the likely minutes, and of what the risk rests on."""
    yield from _likely(facts)
    risk = facts.plan.risk
    if risk is None:
        return
    if not 1 <= risk.weeks <= MOST_WEEKS:
        yield breach(6, "risk", f"rests on {risk.weeks} simulated weeks.")
    if risk.seed != facts.plan.options.seed:
        yield breach(6, "risk", f"is drawn with seed {risk.seed}, not that of the options.")
    if [line.line for line in risk.lines] != [done.line for done in facts.plan.done]:
        yield breach(6, "risk", "has other order lines than the plan.")
    yield from _spreads(facts, risk)


def check_risk(facts: Facts) -> Breaches:
    """What the weeks of a plan that holds otherwise do not say when they are drawn again."""
    said = facts.plan.risk
    if said is None:
        return
    spreads = Spreads(stations={each.station: spread_of(each) for each in said.spreads})
    real = with_risk(facts.plan, spreads, said.weeks).risk
    if real is None:
        return
    pairs = [(one.line, one, other) for one, other in zip(said.lines, real.lines, strict=True)]
    for who, one, other in (*pairs, ("risk", said, real)):
        told, right = one.model_dump(exclude={"lines"}), other.model_dump(exclude={"lines"})
        for name, value in told.items():
            if value != right[name]:
                text = f"has a {name} of {value}; the weeks drawn again say {right[name]}."
                yield breach(6, who, text)


def spread_of(each: StationSpread) -> Spread:
    """The spread of a station as a record has it."""
    return Spread(each.run, each.setup, each.run_shared, each.setup_shared)


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
    words = f"is likely to take {one.low_min} to {one.high_min} minutes from {one.runs} runs"
    if abs(one.median_min - median) > 0.5 + 1e-9:
        yield breach(6, one.operation, f"has a median of {one.median_min}, not {median:.1f}.")
    elif not 0 <= one.low_min <= one.median_min <= one.high_min or one.runs < 0:
        yield breach(6, one.operation, f"{words}.")
    elif _is_unlogged(facts):
        right = likely_minutes(one.operation, median, Spread().any_run, 0)
        if one != right:
            told = f"{right.low_min} to {right.high_min} from none is right without a log"
            yield breach(6, one.operation, f"{words}, {told}.")


def _is_unlogged(facts: Facts) -> bool:
    """Whether all stations have the spreads of those that have logged no run."""
    risk = facts.plan.risk
    return risk is not None and all(spread_of(each) == Spread() for each in risk.spreads)


def _spreads(facts: Facts, risk: Risk) -> Breaches:
    if [each.station for each in risk.spreads] != [each.name for each in facts.shop.stations]:
        yield breach(6, "risk", "has other stations than the shop.")
        return
    for each, station in zip(risk.spreads, facts.shop.stations, strict=True):
        spread = spread_of(each)
        if min(spread.run, spread.setup, spread.run_shared, spread.setup_shared) < 0:
            yield breach(6, each.station, "has a spread below zero.")
        pace = factor_at(facts.plan.options.confidence, spread.any_run)
        if abs(station.pace - pace) > PACE_ROUNDED:
            text = f"has a pace of {station.pace}, its spread and the confidence give {pace:.4f}."
            yield breach(6, each.station, text)
