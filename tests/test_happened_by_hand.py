"""What has happened by now in weeks made by hand: what late work holds up, to the minute."""

from __future__ import annotations

from collections.abc import Mapping

import pytest

from planner.errors import Finding, InputError
from planner.held import Held, HeldWhy, Replan
from planner.progress import Progress, State
from planner.records import Slot
from planner.replan.clock import Clock
from planner.replan.history import happened
from planner.shop import Shop
from tests.test_happened import issued
from tests.test_pins_by_hand import a_shop, a_way, closed, work
from tests.trade import stations
from tests.week import MONDAY

NOW = 600
"""Monday 10:00; the shop works from 420 to 720 and from 750 to 930."""


def slot(
    key: str, start: int, end: int, station: str = "Bender", who: str = "Ann", setup: int = 0
) -> Slot:
    """Work of one or more people, such as `Ann Bob`."""
    return Slot(
        operation=key, station=station, people=tuple(who.split()), setup_start_min=start - setup,
        setup_min=setup, start_min=start, end_min=end, minutes=end - start, pieces=((start, end),),
    )  # fmt: skip


def past(
    *rows: Progress,
    slots: list[Slot],
    now: int = NOW,
    after: Mapping[str, tuple[str, ...]] | None = None,
    shop: Shop | None = None,
    replan: Replan | None = None,
) -> dict[str, Held]:
    """What has happened, and nothing was guessed for it."""
    held, guessed = looked_back(*rows, slots=slots, now=now, after=after, shop=shop, replan=replan)
    assert not guessed
    return held


def looked_back(
    *rows: Progress,
    slots: list[Slot],
    now: int = NOW,
    after: Mapping[str, tuple[str, ...]] | None = None,
    shop: Shop | None = None,
    replan: Replan | None = None,
) -> tuple[dict[str, Held], tuple[Finding, ...]]:
    shop = shop or a_shop()
    operations = tuple(
        work(one.operation, a_way(one.station), after=(after or {}).get(one.operation, ()))
        for one in slots
    )
    update = {"slots": tuple(slots), "operations": operations, "shop": shop, "replan": replan}
    plan = issued().model_copy(update=update)
    found = happened(plan, Clock(shop, MONDAY, 5), now, rows)
    return found.held, found.guessed


def done(key: str, start: int | None = None, end: int | None = None, station: str = "") -> Progress:
    return Progress((key,), State.DONE, start, end, station=station)


def started(key: str, start: int, end: int) -> Progress:
    return Progress((key,), State.STARTED, start, end)


def times(held: Held) -> tuple[int, int, bool]:
    return held.start_min, held.end_min, held.actual


def test_a_lock_or_a_pin_reports_nothing() -> None:
    for state in (State.LOCK, State.PIN):
        held = past(Progress(("A",), state, 440), slots=[slot("A", 430, 490)])
        assert times(held["A"]) == (430, 490, False)


def test_late_work_holds_up_its_station_and_its_people_and_nobody_else() -> None:
    slots = [
        slot("A", 430, 490),
        slot("B", 490, 520, who="Bob"),
        slot("C", 490, 520, "Bench", "Ann"),
        slot("D", 490, 520, "Notcher", "Bob"),
    ]
    held = past(done("A", 430, 500), slots=slots)
    assert times(held["A"]) == (430, 500, True)
    assert times(held["B"]) == times(held["C"]) == (500, 530, True)
    assert times(held["D"]) == (490, 520, False)


def test_late_work_holds_up_what_shares_its_base() -> None:
    slots = [slot("A", 430, 490, "Notcher"), slot("B", 490, 520, "Bench", "Bob")]
    assert past(done("A", 430, 500), slots=slots)["B"].start_min == 490
    shared = a_shop(stations=stations(notcher={"base": "Frame"}, bench={"base": "Frame"}))
    assert past(done("A", 430, 500), slots=slots, shop=shared)["B"].start_min == 500


def test_work_waits_for_the_last_of_what_is_before_it() -> None:
    slots = [
        slot("A", 430, 490, "Saw", "Ann"),
        slot("C", 430, 490, "Notcher", "Bob"),
        slot("B", 490, 520, "Bench", "Zed"),
    ]
    rows = (done("A", 430, 500), done("C", 430, 510))
    assert times(past(*rows, slots=slots, after={"B": ("A", "C")})["B"]) == (510, 540, True)
    on_time = (done("A", 430, 490), done("C", 430, 490))
    assert times(past(*on_time, slots=slots, after={"B": ("A", "C")})["B"]) == (490, 520, False)


def test_who_is_not_of_the_shop_any_more_did_nothing() -> None:
    assert past(slots=[slot("A", 430, 490, who="Ann Zed")])["A"].people == ("Ann",)


def test_what_was_on_time_went_as_issued_whatever_the_hours_are_now() -> None:
    held = past(slots=[slot("A", 430, 490)], shop=closed("Ann", 440, 450))
    assert times(held["A"]) == (430, 490, False)


def test_late_work_begins_in_the_last_minute_before_a_break() -> None:
    slots = [slot("A", 430, 490), slot("B", 490, 520, who="Bob")]
    assert times(past(done("A", 430, 719), slots=slots, now=900)["B"]) == (719, 779, True)


def test_late_work_that_is_running_goes_on_without_who_is_off() -> None:
    slots = [slot("A", 430, 490), slot("B", 490, 650, who="Ann Bob")]
    shop = closed("Ann", 600, 930)
    held, (without,) = looked_back(done("A", 430, 500), slots=slots, shop=shop)
    assert without.message.startswith("B is running, but Ann, who was to be at it, is off by now")
    assert times(held["B"]) == (500, 660, True)
    assert held["B"].people == ("Bob",)
    assert held["A"].people == ("Ann",)


def test_what_nobody_reported_and_is_done_was_done_by_its_people() -> None:
    held = past(slots=[slot("A", 430, 490)], shop=closed("Ann", 600, 930))
    assert (held["A"].why, held["A"].people) == (HeldWhy.DONE, ("Ann",))


def test_two_reports_may_touch_and_not_overlap() -> None:
    slots = [slot("A", 430, 490), slot("B", 490, 520, who="Bob")]
    assert past(done("A", 430, 500), done("B", 500, 520), slots=slots)["B"].start_min == 500
    with pytest.raises(InputError) as refused:
        past(done("A", 430, 500), done("B", 499, 520), slots=slots)
    assert [finding.message for finding in refused.value.findings] == [
        "Bender cannot begin B at Mon 30 Nov 8:19 while A lasts until Mon 30 Nov 8:20: correct the "
        "times, or give those of both."
    ]


def test_a_report_that_leaves_too_little_time_for_what_was_before_is_refused() -> None:
    slots = [slot("Z", 420, 430), slot("A", 430, 490), slot("B", 490, 520, who="Bob")]
    with pytest.raises(InputError, match=r"Bender cannot begin B at Mon 30 Nov 7:25"):
        past(done("Z", 420, 430), done("B", 445, 475), slots=slots)


@pytest.mark.parametrize(
    ("begun", "start"), [(485, 425), (480, 420), (475, 420), (450, 420), (449, 389)]
)
def test_what_was_first_on_a_day_began_when_the_shop_opened_if_it_could(
    begun: int, start: int
) -> None:
    """It goes earlier, then quicker; before the shop opens only if it were too quick otherwise."""
    slots = [slot("A", 430, 490), slot("B", 490, 520, who="Bob")]
    assert times(past(done("B", begun, 520), slots=slots)["A"]) == (start, begun, True)
    tomorrow = [slot("A", 1870, 1930), slot("B", 1930, 1960, who="Bob")]
    held = past(done("B", begun + 1440, 1960), slots=tomorrow, now=2000)
    assert times(held["A"]) == (start + 1440, begun + 1440, True)


def test_a_changeover_began_when_the_work_before_it_had_ended() -> None:
    slots = [slot("A", 430, 490), slot("B", 505, 535, who="Bob", setup=15)]
    held = past(done("A", 430, 500), done("B", 505, 535), slots=slots)
    assert (held["B"].setup_start_min, held["B"].start_min) == (500, 505)


def test_what_could_be_in_time_as_issued_was_and_else_it_was_quicker() -> None:
    slots = [slot("A", 430, 490), slot("B", 490, 510), slot("C", 510, 540)]
    assert times(past(done("C", 510, 540), slots=slots)["A"]) == (430, 490, False)
    early = past(done("C", 509, 540), slots=slots)
    assert early["A"].end_min == 489
    assert early["B"].end_min == 509
    assert past(done("C", 500, 540), slots=slots)["A"].end_min < 485


def test_what_was_in_time_went_as_issued() -> None:
    slots = [slot("A", 430, 490), slot("C", 510, 540)]
    assert times(past(done("C", 550, 580), slots=slots)["A"]) == (430, 490, False)


def test_a_changeover_is_not_before_the_shop_opens_either() -> None:
    slots = [slot("A", 445, 490, setup=15), slot("B", 490, 520, who="Bob")]
    one = past(done("B", 475, 520), slots=slots)["A"]
    assert (one.setup_start_min, one.start_min, one.end_min) == (420, 434, 475)


def test_two_things_may_run_where_nobody_is_at_both() -> None:
    slots = [slot("A", 430, 610), slot("B", 430, 610, "Bench", "Bob")]
    rows = [Progress((key,), State.STARTED, 430, 620) for key in "AB"]
    assert [held.why for held in past(*rows, slots=slots).values()] == [HeldWhy.STARTED] * 2
    ann = [slot("A", 430, 610), slot("B", 430, 610, "Bench", "Ann")]
    for told in (rows[:1], rows[1:]):
        with pytest.raises(InputError, match=r"Ann was to run [AB] and [AB], and cannot"):
            past(*told, slots=ann)


def test_who_was_to_be_at_two_things_that_both_run_is_at_the_later_one() -> None:
    slots = [slot("A", 430, 610, who="Ann Bob"), slot("B", 430, 610, "Bench", "Ann")]
    rows = [started("A", 430, 620), started("B", 440, 620)]
    held, guessed = looked_back(*rows, slots=slots)
    assert (held["A"].people, held["B"].people) == (("Bob",), ("Ann",))
    assert [finding.message for finding in guessed] == [
        "A and B both run, and Ann was to be at both: taken to be at B, which began later. If A "
        "has ended, write done under State in its row of Progress, with its End."
    ]


def runs(key: str, start: int, note: str = "") -> Progress:
    return Progress((key,), State.STARTED, start, note=note)


def test_a_run_that_nobody_ended_had_ended_when_the_next_began() -> None:
    slots = [slot("A", 430, 490), slot("B", 490, 700), slot("C", 490, 520, "Bench", "Bob")]
    held, guessed = looked_back(runs("A", 430), runs("B", 540), slots=slots, now=600)
    assert (held["A"].why, times(held["A"])) == (HeldWhy.DONE, (430, 540, True))
    assert [finding.message for finding in guessed] == [
        "A is said to be running, but B began at Mon 30 Nov 9:00: it is taken to have ended by "
        "then. If you know better, write done under State in its row of Progress, with its End."
    ]
    after = {"C": ("A",)}
    held, _ = looked_back(runs("A", 430), runs("C", 550), slots=slots, now=560, after=after)
    assert times(held["A"])[:2] == (430, 550)
    elsewhere = looked_back(runs("A", 430), done("C", 550, 560), slots=slots, now=600)[0]
    assert (elsewhere["A"].why, elsewhere["A"].end_min) == (HeldWhy.STARTED, 615)


def test_a_run_that_stands_still_or_should_go_on_is_not_taken_to_have_ended() -> None:
    slots = [slot("A", 430, 490), slot("B", 490, 700)]
    for row, now in ((runs("A", 430, "paused since 8:30"), 600), (runs("A", 460), 510)):
        with pytest.raises(InputError, match=r"Bender cannot begin B .* while A lasts until"):
            looked_back(row, runs("B", 500), slots=slots, now=now)


def set_up(key: str, start: int | None = None) -> Progress:
    return Progress((key,), State.SET_UP, start)


def test_what_is_being_changed_over_to_runs_when_that_is_through() -> None:
    slots = [slot("A", 430, 490), slot("B", 610, 640, setup=15)]
    held = past(set_up("B", 595), slots=slots, now=600)
    assert (held["B"].why, held["B"].setup_start_min) == (HeldWhy.STARTED, 595)
    assert times(held["B"]) == (610, 640, True)
    late = past(set_up("B", 560), slots=slots, now=600)["B"]
    assert (late.setup_start_min, *times(late)) == (560, 601, 631, True)
    unknown = past(set_up("B"), slots=slots, now=600)["B"]
    assert (unknown.setup_start_min, unknown.start_min) == (595, 610)
    with pytest.raises(InputError, match="set-up of B cannot have begun at Mon 30 Nov 10:01"):
        past(set_up("B", 601), slots=slots, now=600)


def test_a_set_up_says_nothing_of_the_tube_that_it_waits_for() -> None:
    slots = [slot("Z", 430, 598, "Saw", "Bob"), slot("B", 610, 640, setup=15)]
    after = {"B": ("Z",)}
    held = past(set_up("B", 590), slots=slots, now=600, after=after)
    assert times(held["Z"]) == (430, 598, False)
    waits = past(started("Z", 430, 700), set_up("B", 590), slots=slots, now=602, after=after)
    assert times(waits["B"])[:2] == (700, 760)
    ahead = past(started("Z", 430, 700), set_up("B", 580), slots=slots, now=602, after=after)
    assert "B" not in ahead
    opened = past(Progress(("Z",), State.OPEN), set_up("B", 590), slots=slots, after=after)
    assert "B" not in opened


def test_what_waits_for_work_that_is_open_has_not_begun() -> None:
    slots = [slot("Z", 430, 470, "Saw"), slot("B", 490, 510), slot("C", 510, 540)]
    opened = Progress(("Z",), State.OPEN)
    held = past(opened, done("C", 510, 540), slots=slots, after={"B": ("Z",)})
    assert list(held) == ["C"]


def test_a_report_may_name_another_station() -> None:
    held = past(done("A", 430, 490, "Bench"), slots=[slot("A", 430, 490)])["A"]
    assert (held.station, held.actual) == ("Bench", True)
    assert not past(done("A", 430, 490), slots=[slot("A", 430, 490)])["A"].actual


def test_what_was_recorded_when_the_week_was_planned_again_stays_a_record() -> None:
    one = Held(
        operation="A", why=HeldWhy.DONE, station="Bender", people=("Ann",), setup_start_min=430,
        start_min=430, end_min=490, actual=True,
    )  # fmt: skip
    slots = [slot("A", 430, 490), slot("B", 490, 510)]
    for actual in (True, False):
        record = one.model_copy(update={"actual": actual})
        replan = Replan(now_min=500, held=(record,), issued=(), moved=())
        for rows in ((), (done("A", 430, 490),)):
            held = past(*rows, slots=slots, replan=replan)
            assert (held["A"].actual, held["B"].actual) == (actual, False)
