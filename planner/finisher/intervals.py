"""How long each pass of a plan is likely to take, and how many logged runs that rests on."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from planner.confidence import Spreads, likely_minutes
from planner.finisher.calibration import Calibration, Duration, calibrate
from planner.finisher.learned import Lesson
from planner.finisher.observations import work_of
from planner.orders import Step
from planner.records import Operation, Plan, Slot
from planner.shop import Shop
from planner.sticks import lengths_to_finish_nm
from planner.times import feed_setting, step_of_pass
from planner.uncertainty import LikelyMinutes


@dataclass(frozen=True)
class Known:
    """What is known of how long a shop's work takes."""

    shop: Shop
    """As its sheets describe it, before anything was learned."""
    calibration: Calibration
    spreads: Spreads


def nothing_logged(shop: Shop) -> Known:
    """What is known of a shop that has logged no run."""
    return Known(shop, calibrate(()), Spreads())


def known_from(shop: Shop, lesson: Lesson) -> Known:
    """What a log has taught about the shop that its sheets describe."""
    return Known(shop, lesson.calibration, lesson.spreads)


def with_likely(plan: Plan, known: Known) -> Plan:
    """The plan with the likely minutes of each pass that has not begun."""
    return plan.model_copy(update={"likely": tuple(_likely(plan, known))})


def _likely(plan: Plan, known: Known) -> Iterator[LikelyMinutes]:
    slots = {slot.operation: slot for slot in plan.slots}
    past = plan.replan.past if plan.replan else frozenset[str]()
    for operation in plan.operations:
        if operation.step is Step.FINISH and operation.key not in past:
            slot = slots[operation.key]
            told = _told(plan, known, operation, slot)
            spread = told.spread if told else known.spreads.of(slot.station).any_run
            median = slot.minutes / plan.shop.station(slot.station).pace
            yield likely_minutes(operation.key, median, spread, told.runs if told else 0)


def _told(plan: Plan, known: Known, operation: Operation, slot: Slot) -> Duration | None:
    """What a log says of a pass; only its spread is taken, as the plan's own minutes have the
    share of the worn belt in them. Lengths are taken at their mean, which leaves the travel as it
    is. None without a log, whose passes spread as the simulated weeks take them to."""
    if not known.calibration.runs:
        return None
    lot = next(lot for lot in plan.lots if lot.key == operation.lot)
    cut_list = next(each for each in plan.cut_lists if each.lot == lot.key)
    lengths = lengths_to_finish_nm(lot, cut_list)
    station = plan.shop.station(slot.station)
    belt = next(belt for belt in plan.shop.belts if belt.name == operation.belt)
    step = step_of_pass(plan.shop, lot, operation.pass_no)
    feed = feed_setting(plan.shop, station, belt, step, lot.spec.od_nm)
    work = work_of(
        known.shop,
        known.shop.station(slot.station),
        belt,
        lot.spec.family,
        lot.spec.od_nm,
        sum(lengths) // len(lengths),
        len(lengths),
        abs(feed.tilt_mdeg),
    )
    return known.calibration.predict(work)
