"""Invariant 3 catches overlaps of stations, bases and people, and work out of hours."""

from __future__ import annotations

from planner.orders import Step
from planner.records import Plan
from planner.shop import HoursKind, HoursRow, Person
from tests.audit.edits import (
    breaches,
    edited,
    operation_of,
    slot_of,
    with_shop,
    with_slot,
    with_ways,
)
from tests.audit.weeks import a_plan

FINISH = operation_of("1187/1", Step.FINISH, 2)
SAW = operation_of("1187/7", Step.SAW)
LUNCH = 690


def found(plan: Plan) -> str:
    return breaches(plan, 3)


def moved(operation: str, start: int) -> Plan:
    """The operation with its changeover moved to begin at a minute, breaks or not."""
    slot = slot_of(operation)
    by = start - slot.setup_start_min
    return with_slot(
        operation,
        setup_start_min=start,
        start_min=slot.start_min + by,
        end_min=slot.end_min + by,
        pieces=tuple((begin + by, end + by) for begin, end in slot.pieces),
    )


def over(begin: int, pause: tuple[int, int]) -> Plan:
    """FINISH begun at a minute, working but for one pause."""
    slot = slot_of(FINISH)
    end = pause[1] + slot.minutes - (pause[0] - begin)
    return with_slot(
        FINISH,
        setup_start_min=begin - slot.setup_min,
        start_min=begin,
        end_min=end,
        pieces=((begin, pause[0]), (pause[1], end)),
    )


def test_a_station_that_does_two_things_at_once() -> None:
    other = slot_of(operation_of("1187/1", Step.SAW))
    plan = moved(SAW, other.start_min)
    over = min(slot_of(SAW).end_min - slot_of(SAW).setup_start_min, other.minutes)
    assert "Saw: does " in found(plan)
    assert f"at once for {over} minutes from" in found(plan)


def test_two_attachments_of_one_base_at_once() -> None:
    notch = operation_of("1187/2", Step.NOTCH)
    plan = moved(notch, slot_of(FINISH).start_min)
    assert "Grinder: does " in found(plan)


def test_a_person_who_does_two_things_at_once() -> None:
    bend, saw = slot_of(operation_of("1187/3", Step.BEND)), slot_of(SAW)
    plan = with_slot(
        SAW,
        people=bend.people,
        setup_start_min=bend.start_min - saw.setup_min,
        start_min=bend.start_min,
        end_min=bend.start_min + saw.minutes,
        pieces=((bend.start_min, bend.start_min + saw.minutes),),
    )
    assert f"{bend.people[0]}: does " in found(plan)


def test_work_at_night() -> None:
    text = found(moved(SAW, 60))
    assert "is split or out of hours" in text
    assert "works out of hours between Monday 2027-03-01 1:" in text


def test_a_changeover_that_a_break_splits() -> None:
    slot = slot_of(FINISH)
    start = LUNCH - slot.setup_min // 2
    assert f"its changeover of {slot.setup_min} minutes from Monday" in found(moved(FINISH, start))


def test_a_run_that_works_through_a_break() -> None:
    slot = slot_of(FINISH)
    plan = moved(FINISH, LUNCH - slot.setup_min - 2)
    assert f"{FINISH}: works out of hours between Monday 2027-03-01 11:28" in found(plan)


def test_a_run_may_pause_over_a_break() -> None:
    assert f"{FINISH}: " not in found(over(LUNCH - 2, (LUNCH, LUNCH + 30)))


def test_a_run_that_pauses_in_usual_hours() -> None:
    text = f"{FINISH}: pauses for 5 usual working minutes from Monday 2027-03-01 11:30"
    assert text in found(over(LUNCH - 2, (LUNCH, LUNCH + 35)))


def test_overtime_may_be_worked_or_left_out() -> None:
    late = HoursRow(
        who="shop", day=a_plan().options.start, kind=HoursKind.OVERTIME, start_min=930, end_min=960
    )
    morning = 1440 + 420
    for closes in (930, 940, 960):
        plan = over(closes - 2, (closes, morning))
        shop = plan.shop.model_copy(update={"hours": (*plan.shop.hours, late)})
        assert f"{FINISH}: " not in found(plan.model_copy(update={"shop": shop}))
    assert f"{FINISH}: works out of hours" in found(over(938, (940, morning)))


def test_pieces_that_are_not_the_run() -> None:
    slot = slot_of(FINISH)
    begin, end = slot.start_min, slot.end_min
    assert "from its start to its end" in found(with_slot(FINISH, pieces=((begin, end - 1),)))
    assert "works 0 minutes in its pieces" in found(with_slot(FINISH, pieces=()))
    twice = with_slot(FINISH, pieces=((begin, end), (begin, end)))
    assert f"works {2 * slot.minutes} minutes" in found(twice)


def test_work_after_hours_were_cut() -> None:
    closed = HoursRow(who="Saw", day=a_plan().options.start, kind=HoursKind.CLOSED)
    assert f"{SAW}: works out of hours" in found(with_shop(hours=(*a_plan().shop.hours, closed)))


def test_a_person_who_is_off() -> None:
    name = slot_of(SAW).people[0]
    off = HoursRow(who=name, day=a_plan().options.start, kind=HoursKind.CLOSED)
    assert f"{SAW}: works out of hours" in found(with_shop(hours=(*a_plan().shop.hours, off)))


def test_a_run_that_begins_before_its_changeover_has_ended() -> None:
    slot = slot_of(FINISH)
    assert "minutes before its changeover has ended" in found(
        with_slot(FINISH, start_min=slot.setup_start_min)
    )


def test_work_before_the_plan_begins() -> None:
    options = a_plan().options.model_copy(update={"start_min": 600})
    text = found(a_plan().model_copy(update={"options": options}))
    assert "minutes before the plan does" in text


def test_too_few_people() -> None:
    assert "is done by 1 people and needs 2" in found(with_slot(FINISH, people=("Ann",)))


def test_one_person_named_twice() -> None:
    plan = with_slot(SAW, people=lambda slot: slot.people * 2)
    assert f"{SAW}: names somebody twice" in found(plan)


def test_one_person_counted_twice() -> None:
    assert "is done by 1 people and needs 2" in found(with_slot(FINISH, people=("Ann", "Ann")))


def test_a_person_who_may_not_run_the_station() -> None:
    bench = operation_of("1187/3", Step.TOUCH_UP)
    assert "Ben may not run Bench" in found(with_slot(bench, people=("Ben",)))


def test_a_saw_on_automatic_feed_leaves_its_person_free() -> None:
    shop = a_plan().shop
    saw = shop.station("Saw")
    unattended = saw.model_copy(update={"saw": saw.saw.model_copy(update={"unattended": True})})
    stations = tuple(unattended if s.name == "Saw" else s for s in shop.stations)
    slot = slot_of(SAW)
    busy = next(
        other
        for other in a_plan().slots
        if other.people and set(other.people) & set(slot.people) and other.station != "Saw"
    )
    both = moved(SAW, busy.start_min - slot.setup_min)
    assert f"{busy.people[0]}: does " in found(both)
    free = both.model_copy(update={"shop": shop.model_copy(update={"stations": stations})})
    run_only = edited(
        free, "slots", lambda one: one.operation == SAW, setup_start_min=420, setup_min=0
    )
    assert f"does {busy.operation} and {SAW}" not in found(run_only)
    assert f"does {SAW} and {busy.operation}" not in found(run_only)


def test_without_people_sheets_every_station_has_its_own_person() -> None:
    plan = with_shop(people=())
    alone = plan.model_copy(
        update={"slots": tuple(s.model_copy(update={"people": ()}) for s in plan.slots)}
    )
    assert found(alone) == ""


def test_hours_of_a_person_for_other_stations_do_not_matter() -> None:
    people = (*a_plan().shop.people, Person(name="Cleo", stations=("Saw",)))
    assert found(with_shop(people=people)) == ""


def test_people_that_the_operation_does_not_need() -> None:
    assert "is done by 2 people and needs 3" in found(with_ways(FINISH, people=3))


def by_itself(operation: str, **changes: object) -> str:
    """What is said where the saws run by themselves, with one slot changed."""
    stations = tuple(
        one.model_copy(update={"saw": one.saw.model_copy(update={"unattended": True})})
        for one in a_plan().shop.stations
    )
    plan = with_slot(operation, **changes)
    return found(plan.model_copy(update={"shop": with_shop(stations=stations).shop}))


def with_nothing_to_change(step: Step) -> str:
    """Key of an operation of a kind that goes on in its run."""
    steps = {operation.key: operation.step for operation in a_plan().operations}
    return next(
        slot.operation
        for slot in a_plan().slots
        if steps[slot.operation] is step and slot.setup_min == 0
    )


def test_a_saw_that_runs_by_itself_needs_nobody_only_where_nothing_is_changed() -> None:
    going_on = with_nothing_to_change(Step.SAW)
    words = "is done by 0 people and needs 1"
    assert f"{going_on}: {words}" not in by_itself(going_on, people=())
    assert f"{going_on}: {words}" in found(with_slot(going_on, people=()))
    assert f"{going_on}: is done by 1" not in by_itself(going_on)
    assert f"{SAW}: {words}" in by_itself(SAW, people=(), setup_min=3)


def test_pieces_that_overlap_are_not_one_after_the_other() -> None:
    slot = slot_of(FINISH)
    middle = (slot.start_min + slot.end_min) // 2
    pieces = ((slot.start_min, middle + 1), (middle, slot.end_min))
    assert f"{FINISH}: its pieces are not one after the other" in found(
        with_slot(FINISH, pieces=pieces)
    )
