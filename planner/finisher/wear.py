"""The belts of a plan: which pass wears which, when one is changed, and what to buy."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from fractions import Fraction
from math import ceil

from planner.finisher.belts import BeltPass, BeltUse, all_belts, area_m2, life_of
from planner.held import HeldWhy, Paused
from planner.orders import Step
from planner.records import CutList, Lot, Operation, Plan, Slot
from planner.shop import Belt, Shop
from planner.sticks import lengths_to_finish_nm
from planner.times import contact_s, step_of_pass


def belts_of(plan: Plan) -> tuple[BeltUse, ...]:
    """What the plan takes of each belt of the shop, its passes in order of time."""
    lives = [life_of(belt) for belt in plan.shop.belts]
    return all_belts(lives, tuple(belt_passes(plan)))


def belt_passes(plan: Plan) -> Iterator[BeltPass]:
    """Every pass of the plan as what it asks of its belt, in order of time; one that gave way, part
    by part."""
    operations = {operation.key: operation for operation in plan.operations}
    lots = {lot.key: lot for lot in plan.lots}
    cut_lists = {cut_list.lot: cut_list for cut_list in plan.cut_lists}
    belts = {belt.name: belt for belt in plan.shop.belts}
    held = plan.replan.held if plan.replan else ()
    done = {one.operation for one in held if one.why is HeldWhy.DONE}
    parts = plan.replan.parts if plan.replan else ()
    left: dict[str, Fraction] = {}
    worked: list[Slot | Paused] = [*plan.slots, *parts]
    for one in sorted(worked, key=lambda one: (one.start_min, one.end_min)):
        operation = operations[one.operation]
        if operation.step is Step.FINISH and operation.belt in belts:
            lot, belt = lots[operation.lot], belts[operation.belt]
            work = _work(plan.shop, one.station, operation, lot, cut_lists[lot.key], belt)
            before, after = left.get(operation.key, Fraction(1)), Fraction(0)
            if isinstance(one, Paused):
                after = left[operation.key] = Fraction(one.left, one.of)
            is_done = isinstance(one, Paused) or operation.key in done
            yield replace(_part(work, before, after), done=is_done)


def _part(work: BeltPass, before: Fraction, after: Fraction) -> BeltPass:
    """What is done of a pass while what is left of it goes from one share of it to another."""
    to_do, to_come = ceil(work.pieces * before), ceil(work.pieces * after)
    return replace(
        work,
        minutes=work.minutes * float(before - after),
        area_m2=work.area_m2 * float(before - after),
        pieces=max(1, to_do - to_come),
        before=work.pieces - to_do,
    )


def _work(
    shop: Shop, name: str, operation: Operation, lot: Lot, cut_list: CutList, belt: Belt
) -> BeltPass:
    lengths_nm = lengths_to_finish_nm(lot, cut_list)
    step = step_of_pass(shop, lot, operation.pass_no)
    station = shop.station(name)
    return BeltPass(
        operation=operation.key,
        belt=belt.name,
        family=lot.spec.family,
        minutes=contact_s(shop, station, belt, step, lot.spec.od_nm, lengths_nm) / 60,
        area_m2=area_m2(lot.spec.od_nm, lengths_nm),
        pieces=len(lengths_nm),
    )
