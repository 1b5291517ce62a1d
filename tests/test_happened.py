"""What has happened by now: late work holds what was issued behind it."""

from __future__ import annotations

from functools import cache

import pytest

from planner.errors import InputError, Severity
from planner.held import Held, HeldWhy
from planner.plan import make_plan
from planner.records import Plan, Slot
from planner.replan import Progress, State
from planner.replan.clock import Clock
from planner.replan.history import happened
from planner.shop import HoursKind, HoursRow, Person, SawSettings, Shop
from tests.trade import stations
from tests.week import a_week_shop, options, some_orders, some_stock

PEOPLE = (
    Person(name="Ana", stations=("Finisher", "Saw", "Bender")),
    Person(name="Bo", stations=("Finisher", "Notcher")),
    Person(name="Cy", stations=("Finisher", "Bender")),
)


def a_shop() -> Shop:
    """Three people and a saw that runs by itself, which only Ana sets up."""
    saw = {"saw": SawSettings(unattended=True)}
    return a_week_shop(people=PEOPLE, stations=stations(saw=saw))


@cache
def issued(seed: int = 0) -> Plan:
    return make_plan(some_orders(10), some_stock(), a_shop(), options(seconds=0.3, seed=seed))


def by_now(now: int, *progress: Progress, seed: int = 0) -> dict[str, Held]:
    plan = issued(seed)
    clock = Clock(a_shop(), plan.options.start, plan.options.days)
    return happened(plan, clock, now, progress).held


def a_saw_with_ana_at_once_elsewhere() -> tuple[int, Slot, Slot]:
    """A seed, a saw that Ana sets up in its plan, and what she goes to from there, at another
    station."""
    return next(
        (seed, saw, after)
        for seed in range(20)
        for saw in issued(seed).slots
        for after in issued(seed).slots
        if saw.station == "Saw" and saw.setup_min and "Ana" in after.people
        if after.setup_start_min == saw.setup_start_min + saw.setup_min
    )


def test_without_news_all_went_as_issued() -> None:
    now = 600
    held = by_now(now)
    begun = {slot.operation for slot in issued().slots if slot.setup_start_min < now}
    assert set(held) == begun
    for slot in issued().slots:
        if slot.operation in begun:
            one = held[slot.operation]
            assert (one.start_min, one.end_min) == (slot.start_min, slot.end_min)
            assert not one.actual


def test_what_ends_just_now_is_done_and_what_begins_just_now_is_open() -> None:
    first = min(issued().slots, key=lambda slot: slot.start_min)
    assert by_now(first.end_min)[first.operation].why is HeldWhy.DONE
    assert by_now(first.end_min - 1)[first.operation].why is HeldWhy.STARTED
    assert first.operation in by_now(first.setup_start_min + 1)
    assert by_now(first.setup_start_min) == {}


def test_who_sets_up_a_saw_that_runs_by_itself_is_held_by_the_changeover_alone() -> None:
    seed, saw, after = a_saw_with_ana_at_once_elsewhere()
    late = Progress((saw.operation,), State.DONE, start_min=saw.start_min + 20)
    held = by_now(saw.end_min + 200, late, seed=seed)
    assert held[saw.operation].setup_start_min == saw.setup_start_min + 20
    assert held[after.operation].setup_start_min == after.setup_start_min + 20
    assert held[after.operation].setup_start_min < held[saw.operation].end_min


def refusal(now: int, row: Progress) -> str:
    with pytest.raises(InputError) as refused:
        by_now(now, row)
    return refused.value.findings[0].message


def test_work_lasts_a_minute_at_least() -> None:
    first = min(issued().slots, key=lambda slot: slot.start_min)
    row = Progress((first.operation,), State.DONE, first.start_min, first.start_min)
    assert "not after it begins" in refusal(600, row)
    row = Progress((first.operation,), State.DONE, first.start_min, first.start_min + 1)
    assert by_now(600, row)[first.operation].end_min == first.start_min + 1


def test_what_is_still_running_ends_after_now() -> None:
    first = min(issued().slots, key=lambda slot: slot.start_min)
    now = first.end_min
    row = Progress((first.operation,), State.STARTED, first.start_min, now)
    assert "give the Pieces that are done or the End that is expected" in refusal(now, row)
    row = Progress((first.operation,), State.STARTED, first.start_min, now + 1)
    assert by_now(now, row)[first.operation].end_min == now + 1


def test_the_end_of_running_work_follows_from_the_pieces_left() -> None:
    first = min(issued().slots, key=lambda slot: slot.start_min)
    count = next(one.count for one in issued().operations if one.key == first.operation)
    for pieces in (0, 1, count - 1, count + 1):
        row = Progress((first.operation,), State.STARTED, first.start_min, pieces=pieces)
        left = -(-first.minutes * max(0, count - pieces) // count)
        now = first.start_min + 5
        if left:
            assert by_now(now, row)[first.operation].end_min == now + left
        else:
            assert "was expected to end" in refusal(now, row)


def test_what_is_overdue_and_says_no_more_needs_a_quarter_of_its_minutes_and_that_is_told() -> None:
    plan = issued()
    first = min(plan.slots, key=lambda slot: slot.start_min)
    now = first.end_min + 7
    row = Progress((first.operation,), State.STARTED, first.start_min, sheet="Progress", cell="A2")
    clock = Clock(a_shop(), plan.options.start, plan.options.days)
    past = happened(plan, clock, now, [row])
    held, (guess,) = past.held, past.guessed
    assert held[first.operation].why is HeldWhy.STARTED
    assert held[first.operation].end_min == now + round(first.minutes / 4)
    assert (guess.severity, guess.sheet, guess.cell) == (Severity.WARNING, "Progress", "A2")
    assert f"should have ended at {clock.words(first.end_min)}: it is taken to end" in guess.message
    assert "write the Pieces done so far or the expected End" in guess.message
    assert happened(plan, clock, first.end_min - 1, [row]).guessed == ()


def test_pieces_are_kept_of_what_is_running_and_not_of_what_is_done() -> None:
    first = min(issued().slots, key=lambda slot: slot.start_min)
    for state, now, kept in (
        (State.STARTED, first.start_min + 1, 1),
        (State.DONE, first.end_min, None),
    ):
        row = Progress((first.operation,), state, first.start_min, pieces=1)
        assert by_now(now, row)[first.operation].pieces == kept


def test_nobody_stays_at_two_things_that_are_running() -> None:
    """Where one person was to do everything, what runs beside other work cannot be theirs."""
    slots = [slot.model_copy(update={"people": ("Ana",)}) for slot in issued().slots]
    plan = issued().model_copy(update={"slots": tuple(slots)})
    first, after = next(
        (first, after)
        for first in slots
        for after in slots
        if first.station == "Finisher" and after.station == "Bender"
        if first.end_min - first.start_min > 10 and _is_ready(after, first.start_min)
    )
    now = first.start_min + 10
    clock = Clock(a_shop(), plan.options.start, plan.options.days)
    begun = Progress((after.operation,), State.STARTED, now - 1, now + 200)
    with pytest.raises(InputError) as refused:
        happened(plan, clock, now, [begun])
    words = f"Ana was to run {after.operation} and {first.operation}, and cannot be at both now"
    other = f"Ana was to run {first.operation} and {after.operation}, and cannot be at both now"
    (finding,) = refused.value.findings
    assert finding.message.startswith((words, other))
    assert happened(plan, clock, now, [begun, Progress((first.operation,), State.OPEN)]).held


def _is_ready(slot: Slot, minute: int) -> bool:
    """Whether what it waits for had ended by then."""
    after = next(one.after for one in issued().operations if one.key == slot.operation)
    return all(other.end_min < minute for other in issued().slots if other.operation in after)


def test_running_work_goes_on_without_who_is_off_for_the_rest_of_the_day() -> None:
    plan = issued()
    first = min(plan.slots, key=lambda slot: slot.start_min)
    ill, *others = first.people
    now = first.start_min + 5
    row = Progress((first.operation,), State.STARTED, first.start_min, pieces=1)
    off = HoursRow(who=ill, day=plan.options.start, kind=HoursKind.CLOSED)
    shop = a_shop().model_copy(update={"hours": (*a_shop().hours, off)})
    clock = Clock(shop, plan.options.start, plan.options.days)
    without = happened(plan, clock, now, [row]).held[first.operation]
    usual = by_now(now, row)[first.operation]
    assert (without.people, usual.people) == (tuple(others), first.people)
    assert without.end_min == usual.end_min


def test_who_is_back_on_the_same_day_stays_at_what_is_running() -> None:
    plan = issued()
    first = min(plan.slots, key=lambda slot: slot.start_min)
    late = first.people[0]
    now = first.start_min + 5
    hours = HoursRow(
        who=late, day=plan.options.start, kind=HoursKind.CLOSED, start_min=0, end_min=now + 30
    )
    shop = a_shop().model_copy(update={"hours": (*a_shop().hours, hours)})
    clock = Clock(shop, plan.options.start, plan.options.days)
    row = Progress((first.operation,), State.STARTED, first.start_min)
    assert happened(plan, clock, now, [row]).held[first.operation].people == first.people


def test_the_minutes_that_work_took_give_the_time_that_is_not_known() -> None:
    first = min(issued().slots, key=lambda slot: slot.start_min)

    def took(start_min: int | None = None, end_min: int | None = None) -> tuple[int, int]:
        row = Progress((first.operation,), State.DONE, start_min, end_min, minutes=13)
        one = by_now(600, row)[first.operation]
        return one.start_min, one.end_min

    start = first.start_min
    assert took() == (start, start + 13)
    assert took(start_min=start + 4) == (start + 4, start + 17)
    assert took(end_min=start + 20) == (start + 7, start + 20)
    row = Progress((first.operation,), State.DONE, minutes=500)
    assert "after now" in refusal(600, row)


def finisher_slots() -> list[Slot]:
    return sorted((s for s in issued().slots if s.station == "Finisher"), key=lambda s: s.start_min)


def test_what_is_not_reported_yields_to_what_is_reported_after_it() -> None:
    """The first pass was slow and the fourth was on time: those between were quick."""
    slow, second, third, on_time = finisher_slots()[:4]
    late = (second.end_min - second.start_min) // 2
    rows = (
        Progress((slow.operation,), State.DONE, slow.start_min, slow.end_min + late),
        Progress((on_time.operation,), State.DONE, on_time.start_min, on_time.end_min),
    )
    held = by_now(on_time.end_min, *rows)
    one, two = held[second.operation], held[third.operation]
    assert slow.end_min + late <= one.setup_start_min <= one.start_min < one.end_min
    assert one.end_min <= two.start_min < two.end_min <= on_time.start_min
    assert two.actual
    alone = by_now(on_time.end_min, rows[0])
    assert alone[on_time.operation].start_min > on_time.start_min


def test_what_would_have_had_to_be_much_too_quick_is_asked_for() -> None:
    slow, second, third, on_time = finisher_slots()[:4]
    rows = (
        Progress((slow.operation,), State.DONE, slow.start_min, third.end_min - 2),
        Progress((on_time.operation,), State.DONE, on_time.start_min, on_time.end_min),
    )
    with pytest.raises(InputError, match=r"report that too|give those of both"):
        by_now(on_time.end_min, *rows)
    assert second.end_min < third.end_min - 2


def test_a_shop_ahead_of_its_plan_may_report_its_last_run_alone() -> None:
    first, second, third = finisher_slots()[:3]
    early = Progress((third.operation,), State.DONE, third.start_min - 10, third.end_min - 10)
    held = by_now(third.end_min, early)
    assert held[first.operation].end_min <= held[second.operation].start_min
    assert held[second.operation].end_min <= third.start_min - 10
