"""Locks and pins in scenes made by hand: two stations, two people, a minute here or there."""

from __future__ import annotations

from typing import Any

import pytest

from planner.errors import InputError
from planner.held import Held, HeldWhy
from planner.orders import Step
from planner.progress import Progress, State
from planner.records import Alternative, Operation, Slot
from planner.replan.clock import Clock
from planner.replan.pins import Scene, place_pins
from planner.shop import HoursKind, HoursRow, Person, Shop, What
from tests.trade import stations
from tests.week import MONDAY, a_week_shop, weekdays

NOW = 500
"""Monday 8:20; the shop works from 420 to 720 and from 750 to 930."""
ANN = Person(name="Ann", stations=("Bender", "Bench", "Notcher"))
BOB = Person(name="Bob", stations=("Bender", "Bench"))
DIE = {What.DIE: "die"}


def a_shop(**changes: Any) -> Shop:
    return a_week_shop(**({"people": (ANN, BOB)} | changes))


def work(key: str, *ways: Alternative, **changes: Any) -> Operation:
    """An hour at the bender with the one die, unless told otherwise."""
    alternatives = ways or (a_way(),)
    return Operation(
        key=key, step=Step.BEND, lot="L01", alternatives=alternatives, count=1, **changes
    )


def a_way(station: str = "Bender", minutes: int = 60) -> Alternative:
    return Alternative(station=station, minutes=minutes, state=DIE if station == "Bender" else {})


def issued(key: str, start: int = 600, end: int = 660, who: str = "Ann") -> Slot:
    return Slot(
        operation=key, station="Bender", people=(who,), setup_start_min=start, setup_min=0,
        start_min=start, end_min=end, minutes=60, pieces=((start, end),),
    )  # fmt: skip


def running(key: str, end: int, who: str = "Ann", station: str = "Bender") -> Held:
    return Held(
        operation=key, why=HeldWhy.STARTED, station=station, people=(who,),
        setup_start_min=420, start_min=430, end_min=end,
    )  # fmt: skip


def placed(
    *rows: Progress,
    operations: tuple[Operation, ...] = (),
    slots: tuple[Slot, ...] = (),
    past: tuple[Held, ...] = (),
    shop: Shop | None = None,
) -> dict[str, Held]:
    """What is held in a scene of the bends A and B, and whatever else is given."""
    shop = shop or a_shop()
    known = {one.key: one for one in (work("A"), work("B"), *operations)}
    scene = Scene(
        shop=shop,
        clock=Clock(shop, MONDAY, 5),
        now_min=NOW,
        slots={one.operation: one for one in (*(issued(key) for key in known), *slots)},
        operations=known,
        past={one.operation: one for one in past},
    )
    return place_pins(scene, rows)


def refusals(*rows: Progress, **scene: Any) -> list[str]:
    with pytest.raises(InputError) as refused:
        placed(*rows, **scene)
    return [finding.message for finding in refused.value.findings]


def lock(key: str) -> Progress:
    return Progress((key,), State.LOCK)


def pin(key: str, **fields: Any) -> Progress:
    return Progress((key,), State.PIN, **fields)


def soon(key: str, **fields: Any) -> Progress:
    return pin(key, next=True, **fields)


def test_what_happened_is_no_lock_and_no_pin() -> None:
    rows = [Progress(("A",), state, start_min=600) for state in (State.OPEN, State.DONE)]
    assert placed(*rows) == {}


def test_work_that_is_no_more_is_told_once() -> None:
    assert refusals(lock("Z")) == ["Z is no work of the shop any more: delete it."]


def test_a_pin_says_when() -> None:
    assert refusals(pin("A")) == [
        "A is pinned, but to no time: give a Start such as next or Tuesday."
    ]


def test_a_lock_to_a_time_that_has_passed_is_refused() -> None:
    slots = (issued("A", NOW - 1, NOW + 59),)
    assert (
        "A was issued for Mon 30 Nov 8:19, which has passed" in refusals(lock("A"), slots=slots)[0]
    )
    assert placed(lock("A"), slots=(issued("A", NOW, NOW + 60),))["A"].start_min == NOW


def closed(who: str, start: int, end: int) -> Shop:
    row = HoursRow(who=who, day=MONDAY, kind=HoursKind.CLOSED, start_min=start, end_min=end)
    return a_shop(hours=(*a_shop().hours, row))


@pytest.mark.parametrize(
    "scene",
    [
        {"operations": (work("A", a_way("Bench")),)},
        {"operations": (work("A", a_way(minutes=61)),)},
        {"shop": a_shop(people=(BOB,))},
        {"shop": closed("Ann", 590, 601)},
        {"shop": closed("Bender", 620, 630)},
    ],
    ids=["station", "minutes", "people", "begins", "pauses"],
)
def test_a_lock_that_the_shop_cannot_keep_any_more_is_refused(scene: dict[str, Any]) -> None:
    assert "A cannot stay at Mon 30 Nov 10:00 on Bender" in refusals(lock("A"), **scene)[0]


def test_a_lock_needs_nobody_but_its_own_people() -> None:
    assert placed(lock("A"), shop=a_shop(people=(ANN,)))["A"].people == ("Ann",)
    assert placed(lock("A"), shop=closed("Bob", 420, 930))["A"].start_min == 600


def test_a_lock_begins_and_ends_when_it_was_to_whatever_the_breaks() -> None:
    """Half an hour before the break and half an hour after it, or all of it in one."""
    slots = (issued("A", 690, 780),)
    assert placed(lock("A"), slots=slots)["A"].end_min == 780
    late = HoursRow(who="Ann", day=MONDAY, kind=HoursKind.CLOSED, start_min=690, end_min=720)
    shop = a_shop(hours=(*weekdays((420, 930)), late))
    assert "A cannot stay" in refusals(lock("A"), slots=slots, shop=shop)[0]


def test_work_may_begin_in_the_last_minute_before_a_break_and_now() -> None:
    slots = (issued("A", 719, 809),)
    assert placed(lock("A"), slots=slots)["A"].start_min == 719
    assert placed(pin("A", start_min=719))["A"].end_min == 809
    assert placed(soon("A"), past=(running("B", 719),))["A"].start_min == 719
    assert placed(pin("A", start_min=NOW))["A"].start_min == NOW


def test_of_a_lot_that_is_next_the_first_open_work_is() -> None:
    assert list(placed(Progress(("A", "B"), State.PIN, next=True))) == ["A"]
    assert list(placed(Progress(("A", "B"), State.LOCK))) == ["A", "B"]


def test_a_span_has_to_end_after_now() -> None:
    span = pin("A", start_min=420, end_min=NOW + 1, span=True)
    assert placed(span)["A"].end_min == NOW + 1
    passed = pin("A", start_min=420, end_min=NOW, span=True)
    assert "pinned to Mon 30 Nov 7:00, which has passed" in refusals(passed)[0]


def test_a_pin_may_name_the_station() -> None:
    either = (work("A", a_way("Bench"), a_way()),)
    assert placed(pin("A", start_min=600), operations=either)["A"].station == "Bender"
    there = pin("A", start_min=600, station="Bench")
    assert placed(there, operations=either)["A"].station == "Bench"


def test_pins_of_one_person_may_follow_each_other_to_the_minute() -> None:
    shop = a_shop(people=(ANN,))
    first = pin("A", start_min=600)
    for start in (540, 660):
        assert placed(first, pin("B", start_min=start), shop=shop)["B"].people == ("Ann",)
    for start in (541, 659):
        assert "is off or held then" in refusals(first, pin("B", start_min=start), shop=shop)[0]


def test_next_waits_for_what_is_before_it() -> None:
    after = (work("B", after=("A",)),)
    assert refusals(soon("B"), operations=after) == ["B cannot be next: A has not begun; pin that."]
    begun = (work("A", a_way("Bench")), *after)
    one = placed(soon("B"), operations=begun, past=(running("A", 570, station="Bench"),))["B"]
    assert one.start_min == 570
    two = placed(soon("A"), soon("B"), operations=after)
    assert two["A"].start_min == NOW + 15
    assert two["B"].start_min == two["A"].end_min


def test_next_waits_for_all_that_is_before_it_and_for_its_tube() -> None:
    bench, notch = a_way("Bench"), a_way("Notcher")
    both = (work("B", after=("A", "C")), work("A", bench), work("C", notch))
    past = (running("A", 560, "Bob", "Bench"), running("C", 590, "Ann", "Notcher"))
    assert placed(soon("B"), operations=both, past=past)["B"].start_min == 590
    assert "has not begun" in refusals(soon("B"), operations=both, past=past[:1])[0]
    assert placed(soon("B"), operations=(work("B", release_min=640),))["B"].start_min == 640


def test_next_goes_where_it_is_complete_first_or_where_it_is_told() -> None:
    either = (work("A", a_way("Bench", 90), a_way()),)
    assert placed(soon("A"), operations=either)["A"].station == "Bender"
    assert placed(soon("A", station="Bench"), operations=either)["A"].station == "Bench"


def test_next_needs_somebody_where_the_shop_names_people() -> None:
    alone = (Person(name="Ann", stations=("Notcher",)),)
    assert "nobody may run its station" in refusals(soon("A"), shop=a_shop(people=alone))[0]
    one = placed(soon("A"), shop=a_shop(people=()))["A"]
    assert (one.people, one.start_min) == ((), NOW + 15)


def test_next_waits_for_its_station_and_its_people_alone() -> None:
    notch = (work("C", a_way("Notcher")), work("D", a_way("Bench")))
    runs = running("D", 590, "Ann", "Bench")
    assert placed(soon("C"), operations=notch, past=(runs,))["C"].start_min == 590
    assert placed(soon("A"), operations=notch, past=(runs,))["A"].people == ("Bob",)
    shared = a_shop(stations=stations(notcher={"base": "Frame"}, bench={"base": "Frame"}))
    runs = running("D", 590, "Bob", "Bench")
    assert placed(soon("C"), operations=notch, past=(runs,))["C"].start_min == NOW
    assert placed(soon("C"), operations=notch, past=(runs,), shop=shared)["C"].start_min == 590
