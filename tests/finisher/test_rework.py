"""A lot that goes back one grade: the rest of the week planned again around what was done."""

import pytest

from planner.audit import audit
from planner.errors import InputError
from planner.finisher.rework import send_back
from planner.held import Replan
from planner.orders import Step
from planner.plan import make_plan
from planner.records import Plan
from planner.replan import replan
from planner.scrap import Scrap
from tests.week import a_week_shop, options, some_orders, some_stock


def an_issued_plan() -> Plan:
    return make_plan(some_orders(), some_stock(), a_week_shop(), options(seconds=0.5))


def moment_between(plan: Plan, lot: str) -> int:
    """A minute at which the lot's finishing is done and its sawing has not begun."""
    of_lot = {o.key: o for o in plan.operations if o.lot == lot}
    slots = [slot for slot in plan.slots if slot.operation in of_lot]
    done = max(s.end_min for s in slots if of_lot[s.operation].step is Step.FINISH)
    sawn = min(s.start_min for s in slots if of_lot[s.operation].step is not Step.FINISH)
    assert done <= sawn
    return done


def first_lot(plan: Plan) -> str:
    operations = {o.key: o for o in plan.operations}
    first = min(
        (s for s in plan.slots if operations[s.operation].step is Step.FINISH),
        key=lambda s: s.start_min,
    )
    return operations[first.operation].lot


def test_the_rest_of_the_week_is_planned_again_with_the_lots_extra_passes() -> None:
    issued = an_issued_plan()
    lot = first_lot(issued)
    now = moment_between(issued, lot)
    back = send_back(issued, some_orders(), a_week_shop(), {lot: None}, now)
    wish = options(seconds=0.5, start_min=now)
    plan = replan(back.issued, back.orders, some_stock(), back.shop, wish, back.progress)
    assert audit(plan) == ()
    before, after = (
        sorted(o.key for o in each.operations if o.lot == lot and o.step is Step.FINISH)
        for each in (issued, plan)
    )
    assert set(before) < set(after)
    slots = {slot.operation: slot for slot in plan.slots}
    extra = [slots[key] for key in after if key not in before]
    assert all(slot.start_min >= now for slot in extra)
    sawn = next(o.key for o in plan.operations if o.lot == lot and o.step is Step.SAW)
    assert slots[sawn].start_min >= max(slot.end_min for slot in extra)
    assert {line.key for line in plan.orders} == {line.key for line in issued.orders}


def test_a_pass_beyond_the_one_from_which_a_lot_goes_back_is_another_pass_now() -> None:
    """It has not begun, though the plan expected it, and what was lost there is lost in the lot."""
    issued = an_issued_plan()
    passes = {o.key: o for o in issued.operations if o.step is Step.FINISH}
    lot = next(
        each
        for each in issued.lots
        if not each.saw_first and any(o.lot == each.key and o.passes > 1 for o in passes.values())
        if len({o.grade for o in passes.values() if o.lot == each.key}) > 1
    )
    of_lot = [o for o in passes.values() if o.lot == lot.key]
    first = [o.key for o in of_lot if o.grade == of_lot[0].grade]
    last = of_lot[-1]
    now = next(s.end_min for s in issued.slots if s.operation == last.key)
    lost = [
        Scrap(operation=key, line=lot.lines[0], stick=f"{lot.key}-0{n}", pieces=1)
        for n, key in enumerate((first[0], last.key), start=1)
    ]
    known = Replan(now_min=0, held=(), issued=(), moved=(), scrap=tuple(lost))
    issued = issued.model_copy(update={"replan": known})
    back = send_back(issued, some_orders(), a_week_shop(), {lot.key: 1}, now)
    assert [one.operation for one in map(back.lost, lost)] == [first[0], lot.key]
    assert [one.operation for one in back.issued.scrap] == [first[0], lot.key]
    pieces = Scrap(operation=last.key, line=lot.lines[0], pieces=1)
    renamed = Scrap(operation=lot.key, line=lot.lines[0], pieces=1, told_at=last.key)
    assert back.lost(pieces) == renamed
    wish = options(seconds=0.5, start_min=now)
    plan = replan(back.issued, back.orders, some_stock(), back.shop, wish, back.progress)
    slots = {slot.operation: slot for slot in plan.slots}
    assert all(slots[key].end_min <= now for key in first)
    assert slots[last.key].start_min >= now


def test_other_lots_keep_their_recipe() -> None:
    issued = an_issued_plan()
    lot = first_lot(issued)
    now = moment_between(issued, lot)
    back = send_back(issued, some_orders(), a_week_shop(), {lot: None}, now)
    changed = {
        each.key
        for each, was in zip(back.issued.lots, issued.lots, strict=True)
        if each.recipe != was.recipe
    }
    assert changed == {lot}
    lines = next(each.lines for each in issued.lots if each.key == lot)
    assert {line.key for line in back.orders if "again" in (line.recipe or "")} == set(lines)


def test_a_lot_that_is_being_sawn_cannot_go_back() -> None:
    issued = an_issued_plan()
    with pytest.raises(InputError, match="has begun"):
        send_back(issued, some_orders(), a_week_shop(), {first_lot(issued): None}, 10**6)


def test_an_unknown_lot_is_refused() -> None:
    with pytest.raises(InputError, match="no such lot"):
        send_back(an_issued_plan(), some_orders(), a_week_shop(), {"L99": None}, 0)


def test_a_step_back_without_a_check_is_still_out_of_order() -> None:
    issued = an_issued_plan()
    lot = first_lot(issued)
    back = send_back(issued, some_orders(), a_week_shop(), {lot: None}, moment_between(issued, lot))
    plain = tuple(
        recipe.model_copy(
            update={"steps": tuple(s.model_copy(update={"again": False}) for s in recipe.steps)}
        )
        for recipe in back.shop.recipes
    )
    shop = back.shop.model_copy(update={"recipes": plain})
    plan = make_plan(back.orders, some_stock(), shop, options(seconds=0.5))
    assert [line.key for line in plan.refused]
