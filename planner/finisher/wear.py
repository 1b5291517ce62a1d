"""The belts of a plan: which pass wears which, when one is changed, and what to buy."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from planner.finisher.belts import BeltPass, BeltUse, all_belts, area_m2, life_of
from planner.held import HeldWhy
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
    """Every pass of the plan as what it asks of its belt, in order of time."""
    operations = {operation.key: operation for operation in plan.operations}
    lots = {lot.key: lot for lot in plan.lots}
    cut_lists = {cut_list.lot: cut_list for cut_list in plan.cut_lists}
    belts = {belt.name: belt for belt in plan.shop.belts}
    held = plan.replan.held if plan.replan else ()
    done = {one.operation for one in held if one.why is HeldWhy.DONE}
    for slot in sorted(plan.slots, key=lambda slot: (slot.start_min, slot.end_min)):
        operation = operations[slot.operation]
        if operation.step is Step.FINISH and operation.belt in belts:
            lot, belt = lots[operation.lot], belts[operation.belt]
            work = _work(plan.shop, slot, operation, lot, cut_lists[lot.key], belt)
            yield replace(work, done=operation.key in done)


def _work(
    shop: Shop, slot: Slot, operation: Operation, lot: Lot, cut_list: CutList, belt: Belt
) -> BeltPass:
    lengths_nm = lengths_to_finish_nm(lot, cut_list)
    step = step_of_pass(shop, lot, operation.pass_no)
    station = shop.station(slot.station)
    return BeltPass(
        operation=operation.key,
        belt=belt.name,
        family=lot.spec.family,
        minutes=contact_s(shop, station, belt, step, lot.spec.od_nm, lengths_nm) / 60,
        area_m2=area_m2(lot.spec.od_nm, lengths_nm),
        pieces=len(lengths_nm),
    )
