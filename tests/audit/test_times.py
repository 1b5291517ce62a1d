"""Invariant 5 catches minutes that are not the model's and lateness that is not told."""

from __future__ import annotations

from datetime import datetime, timedelta

import pytest

from planner.orders import Step
from planner.records import Alternative, LateLine, Operation, Plan
from tests.audit.edits import (
    breaches,
    edited,
    lot_of,
    operation_of,
    with_line,
    with_lot,
    with_operation,
    with_shop,
    with_slot,
    with_ways,
)
from tests.audit.weeks import a_plan
from tests.trade import inch

LATE = "1187/7"
FINISH = operation_of("1187/1", Step.FINISH)


def found(plan: Plan) -> str:
    return breaches(plan, 5)


def minutes_of(step: Step, line: str) -> tuple[str, Plan]:
    key = operation_of(line, step)
    return key, with_ways(key, minutes=1000)


def test_minutes_of_every_kind_of_work_that_are_not_the_model_s() -> None:
    for step, line in (
        (Step.FINISH, "1187/1"),
        (Step.FINISH, "1187/5"),
        (Step.SAW, "1187/1"),
        (Step.NOTCH, "1187/2"),
        (Step.BEND, "1187/3"),
        (Step.TOUCH_UP, "1187/3"),
    ):
        key, plan = minutes_of(step, line)
        assert f"{key}: takes 1000 minutes, the model gives" in found(plan)


def test_minutes_of_a_station_that_was_not_chosen() -> None:
    saw = operation_of("1187/1", Step.SAW)

    def two(operation: Operation) -> tuple[Alternative, ...]:
        (way,) = operation.alternatives
        return way, way.model_copy(update={"station": "Saw 2", "minutes": 999, "people": 2})

    shop = a_plan().shop
    second = next(one for one in shop.stations if one.name == "Saw")
    second = second.model_copy(update={"name": "Saw 2"})
    shop = shop.model_copy(update={"stations": (*shop.stations, second)})
    plan = with_operation(saw, alternatives=two).model_copy(update={"shop": shop})
    assert f"{saw}: takes 999 minutes on Saw 2, the model gives" in found(plan)
    assert f"{saw}: is planned for 2 people on Saw 2" in found(plan)


def test_a_slot_that_is_shorter_than_its_operation() -> None:
    assert f"{FINISH}: takes 1 minutes, the model gives" in found(with_slot(FINISH, minutes=1))


def test_a_feed_that_the_finisher_does_not_have() -> None:
    wheels = a_plan().shop.wheels[0].model_copy(update={"brake_nm": inch("3")})
    assert f"{FINISH}: takes" in found(with_shop(wheels=(wheels,)))


def test_too_few_people_for_a_long_stick() -> None:
    assert f"{FINISH}: is planned for 1 people, it needs 2" in found(with_ways(FINISH, people=1))


def test_a_pass_that_no_recipe_has() -> None:
    assert "cannot be worked out from its lot" in found(with_operation(FINISH, pass_no=9))


def test_a_line_that_is_said_to_be_complete_too_early() -> None:
    plan = edited(a_plan(), "done", lambda d: d.line == LATE, done_min=lambda d: d.done_min - 30)
    assert f"{LATE}: is said to be complete -30 minutes off" in found(plan)


def test_a_due_minute_that_is_not_the_due_date() -> None:
    plan = edited(a_plan(), "done", lambda d: d.line == LATE, due_min=9999)
    assert "its due minute is 9999, not 425" in found(plan)


def test_a_lot_that_says_it_is_due_later() -> None:
    assert f"{operation_of(LATE, Step.SAW).split('.')[0]}: its due minute is 9999" in found(
        with_lot(operation_of(LATE, Step.SAW).split(".")[0], due_min=9999)
    )


def test_a_late_line_that_is_not_listed() -> None:
    late_min = a_plan().late[0].late_min
    plan = a_plan().model_copy(update={"late": ()})
    assert f"{LATE}: is {late_min} minutes late and not in the late list" in found(plan)


def test_a_due_date_that_is_missed_and_not_told() -> None:
    plan = with_line("1187/1", due=datetime(2027, 3, 1, 8, 0))
    assert "1187/1: is" in found(plan)
    assert "late and not in the late list" in found(plan)


def test_a_line_in_the_late_list_that_is_on_time() -> None:
    plan = with_line(LATE, due=datetime(2027, 3, 9, 8, 0))
    assert f"{LATE}: is in the late list and not late" in found(plan)


def test_minutes_late_that_are_not_so() -> None:
    plan = edited(a_plan(), "late", lambda late: late.line == LATE, late_min=7777)
    assert f"{LATE}: is listed 7777 minutes late" in found(plan)


@pytest.mark.parametrize("name", ["due", "done"])
def test_dates_in_the_late_list_that_are_not_so(name: str) -> None:
    def earlier(late: LateLine) -> datetime:
        when: datetime = getattr(late, name)
        return when - timedelta(hours=1)

    plan = edited(a_plan(), "late", lambda late: late.line == LATE, **{name: earlier})
    assert f"{LATE}: is listed as {name}" in found(plan)


def test_a_chain_of_work_that_has_nothing_to_do_with_it() -> None:
    (late,) = a_plan().late
    chain = (operation_of("1187/3", Step.BEND), *late.chain)
    plan = edited(a_plan(), "late", lambda one: one is late, chain=chain)
    assert f"{LATE}: has a chain in which {chain[0]} does not hold" in found(plan)


def test_a_chain_that_ends_elsewhere_or_is_of_no_operation() -> None:
    (late,) = a_plan().late
    for chain, words in (
        ((*late.chain, FINISH), "has a chain that does not lead to its last operation"),
        (("L99.P1", *late.chain), "is held by operations that are not in the plan"),
    ):
        plan = edited(a_plan(), "late", lambda one: one is late, chain=chain)
        assert f"{LATE}: {words}" in found(plan)


def chained(line: str, *chain: str, alone: bool = True) -> str:
    """What is said of a chain behind a line that is made late, its people left out if `alone`."""
    due = datetime(2027, 3, 1, 7, 0)
    (done,) = (each for each in a_plan().done if each.line == line)
    late = LateLine(
        line=line,
        due=due,
        done=datetime(2027, 3, 1) + timedelta(minutes=done.done_min),
        late_min=done.done_min - 420,
        chain=chain,
        reason="",
    )
    plan = with_line(line, due=due).model_copy(update={"late": (*a_plan().late, late)})
    if alone:
        plan = edited(plan, "slots", lambda slot: slot.operation in chain, people=())
    return "\n".join(text for text in found(plan).splitlines() if text.startswith(line))


def test_a_chain_holds_by_tube_place_or_people_and_goes_on_in_time() -> None:
    touch_up, bend = operation_of("1187/3", Step.TOUCH_UP), operation_of("1187/3", Step.BEND)
    assert "in which" not in chained("1187/3", bend, touch_up)
    other = operation_of("1187/4", Step.FINISH)
    assert f"{other} does not hold {touch_up}" in chained("1187/3", other, touch_up)
    notch = operation_of("1187/2", Step.NOTCH, 2)
    assert "in which" not in chained("1187/2", operation_of("1187/1", Step.FINISH), notch)
    assert "in which" not in chained("1187/3", bend, touch_up, alone=False)


def test_a_chain_that_goes_back_in_time() -> None:
    notch, finish = operation_of("1187/2", Step.NOTCH, 2), operation_of("1187/1", Step.FINISH)
    text = chained("1187/2", notch, finish, notch)
    assert f"{notch} does not hold {finish}" in text
    assert f"{finish} does not hold {notch}" not in text


def test_a_lot_is_due_with_the_first_of_its_lines() -> None:
    text = found(with_line("1187/1", due=datetime(2027, 3, 31, 12, 0)))
    assert f"{lot_of('1187/1')}: its due minute" not in text


def test_each_pass_takes_the_time_of_its_own_step() -> None:
    recipe = a_plan().shop.recipe("satin")
    slow = recipe.steps[1].model_copy(update={"least_overlap": 40.0})
    slower = recipe.model_copy(update={"steps": (recipe.steps[0], slow)})
    text = found(with_shop(recipes=(slower,)))
    assert f"{operation_of('1187/1', Step.FINISH, 2)}: takes" in text
    assert f"{FINISH}: takes" not in text


def test_a_chain_that_goes_round_and_a_late_line_without_a_word() -> None:
    (late,) = a_plan().late
    plan = edited(a_plan(), "late", lambda one: one is late, chain=late.chain * 2)
    assert f"{LATE}: has a chain with an operation that is there twice" in found(plan)
    plan = edited(a_plan(), "late", lambda one: one is late, reason=" ")
    assert f"{LATE}: is late, and no word says" in found(plan)
