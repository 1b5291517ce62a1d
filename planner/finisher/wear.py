"""The belts of a plan: which pass wears which, when one is changed, and what to buy."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import replace

from planner.finisher.belts import BeltPass, BeltUse, all_belts, area_m2, life_of
from planner.orders import Step
from planner.records import CutList, HeldWhy, Lot, Operation, Plan
from planner.shop import Belt, RecipeStep, Shop
from planner.times import contact_s, passes


def belts_of(plan: Plan) -> tuple[BeltUse, ...]:
    """What the plan takes of each belt of the shop, its passes in order of time."""
    lives = [life_of(belt) for belt in plan.shop.belts]
    return all_belts(lives, tuple(belt_passes(plan)))


def belt_passes(plan: Plan) -> Iterator[BeltPass]:
    """Every pass of the plan as what it asks of its belt."""
    operations = {operation.key: operation for operation in plan.operations}
    lots = {lot.key: lot for lot in plan.lots}
    cut_lists = {cut_list.lot: cut_list for cut_list in plan.cut_lists}
    belts = {belt.name: belt for belt in plan.shop.belts}
    held = plan.replan.held if plan.replan else ()
    done = {one.operation for one in held if one.why is HeldWhy.DONE}
    for slot in sorted(plan.slots, key=lambda slot: (slot.start_min, slot.end_min)):
        operation = operations[slot.operation]
        if operation.step is Step.FINISH and operation.belt in belts:
            lot = lots[operation.lot]
            lengths = finished_lengths(lot, cut_lists[lot.key])
            step = _step(plan.shop, lot, operation)
            work = _pass(
                plan.shop, slot.station, lot, belts[operation.belt], operation, step, lengths
            )
            yield replace(work, done=operation.key in done)


def finished_lengths(lot: Lot, cut_list: CutList) -> list[int]:
    """Lengths of what a lot sends through the finisher: its sticks, or its blanks where it is
    sawn first; remnants that are finished already stay out."""
    sticks = [stick for stick in cut_list.sticks if not stick.finished]
    if lot.saw_first:
        return [piece.length_nm for stick in sticks for piece in stick.pieces]
    return [stick.length_nm for stick in sticks]


def _step(shop: Shop, lot: Lot, operation: Operation) -> tuple[RecipeStep, bool]:
    """The recipe's step of a pass, and whether finer belts follow it."""
    todo: Mapping[int, RecipeStep] = dict(passes(shop.recipe(lot.recipe or ""), lot.spec.surface))
    step = todo[operation.pass_no]
    last = todo[max(todo)]
    return step, step.grade != last.grade


def _pass(
    shop: Shop,
    station: str,
    lot: Lot,
    belt: Belt,
    operation: Operation,
    step: tuple[RecipeStep, bool],
    lengths_nm: list[int],
) -> BeltPass:
    contact = contact_s(shop, shop.station(station), belt, step[0], lot.spec.od_nm, lengths_nm)
    return BeltPass(
        operation=operation.key,
        belt=belt.name,
        family=lot.spec.family,
        minutes=contact / 60,
        area_m2=area_m2(lot.spec.od_nm, lengths_nm),
        pieces=len(lengths_nm),
        coarse=step[1],
    )
