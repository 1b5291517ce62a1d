"""Invariant 4 catches changeovers left out, too short, or counted from what was not mounted."""

from __future__ import annotations

from planner.orders import Step
from planner.records import Plan
from planner.shop import ChangeoverRow, Mounted, What
from tests.audit.edits import breaches, operation_of, slot_of, with_shop, with_slot, with_ways
from tests.audit.weeks import a_plan

FINISH = operation_of("1187/1", Step.FINISH, 2)
NOTCH = operation_of("1187/2", Step.NOTCH)


def found(plan: Plan) -> str:
    return breaches(plan, 4)


def test_a_changeover_that_is_too_short() -> None:
    assert f"{FINISH}: its changeover takes 5 minutes, the table gives 6" in found(
        with_slot(FINISH, setup_min=5)
    )


def test_a_changeover_that_is_left_out() -> None:
    text = found(with_slot(FINISH, setup_min=0, changes=()))
    assert "its changeover takes 0 minutes, the table gives 6" in text
    assert "belt from P120 belt to P180 belt in 6 minutes is not listed" in text


def test_a_change_from_what_was_not_mounted() -> None:
    change = slot_of(FINISH).changes[0].model_copy(update={"before": "P60"})
    assert "belt from P60 to P180 belt in 6 minutes is not so" in found(
        with_slot(FINISH, changes=(change,))
    )


def test_a_change_that_is_listed_twice() -> None:
    changes = slot_of(FINISH).changes
    assert "belt from P120 belt to P180 belt in 6 minutes is not so" in found(
        with_slot(FINISH, changes=changes * 2)
    )


def test_a_table_that_gives_other_minutes() -> None:
    row = ChangeoverRow(station="Finisher", what=What.BELT, after="P180 belt", minutes=9)
    assert "the table gives 9" in found(with_shop(changeovers=(*a_plan().shop.changeovers, row)))


def test_another_state_at_the_start() -> None:
    mounted = (Mounted(station="Grinder", what=What.ATTACHMENT, value="Notcher"),)
    assert "attachment from Notcher to Finisher" in found(with_shop(mounted=mounted))


def test_a_start_that_nothing_is_known_of() -> None:
    assert "attachment from nothing known to Finisher" in found(with_shop(mounted=()))


def test_a_swap_of_attachments_that_is_left_out() -> None:
    slot = next(s for s in a_plan().slots if s.station == "Notcher")
    changes = tuple(change for change in slot.changes if change.what != What.ATTACHMENT)
    assert "attachment from Finisher to Notcher" in found(
        with_slot(slot.operation, changes=changes)
    )


def test_changes_done_side_by_side_though_the_shop_adds_them_up() -> None:
    plan = with_shop(longest_of=("Finisher",))
    assert "the table gives" in found(plan)


def test_work_in_another_order_than_its_changeovers() -> None:
    first = operation_of("1187/1", Step.FINISH, 1)
    one, other = slot_of(first), slot_of(FINISH)
    times = ("setup_start_min", "start_min", "end_min")
    slots = {
        first: one.model_copy(update={name: getattr(other, name) for name in times}),
        FINISH: other.model_copy(update={name: getattr(one, name) for name in times}),
    }
    plan = a_plan().model_copy(
        update={"slots": tuple(slots.get(s.operation, s) for s in a_plan().slots)}
    )
    assert f"{FINISH}: belt from" in found(plan)


def test_an_operation_that_needs_something_else() -> None:
    state = {What.OD: "1", What.ATTACHMENT: "Notcher"}
    assert f"{NOTCH}: OD from" in found(with_ways(NOTCH, state=state))


def test_a_run_that_is_numbered_wrongly() -> None:
    run = slot_of(FINISH).run
    assert f"is in run {run + 4} of Finisher, not {run}" in found(with_slot(FINISH, run=run + 4))
