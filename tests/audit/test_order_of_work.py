"""Invariant 2 catches passes out of order, skipped or on the wrong belt, and bent tube finished."""

from __future__ import annotations

import pytest

from planner.orders import Step
from planner.records import Plan
from tests.audit.edits import (
    breaches,
    lot_of,
    operation_of,
    slot_of,
    with_blank,
    with_line,
    with_operation,
    with_shop,
    with_slot,
)
from tests.audit.weeks import a_plan

FIRST = operation_of("1187/1", Step.FINISH, 1)
SECOND = operation_of("1187/1", Step.FINISH, 2)
SAW = operation_of("1187/1", Step.SAW)
BEND = operation_of("1187/3", Step.BEND)


def found(plan: Plan) -> str:
    return breaches(plan, 2)


def without(*operations: str) -> Plan:
    plan = a_plan()
    return plan.model_copy(
        update={
            "operations": tuple(
                operation.model_copy(
                    update={"after": tuple(k for k in operation.after if k not in operations)}
                )
                for operation in plan.operations
                if operation.key not in operations
            ),
            "slots": tuple(slot for slot in plan.slots if slot.operation not in operations),
            "cards": (),
        }
    )


def swapped(one: str, other: str) -> Plan:
    """The two operations are done at each other's times."""
    times = ("setup_start_min", "start_min", "end_min")
    new = {one: slot_of(other), other: slot_of(one)}
    plan = a_plan()
    slots = tuple(
        slot.model_copy(update={name: getattr(new[slot.operation], name) for name in times})
        if slot.operation in new
        else slot
        for slot in plan.slots
    )
    return plan.model_copy(update={"slots": slots})


def test_passes_from_fine_to_coarse() -> None:
    text = found(swapped(FIRST, SECOND))
    assert f"{FIRST}: its belt is P120 after P180: not coarse to fine" in text
    assert f"{SECOND}: begins" in text


def test_a_pass_that_is_skipped() -> None:
    assert "its passes are P120, not P120, P180" in found(without(SECOND))


def test_a_recipe_that_needs_more_passes_on_this_surface() -> None:
    recipe = a_plan().shop.recipe("satin")
    twice = recipe.steps[0].model_copy(update={"passes": dict.fromkeys(recipe.steps[0].passes, 2)})
    more = recipe.model_copy(update={"steps": (twice, *recipe.steps[1:])})
    assert "not P120, P120, P180" in found(with_shop(recipes=(more,)))


def test_passes_that_are_numbered_wrongly() -> None:
    assert "is pass 2 of 2, not as numbered" in found(with_operation(SECOND, pass_no=3))


def test_a_pass_for_too_few_sticks() -> None:
    assert f"{FIRST}: finishes 1 of" in found(with_operation(FIRST, count=1))


def test_a_belt_that_the_shop_does_not_have() -> None:
    assert "its belt P40 is none of the shop's" in found(with_operation(FIRST, belt="P40"))


def with_third_pass(again: bool) -> Plan:
    """P120, P180 and P120 once more on the first lot, the last because of a check if `again`."""
    satin = a_plan().shop.recipe("satin")
    back = satin.steps[0].model_copy(update={"again": again})
    recipe = satin.model_copy(update={"steps": (*satin.steps, back)})
    third = next(one for one in a_plan().operations if one.key == FIRST)
    third = third.model_copy(update={"key": "third", "pass_no": 3, "after": (SECOND,)})
    times = {"operation": "third", "start_min": 10**4, "end_min": 10**4 + 1}
    plan = with_shop(recipes=(recipe,))
    return plan.model_copy(
        update={
            "operations": (*plan.operations, third),
            "slots": (*plan.slots, slot_of(FIRST).model_copy(update=times)),
        }
    )


def test_a_coarser_belt_again() -> None:
    assert "third: its belt is P120 after P180: not coarse to fine" in found(
        with_third_pass(again=False)
    )
    assert "not coarse to fine" not in found(with_third_pass(again=True))


def test_a_belt_of_another_grade() -> None:
    assert "its belt P180 belt is not P120" in found(with_operation(FIRST, belt="P180 belt"))


def test_a_stainless_tube_on_a_belt_for_carbon() -> None:
    text = found(with_operation(FIRST, belt="P120 steel"))
    assert "its belt P120 steel must not touch stainless" in text


def test_a_pass_that_begins_before_the_one_before_has_ended() -> None:
    early = slot_of(FIRST).end_min - 2
    assert f"{SECOND}: begins 2 minutes before {FIRST}" in found(with_slot(SECOND, start_min=early))


def test_tube_that_is_sawn_before_it_is_finished() -> None:
    text = found(swapped(SECOND, SAW))
    assert f"{SAW}: begins" in text
    assert f"minutes before {SECOND} has ended" in text


def test_tube_that_is_finished_before_it_is_sawn_though_it_says_saw_first() -> None:
    finish, saw = operation_of("1187/5", Step.FINISH, 1), operation_of("1187/5", Step.SAW)
    assert f"{finish}: begins" in found(swapped(finish, saw))


def test_a_bend_before_the_saw_has_ended() -> None:
    start = slot_of(SAW).start_min
    assert f"{BEND}: begins" in found(with_slot(BEND, start_min=start))


def test_bent_tube_that_is_finished() -> None:
    steps = (Step.SAW, Step.BEND, Step.FINISH)
    text = found(with_blank("1187/3", steps=steps))
    assert "is finished after bending: bent tube cannot go through" in text


def test_notched_tube_that_is_finished() -> None:
    steps = (Step.SAW, Step.NOTCH, Step.FINISH)
    assert "is finished after notch" in found(with_blank("1187/2", steps=steps))


def test_a_finish_without_a_recipe() -> None:
    steps = (Step.FINISH, Step.SAW)
    assert "is finished without a recipe" in found(with_blank("1187/7", steps=steps))


def test_a_lot_that_is_never_sawn() -> None:
    assert f"{lot_of('1187/1')}: is sawn 0 times" in found(without(SAW))


def test_a_saw_that_leaves_sticks_out() -> None:
    assert f"{SAW}: saws 1 of" in found(with_operation(SAW, count=1))


def test_a_bend_that_is_left_out() -> None:
    assert "after the saw it gets touch-up, where bend, touch-up is right" in found(without(BEND))


def test_a_saddle_without_a_set_up_of_its_own() -> None:
    notch = operation_of("1187/2", Step.NOTCH, 2)
    assert "is set up for 1 kinds of saddle, 2 are needed" in found(without(notch))


def test_a_notch_for_too_few_pieces() -> None:
    notch = operation_of("1187/2", Step.NOTCH)
    assert "is for 1 of 5 pieces" in found(with_operation(notch, count=1))


def test_an_operation_that_says_it_waits_for_another() -> None:
    other = operation_of("1187/5", Step.FINISH, 2)
    plan = with_operation(operation_of("1187/4", Step.FINISH), after=(other,))
    assert f"is said to wait for {other}, nothing is right" in found(plan)


@pytest.mark.parametrize("key", [SECOND, SAW, BEND])
def test_an_operation_that_says_it_waits_for_nothing(key: str) -> None:
    assert f"{key}: is said to wait for nothing" in found(with_operation(key, after=()))


def test_pieces_that_are_sawn_first_wait_for_the_saw() -> None:
    first, saw = operation_of("1187/5", Step.FINISH), operation_of("1187/5", Step.SAW)
    assert f"{saw}: is said to wait for {first}, nothing" in found(
        with_operation(saw, after=(first,))
    )


def test_a_route_that_bends_before_it_notches_is_held_to() -> None:
    plan = with_line("1187/2", route=(Step.FINISH, Step.SAW, Step.BEND, Step.NOTCH))
    assert found(plan) == ""


def test_a_saw_that_names_a_belt() -> None:
    assert f"{SAW}: names a pass or a belt and is no finishing" in found(
        with_operation(SAW, grade="P120")
    )


@pytest.mark.parametrize("step", [Step.BEND, Step.TOUCH_UP])
def test_a_step_that_is_done_twice(step: Step) -> None:
    key = operation_of("1187/3", step)
    once = next(one for one in a_plan().operations if one.key == key)
    again = once.model_copy(update={"key": "again", "after": (key,)})
    slot = slot_of(key).model_copy(update={"operation": "again"})
    plan = a_plan().model_copy(
        update={
            "operations": (*a_plan().operations, again),
            "slots": (*a_plan().slots, slot),
        }
    )
    assert f"{step.value}, {step.value}" in found(plan)
