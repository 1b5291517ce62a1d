"""Where locks and pins put work, and why they cannot."""

from __future__ import annotations

from typing import Any

import pytest

from planner.errors import InputError
from planner.held import Held
from planner.hours import DAY_MIN
from planner.records import Slot
from planner.replan import Progress, State
from planner.replan.clock import Clock
from planner.replan.history import happened
from planner.replan.pins import Scene, place_pins
from planner.shop import Shop
from tests.test_happened import a_shop, issued
from tests.week import weekdays

NOW = 500


def held(*rows: Progress, now: int = NOW, shop: Shop | None = None) -> dict[str, Held]:
    plan, shop = issued(), shop or a_shop()
    clock = Clock(shop, plan.options.start, plan.options.days)
    slots = {slot.operation: slot for slot in plan.slots}
    operations = {operation.key: operation for operation in plan.operations}
    past = happened(plan, clock, now, ()).held
    return place_pins(Scene(shop, clock, now, slots, operations, past), rows)


def refusal(*rows: Progress, now: int = NOW) -> str:
    with pytest.raises(InputError) as refused:
        held(*rows, now=now)
    return refused.value.findings[0].message


def an_open(station: str, after: int = NOW) -> Slot:
    """The first slot of a station that begins later."""
    later = [s for s in issued().slots if s.station == station and s.setup_start_min > after]
    return min(later, key=lambda slot: slot.start_min)


def a_pin(operation: str, **fields: Any) -> Progress:
    return Progress((operation,), State.PIN, **fields)


def test_a_lock_keeps_station_people_and_times() -> None:
    slot = an_open("Bender")
    one = held(Progress((slot.operation,), State.LOCK))[slot.operation]
    assert (one.station, one.people) == (slot.station, slot.people)
    assert (one.start_min, one.end_min, one.exact) == (slot.start_min, slot.end_min, True)


def test_what_was_to_begin_just_now_can_be_locked() -> None:
    slot = next(s for s in issued().slots if s.setup_min == 0 and s.start_min > NOW)
    lock = Progress((slot.operation,), State.LOCK)
    assert held(lock, now=slot.start_min)[slot.operation].start_min == slot.start_min
    assert "has begun by now" in refusal(lock, now=slot.start_min + 1)


def test_a_pin_takes_whom_it_is_complete_with_first() -> None:
    key = an_open("Bender").operation
    shop = a_shop()
    for home, away in (("Ana", "Cy"), ("Cy", "Ana")):
        early = weekdays((420, 755), who=away)
        short = shop.model_copy(update={"hours": (*shop.hours, *early)})
        one = held(a_pin(key, start_min=752), shop=short)[key]
        assert one.people == (home,)
        assert one.end_min < DAY_MIN


def test_a_pin_takes_who_is_held_nowhere_else_until_it_ends() -> None:
    """Ana and Cy may bend; whoever is to is locked to other work from a few minutes later on."""
    bends = [slot for slot in issued().slots if slot.station == "Bender"]
    first = bends[0]

    def pin_to(slot: Slot) -> Progress:
        return a_pin(first.operation, start_min=slot.start_min - 4)

    last = next(
        slot
        for slot in reversed(bends)
        if held(pin_to(slot))[first.operation].people == slot.people
    )
    (usual,), pin = last.people, pin_to(last)
    other = {"Ana": "Cy", "Cy": "Ana"}[usual]
    lock = Progress((last.operation,), State.LOCK)
    for rows in ((lock, pin), (pin, lock)):
        found = held(*rows)
        assert found[last.operation].people == (usual,)
        assert found[first.operation].people == (other,)
    both = next(
        s for s in issued().slots if set(s.people) == {"Ana", "Cy"} and s.setup_start_min > NOW
    )
    pin = a_pin(first.operation, start_min=both.start_min - 4)
    assert "is off or held then" in refusal(pin, Progress((both.operation,), State.LOCK))


def test_a_pin_to_a_span_may_lie_anywhere_in_it_from_now_on() -> None:
    key = an_open("Bender").operation
    one = held(a_pin(key, start_min=0, end_min=DAY_MIN, span=True))[key]
    assert (one.start_min, one.end_min, one.exact) == (NOW, DAY_MIN, False)


def test_a_pin_to_a_day_that_has_passed_names_it() -> None:
    key = an_open("Bender").operation
    words = refusal(a_pin(key, start_min=NOW - 60, end_min=NOW - 1, span=True))
    assert words == f"{key} is pinned to Mon 30 Nov 7:20, which has passed: give a time to come."
    assert "has passed: give a later time" in refusal(a_pin(key, start_min=NOW - 1))


def test_a_note_is_kept_and_next_is_noted() -> None:
    key = an_open("Finisher").operation
    assert held(a_pin(key, next=True))[key].note == "next"
    assert held(a_pin(key, next=True, note="the customer waits"))[key].note == "the customer waits"
    day = a_pin(key, start_min=DAY_MIN, end_min=2 * DAY_MIN, span=True)
    assert held(day)[key].note == ""


def test_what_is_next_begins_after_what_runs_with_its_changeover_first() -> None:
    slot = an_open("Finisher")
    one = held(a_pin(slot.operation, next=True))[slot.operation]
    assert one.start_min >= NOW
    assert (one.station, one.why.value) == ("Finisher", "pinned")
    assert one.start_min == slot.start_min


def test_a_pin_to_a_minute_when_nobody_is_there_is_refused() -> None:
    key = an_open("Bender").operation
    assert "is off or held then; give another time" in refusal(a_pin(key, start_min=735))
    one = held(a_pin(key, start_min=750))[key]
    assert one.start_min == 750


def test_two_pins_to_one_person_at_one_minute_are_refused() -> None:
    notch, other = an_open("Notcher"), an_open("Notcher", an_open("Notcher").setup_start_min)
    words = refusal(a_pin(notch.operation, start_min=800), a_pin(other.operation, start_min=801))
    assert other.operation in words
    assert "is off or held then" in words
