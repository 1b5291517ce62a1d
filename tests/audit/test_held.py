"""Invariant 6 in a week planned again: whatever is bent about its records is caught."""

from __future__ import annotations

from functools import cache
from typing import Any

import pytest

from planner.audit import audit
from planner.held import Held, HeldWhy, Moved, Paused, Replan
from planner.options import LotPolicy
from planner.plan import make_plan
from planner.records import Plan, Slot
from planner.replan import Progress, State, replan
from tests.audit.edits import breaches
from tests.week import a_week_shop, options, some_orders, some_stock

NOW = 600
ORDERS = [line.model_copy(update={"quantity": 30}) for line in some_orders(8)]


@cache
def again() -> Plan:
    """A small week planned again on its first morning, one operation locked, one pinned."""
    args = ORDERS, some_stock(), a_week_shop()
    issued = make_plan(*args, options(seconds=0.2, lots=LotPolicy.BY_DUE_DATE))
    to_come = sorted(issued.slots, key=lambda slot: slot.start_min)
    lock, pin = to_come[-2].operation, to_come[-1]
    progress = (
        Progress((lock,), State.LOCK),
        Progress((pin.operation,), State.PIN, start_min=4 * 1440 + 480),
    )
    return replan(issued, *args, options(seconds=0.2, start_min=NOW), progress)


def record() -> Replan:
    found = again().replan
    assert found is not None
    return found


def bent(**changes: Any) -> Plan:
    return again().model_copy(update={"replan": record().model_copy(update=changes)})


def held(why: HeldWhy) -> Held:
    return next(one for one in record().held if one.why is why)


def with_held(one: Held, **changes: Any) -> Plan:
    other = one.model_copy(update=changes)
    return bent(held=tuple(other if each is one else each for each in record().held))


def messages(plan: Plan) -> str:
    return "\n".join(str(finding) for finding in audit(plan))


def told(plan: Plan) -> str:
    """What is said of this invariant."""
    return breaches(plan, 6)


def both(one: Held, **changes: Any) -> Plan:
    """The plan with another record and the slot as recorded."""
    other = one.model_copy(update={"actual": True, **changes})
    slot = {
        name: getattr(other, name)
        for name in ("station", "people", "setup_start_min", "start_min", "end_min")
    }
    slots = tuple(
        each.model_copy(update=slot) if each.operation == one.operation else each
        for each in again().slots
    )
    return with_held(one, **{"actual": True, **changes}).model_copy(update={"slots": slots})


def test_the_week_planned_again_holds() -> None:
    assert messages(again()) == ""
    assert {one.why for one in record().held} == set(HeldWhy)
    assert record().moved


@pytest.mark.parametrize("why", list(HeldWhy))
def test_a_record_with_another_time_is_caught(why: HeldWhy) -> None:
    one = held(why)
    later = {"start_min": one.start_min + 1, "end_min": one.end_min + 1}
    assert f"Invariant 6: {one.operation}" in messages(with_held(one, **later))


def test_work_to_come_cannot_pass_for_done() -> None:
    past = {one.operation for one in record().held}
    slot: Slot = next(slot for slot in again().slots if slot.operation not in past)
    false = Held(
        operation=slot.operation,
        why=HeldWhy.DONE,
        station=slot.station,
        setup_start_min=slot.setup_start_min,
        start_min=slot.start_min,
        end_min=slot.end_min,
    )
    assert "after now" in told(bent(held=(*record().held, false)))


def test_done_work_without_its_record_is_out_of_time() -> None:
    done = held(HeldWhy.DONE)
    plan = bent(held=tuple(one for one in record().held if one is not done))
    assert f"Invariant 3: {done.operation}" in messages(plan)


def test_times_recorded_as_issued_are_those_that_were_issued() -> None:
    done = held(HeldWhy.DONE)
    issued = tuple(
        one.model_copy(update={"end_min": one.end_min + 5})
        if one.operation == done.operation
        else one
        for one in record().issued
    )
    assert "was issued otherwise" in told(bent(issued=issued))


def test_times_that_were_recorded_on_the_floor_need_not_be_those_that_were_issued() -> None:
    done = held(HeldWhy.DONE)
    assert "was issued otherwise" not in told(both(done, start_min=done.start_min + 1))
    others = tuple(one for one in record().issued if one.operation != done.operation)
    words = f"{done.operation}: is recorded as it was issued, and was issued otherwise"
    assert words in told(bent(issued=others))


def test_a_move_that_is_not_told_is_caught() -> None:
    assert "not among what moved" in told(bent(moved=record().moved[1:]))


def test_a_move_that_did_not_happen_is_caught() -> None:
    moved = {one.operation for one in record().moved}
    still = next(one for one in record().issued if one.operation not in moved)
    false = Moved(operation=still.operation, before=still, after=still)
    assert "did not move as said" in told(bent(moved=(*record().moved, false)))


def test_another_now_is_caught() -> None:
    assert "made at another time" in told(bent(now_min=NOW - 60))


def test_a_record_of_no_operation_is_caught() -> None:
    one = held(HeldWhy.DONE)
    assert "no operation of that name" in told(with_held(one, operation="L99.P1"))


def test_a_record_that_is_there_twice_is_caught() -> None:
    one, before = held(HeldWhy.DONE), record().issued[0]
    assert "is held 2 times" in told(bent(held=(*record().held, one)))
    assert "is issued 2 times" in told(bent(issued=(*record().issued, before)))


def test_recorded_times_upside_down_are_caught() -> None:
    one = held(HeldWhy.DONE)
    plan = with_held(one, setup_start_min=one.start_min + 1, actual=True)
    assert f"{one.operation}: its recorded times are not in order" in told(plan)


def test_locked_work_with_other_people_or_elsewhere_is_caught() -> None:
    one = held(HeldWhy.LOCKED)
    words = f"{one.operation}: is locked on another station or with others"
    assert words in told(with_held(one, people=("Nobody",)))
    assert words in told(with_held(one, station="Elsewhere"))


def test_done_work_of_other_people_than_recorded_is_caught() -> None:
    one = held(HeldWhy.DONE)
    words = f"{one.operation}: is done, but not where its record says"
    assert words in told(with_held(one, people=("Nobody",), actual=True))


@pytest.mark.parametrize(
    ("setup", "start", "end", "right"),
    [(0, 0, 1, True), (5, 5, 6, True), (5, 5, 5, False), (6, 5, 7, False)],
)
def test_recorded_times_are_in_order_up_to_the_minute(
    setup: int, start: int, end: int, right: bool
) -> None:
    plan = both(held(HeldWhy.DONE), setup_start_min=setup, start_min=start, end_min=end)
    assert ("its recorded times are not in order" not in told(plan)) == right


@pytest.mark.parametrize(("end", "right"), [(NOW, True), (NOW + 1, False)])
def test_done_work_ends_by_now_at_the_latest(end: int, right: bool) -> None:
    assert ("after now" not in told(both(held(HeldWhy.DONE), end_min=end))) == right


@pytest.mark.parametrize(
    ("setup", "end", "right"),
    [
        *((NOW, NOW + 1, True), (NOW + 1, NOW + 9, False)),
        *((NOW - 9, NOW + 1, True), (NOW - 9, NOW, False)),
    ],
)
def test_started_work_runs_now(setup: int, end: int, right: bool) -> None:
    plan = both(held(HeldWhy.STARTED), setup_start_min=setup, start_min=setup, end_min=end)
    assert ("does not run at the time of planning" not in told(plan)) == right


@pytest.mark.parametrize(
    ("early", "late", "right"), [(0, 0, True), (1, 0, False), (0, 1, False), (-1, -1, True)]
)
def test_pinned_work_lies_within_its_span_to_the_minute(early: int, late: int, right: bool) -> None:
    one = held(HeldWhy.PINNED)
    slot = next(slot for slot in again().slots if slot.operation == one.operation)
    span = {"start_min": slot.start_min + early, "end_min": slot.end_min - late}
    plan = with_held(one, exact=False, **span)
    assert (f"{one.operation}: is pinned to" not in told(plan)) == right


def test_what_is_held_exactly_lies_nowhere_within_its_span() -> None:
    one = held(HeldWhy.LOCKED)
    plan = with_held(one, start_min=one.start_min - 1, end_min=one.end_min + 1)
    assert f"{one.operation}: is locked to" in told(plan)


def test_work_is_locked_where_it_was_issued() -> None:
    one = held(HeldWhy.LOCKED)
    for changes in ({"start_min": 1}, {"end_min": 9999}, {"station": "Elsewhere"}):
        issued = tuple(
            each.model_copy(update=changes) if each.operation == one.operation else each
            for each in record().issued
        )
        assert f"{one.operation}: is locked elsewhere than it was issued" in told(
            bent(issued=issued)
        )
    gone = tuple(each for each in record().issued if each.operation != one.operation)
    assert "is locked elsewhere than it was issued" in told(bent(issued=gone))


def test_what_was_done_at_another_time_than_issued_has_not_moved() -> None:
    one = held(HeldWhy.DONE)
    plan = both(one, start_min=one.start_min + 1)
    assert f"{one.operation}: moved" not in told(plan)


@pytest.mark.parametrize("why", [HeldWhy.DONE, HeldWhy.STARTED, HeldWhy.LOCKED])
def test_only_a_pin_is_to_a_span(why: HeldWhy) -> None:
    one = held(why)
    assert f"{one.operation}: is {why.value}, but to no minute" in told(with_held(one, exact=False))
    assert "to no minute" not in told(with_held(held(HeldWhy.PINNED), exact=False))


def test_only_what_has_started_has_pieces_that_are_done() -> None:
    one = held(HeldWhy.STARTED)
    count = next(each.count for each in again().operations if each.key == one.operation)
    for pieces, right in ((0, True), (count, True), (-1, False), (count + 1, False)):
        text = f"{one.operation}: is started with {pieces} of {count} done"
        assert (text not in told(with_held(one, pieces=pieces))) == right
    for why in (HeldWhy.DONE, HeldWhy.LOCKED, HeldWhy.PINNED):
        assert f"is {why.value} with 0 of" in told(with_held(held(why), pieces=0))


def test_a_pin_to_people_is_with_them() -> None:
    one = held(HeldWhy.PINNED)
    slot = next(slot for slot in again().slots if slot.operation == one.operation)
    words = f"{one.operation}: is pinned on another station or with others"
    span = {"start_min": slot.start_min, "end_min": slot.end_min, "exact": False}
    assert words not in told(with_held(one, people=(), **span))
    assert words in told(with_held(one, people=("Nobody",), **span))


@pytest.mark.parametrize(
    "changes", [{"setup_start_min": 9999}, {"start_min": 9999}, {"end_min": 1}]
)
def test_times_that_were_issued_are_in_order(changes: dict[str, int]) -> None:
    first, *others = record().issued
    issued = (first.model_copy(update=changes), *others)
    words = f"{first.operation}: the times at which it was issued are not in order"
    assert words in told(bent(issued=issued))


def with_past(**changes: Any) -> str:
    """What is said of a plan in which the slot of done work is another."""
    done = held(HeldWhy.DONE).operation
    slots = tuple(
        each.model_copy(update=changes) if each.operation == done else each
        for each in again().slots
    )
    return messages(again().model_copy(update={"slots": slots}))


def test_what_is_done_has_the_models_minutes_beside_it_and_its_own_pieces() -> None:
    done = held(HeldWhy.DONE)
    assert f"Invariant 5: {done.operation}: takes 7777 minutes" in with_past(minutes=7777)
    half = (done.start_min, done.end_min - 1)
    for pieces in ((), (half,)):
        words = f"Invariant 3: {done.operation}: its pieces are not one after the other"
        assert words in with_past(pieces=pieces)


def test_a_lot_that_was_issued_before_was_formed_before() -> None:
    """The first plan was of Monday; now is Monday too."""
    for day, right in ((0, True), (-1, False), (1, False)):
        lots = tuple(lot.model_copy(update={"ordered_day": day}) for lot in again().lots)
        text = messages(again().model_copy(update={"lots": lots}))
        assert ("was not formed on day" not in text) == right


def stood(**changes: Any) -> Plan:
    """The week with work to come of which a part is said to be done; its minutes are not less."""
    past = {one.operation for one in record().held}
    operation = next(
        one for one in again().operations if not one.after and one.key not in past and one.count > 1
    )
    fields: dict[str, Any] = {
        "operation": operation.key,
        "station": operation.alternatives[0].station,
        "setup_start_min": 430,
        "start_min": 430,
        "end_min": 460,
        "left": 1,
        "of": 2,
    }
    return bent(paused=(Paused(**(fields | changes)),))


def went_on(**changes: Any) -> Plan:
    """The week with a part that was done of what is running now, or was done since."""
    one = held(HeldWhy.DONE)
    fields: dict[str, Any] = {
        "operation": one.operation,
        "station": one.station,
        "setup_start_min": 0,
        "start_min": 1,
        "end_min": 2,
        "left": 1,
        "of": 2,
    }
    second: dict[str, Any] = fields | {"start_min": 2, "end_min": 3} | changes
    return bent(resumed=(Paused(**fields), Paused(**second)))


@pytest.mark.parametrize(
    ("changes", "words"),
    [
        ({"left": 1, "of": 4, "start_min": 1}, "stood still twice at once, or idly"),
        ({"left": 1, "of": 2}, "stood still twice at once, or idly"),
        ({"left": 1, "of": 4, "end_min": NOW}, "before the end of a part that was done of it"),
        ({"operation": "L99.P1"}, "gone on, but there is no operation of that name"),
        ({"station": "Elsewhere"}, "was begun on Elsewhere, where it cannot be done"),
        ({"setup_start_min": 3}, "was paused at times that are not in order, or after now"),
    ],
)
def test_a_part_that_cannot_have_been_done_is_caught(changes: dict[str, Any], words: str) -> None:
    assert "twice at once" not in told(went_on(left=1, of=4))
    assert words in told(went_on(**changes))


def test_what_went_on_is_done_or_runs_or_stands_still() -> None:
    to_come = next(one for one in again().slots if one.operation not in record().past)
    part = went_on(left=1, of=4, operation=to_come.operation, station=to_come.station)
    assert "went on, and is neither done nor running nor paused" in told(part)


def test_the_changeover_of_a_part_is_that_of_the_table_and_counts() -> None:
    plan = went_on(left=1, of=4)
    one = held(HeldWhy.DONE)
    assert f"{one.operation}: " in breaches(plan, 4)
    assert plan.replan
    changed = next(slot.changes for slot in again().slots if slot.operation == one.operation)
    assert sum(change.minutes for change in changed)
    first, then = plan.replan.resumed
    parts = (first.model_copy(update={"changes": changed}), then)
    resumed = plan.replan.model_copy(update={"resumed": parts})
    counted = plan.model_copy(update={"replan": resumed})
    assert "its yardstick says changeover_min" in told(counted)
    assert "the ledger for" in told(counted)


def test_the_rest_of_what_stood_still_takes_what_is_left_of_its_minutes() -> None:
    assert told(stood()) == ""
    assert "the model gives" in breaches(stood(), 5)
    assert breaches(stood(left=2), 5) == ""


@pytest.mark.parametrize(
    ("changes", "words"),
    [
        ({"left": 0}, "is paused with 0 of 2 left"),
        ({"left": 3}, "is paused with 3 of 2 left"),
        ({"end_min": NOW + 1}, "was paused at times that are not in order, or after now"),
        ({"start_min": 460}, "was paused at times that are not in order, or after now"),
        ({"pieces": 999}, "is paused with 999 of"),
        ({"station": "Elsewhere"}, "was begun on Elsewhere, where it cannot be done"),
        ({"operation": "L99.P1"}, "is paused, but there is no operation of that name"),
    ],
)
def test_a_pause_that_cannot_be_is_caught(changes: dict[str, Any], words: str) -> None:
    assert words in told(stood(**changes))


def test_what_is_done_does_not_stand_still_nor_what_waits_for_other_work() -> None:
    done = held(HeldWhy.DONE)
    assert "is paused, and done or running too" in told(
        stood(operation=done.operation, station=done.station)
    )
    waits = next(one for one in again().operations if one.after)
    words = f"{waits.key}: was begun before {waits.after[0]} had ended"
    way = waits.alternatives[0].station
    assert words in told(stood(operation=waits.key, station=way, start_min=1, end_min=2))
