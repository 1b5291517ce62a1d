"""What stands still: it goes on, or what is left of it is planned again after what was put in."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

import pytest

from planner.audit import audit
from planner.changeovers import MountedState
from planner.errors import InputError
from planner.finisher.wear import belt_passes
from planner.held import Held, HeldWhy, Paused, Replan
from planner.plan import make_plan
from planner.progress import Progress, State
from planner.records import Plan, Slot
from planner.replan import replan
from planner.replan.clock import Clock
from planner.replan.history import History, happened
from planner.shop import Person, Shop, What
from tests.test_happened import issued as issued_week
from tests.test_happened_by_hand import slot
from tests.test_pins_by_hand import a_shop, a_way, work
from tests.week import MONDAY, a_week_shop, options, some_orders, some_stock

NOW = 600
"""Monday 10:00; the shop works from 420 to 720 and from 750 to 930."""


def scene(
    *rows: Progress,
    slots: Sequence[Slot],
    now: int = NOW,
    before: Sequence[Paused] = (),
    replanned: Replan | None = None,
    states: Mapping[str, MountedState] | None = None,
) -> History:
    """What has happened in a scene of ten pieces an operation."""
    shop = a_shop()
    if before:
        replanned = Replan(now_min=430, held=(), issued=(), moved=(), paused=tuple(before))
    ways = {one.operation: a_way(one.station) for one in slots}
    for key, state in (states or {}).items():
        ways[key] = ways[key].model_copy(update={"state": state})
    operations = tuple(work(key, way).model_copy(update={"count": 10}) for key, way in ways.items())
    update = {"slots": tuple(slots), "operations": operations, "shop": shop, "replan": replanned}
    return happened(issued_week().model_copy(update=update), Clock(shop, MONDAY, 5), now, rows)


def paused(start: int | None, since: int | None, **more: object) -> Progress:
    return Progress(("A",), State.PAUSED, start, since, **more)  # type: ignore[arg-type]  # by name


def started(key: str, start: int, **more: object) -> Progress:
    return Progress((key,), State.STARTED, start, **more)  # type: ignore[arg-type]  # by name


A, B = slot("A", 430, 490), slot("B", 490, 700)
BESIDE = slot("C", 490, 700, station="Notcher")
"""At another station, by the same person."""


def test_a_run_stands_still_and_what_was_put_in_at_its_station_runs() -> None:
    found = scene(paused(430, 454), started("B", 460), slots=[A, B])
    assert list(found.held) == ["B"]
    one = found.paused["A"]
    assert (one.start_min, one.end_min, one.left, one.of) == (430, 454, 36, 60)
    assert (one.station, one.people, one.pieces) == ("Bender", ("Ann",), None)
    assert found.guessed == ()


def test_pieces_say_better_than_minutes_what_is_left() -> None:
    found = scene(paused(430, 454, pieces=7), started("B", 460), slots=[A, B])
    assert (found.paused["A"].left, found.paused["A"].of) == (3, 10)


def test_minutes_say_how_long_it_worked_where_it_stood_still_before() -> None:
    found = scene(paused(430, 454, minutes=12), started("B", 460), slots=[A, B])
    assert (found.paused["A"].left, found.paused["A"].of) == (48, 60)


def test_a_run_that_took_longer_than_planned_needs_a_quarter_more() -> None:
    found = scene(paused(430, 498), started("B", 500), slots=[A, B])
    assert (found.paused["A"].left, found.paused["A"].of) == (15, 60)


def test_it_goes_on_where_nothing_else_was_begun_since() -> None:
    held = scene(paused(430, 454), slots=[A, B]).held["A"]
    assert (held.why, held.start_min, held.end_min) == (HeldWhy.STARTED, 430, NOW + 36)
    earlier = Progress(("B",), State.DONE, 420, 430)
    assert "A" in scene(earlier, paused(430, 454), slots=[A, B]).held


def test_what_was_put_in_may_be_done_or_changed_over_to() -> None:
    for row in (Progress(("B",), State.DONE, 460, 580), Progress(("B",), State.SET_UP, 590)):
        assert "A" in scene(paused(430, 454), row, slots=[A, B]).paused


def test_a_pause_without_an_end_began_when_the_station_turned_to_what_was_put_in() -> None:
    found = scene(paused(430, None), started("B", 460), slots=[A, B])
    one = found.paused["A"]
    assert (one.start_min, one.end_min, one.left, one.of) == (430, 460, 30, 60)
    (told,) = found.guessed
    assert "A is paused without an End, and B was put in at Mon 30 Nov 7:40" in told.message
    assert "taken to stand still since Mon 30 Nov 7:40" in told.message
    set_up = Progress(("B",), State.SET_UP, 590)
    assert scene(paused(430, None), set_up, slots=[A, B]).paused["A"].end_min == 590
    over = Progress(("B",), State.DONE, None, 580, minutes=100)
    assert scene(paused(430, None), over, slots=[A, B]).paused["A"].end_min == 480


def test_the_changeover_to_what_was_put_in_is_no_work_on_what_stands_still() -> None:
    other = {What.DIE: "other die"}
    found = scene(paused(430, None), started("B", 460), slots=[A, B], states={"B": other})
    assert (found.paused["A"].end_min, found.paused["A"].left) == (445, 45)
    soon = scene(paused(430, None), started("B", 436), slots=[A, B], states={"B": other})
    assert soon.paused["A"].end_min == 436


def test_a_pause_that_was_written_down_late_began_no_later_than_what_was_put_in() -> None:
    late = paused(430, 590, minutes=160)
    found = scene(late, started("B", 460), slots=[A, B])
    assert (found.paused["A"].end_min, found.paused["A"].left) == (460, 30)
    (told,) = found.guessed
    assert "said to stand still since Mon 30 Nov 9:50, but B was put in at" in told.message
    stood_before = scene(paused(430, 590, minutes=12), started("B", 460), slots=[A, B])
    assert stood_before.paused["A"].left == 48


def test_what_the_issued_plan_knew_to_have_begun_was_put_in_too() -> None:
    ran = Held(
        operation="B", why=HeldWhy.STARTED, station="Bender", people=("Ann",), actual=True,
        setup_start_min=450, start_min=460, end_min=700,
    )  # fmt: skip
    replanned = Replan(now_min=470, held=(ran,), issued=(), moved=())
    there = slot("B", 460, 700)
    found = scene(paused(430, None), slots=[there, slot("A", 700, 760)], replanned=replanned)
    assert (found.paused["A"].end_min, found.held["B"].start_min) == (450, 460)


def test_it_stands_still_where_its_people_run_something_else() -> None:
    assert "A" in scene(paused(430, 454), started("C", 460), slots=[A, BESIDE]).paused
    over = Progress(("C",), State.DONE, 460, 580)
    assert "A" in scene(paused(430, 454), over, slots=[A, BESIDE]).held
    by_bob = started("C", 460, people=("Bob",))
    assert "A" in scene(paused(430, 454), by_bob, slots=[A, BESIDE]).held


def test_a_run_that_goes_on_after_what_was_put_in_ends_by_the_minutes_it_worked() -> None:
    put_in = Progress(("B",), State.DONE, 454, 580)
    held = scene(started("A", 580, minutes=44), put_in, slots=[A, B]).held["A"]
    assert (held.start_min, held.end_min) == (580, NOW + 16)


def test_the_overlap_of_two_runs_says_what_to_write() -> None:
    rows = (started("A", 430, note="in the way"), started("B", 460))
    with pytest.raises(InputError, match="say done of A with its End, paused if it stands still"):
        scene(*rows, slots=[A.model_copy(update={"minutes": 200}), B])


def test_what_was_to_come_between_is_asked_for_where_it_should_have_begun_by_now() -> None:
    between, later = slot("C", 490, 520), slot("B", 520, 700)
    rows = (paused(430, 454), started("B", 460))
    with pytest.raises(InputError, match="say open of C if it has not begun, else when it did"):
        scene(*rows, slots=[A, between, later])
    opened = scene(*rows, Progress(("C",), State.OPEN), slots=[A, between, later])
    assert list(opened.held) == ["B"]


@pytest.mark.parametrize(
    ("row", "words"),
    [
        (paused(430, 601), "A cannot stand still from Mon 30 Nov 10:01 on, after now"),
        (paused(430, 454, pieces=10), "A is said to be paused, and all its 10 are done: say done"),
        (paused(454, 430), "A ends at Mon 30 Nov 7:10, not after it begins"),
    ],
)
def test_a_pause_that_cannot_be_is_refused(row: Progress, words: str) -> None:
    with pytest.raises(InputError, match=words):
        scene(row, started("B", 460), slots=[A, B])


BEFORE = Paused(
    operation="A",
    station="Bender",
    setup_start_min=400,
    start_min=400,
    end_min=424,
    left=36,
    of=60,
)
"""It stood still when the issued plan was made, which has 36 minutes of it left."""
REST = slot("A", 800, 836)


def test_what_stood_still_before_does_so_until_it_is_said_to_go_on() -> None:
    kept = {"A": BEFORE}
    assert scene(slots=[REST, B], before=[BEFORE]).paused == kept
    assert scene(paused(400, 424), slots=[REST, B], before=[BEFORE]).paused == kept
    open_ = Progress(("A",), State.OPEN)
    assert scene(open_, slots=[REST, B], before=[BEFORE]).paused == kept
    goes_on = scene(started("A", 590), slots=[REST], before=[BEFORE])
    assert goes_on.paused == {}
    assert goes_on.held["A"].end_min == 590 + 36
    by_pieces = scene(started("A", 590, pieces=8), slots=[REST], before=[BEFORE])
    assert by_pieces.held["A"].end_min == NOW + 12


def test_what_stood_still_is_kept_as_a_part_of_what_goes_on_or_stands_still_once_more() -> None:
    still = scene(slots=[REST, B], before=[BEFORE])
    assert still.resumed == ()
    goes_on = scene(started("A", 590), slots=[REST], before=[BEFORE])
    assert goes_on.resumed == (BEFORE,)
    all_of_it = scene(started("A", 400, minutes=30), slots=[REST], before=[BEFORE])
    assert all_of_it.resumed == ()
    again = scene(paused(560, 578), started("B", 580), slots=[REST, B], before=[BEFORE])
    assert again.resumed == (BEFORE,)
    assert again.paused["A"].start_min == 560


def test_what_was_put_in_is_changed_over_to_after_what_gave_way() -> None:
    later = B.model_copy(update={"setup_start_min": 470, "setup_min": 20})
    found = scene(paused(430, 454), started("B", 460), slots=[A, later])
    assert (found.paused["A"].setup_start_min, found.held["B"].setup_start_min) == (430, 454)


def test_what_was_to_come_between_has_not_gone_before_what_was_put_in() -> None:
    between = slot("C", 490, 520)
    after = slot("B", 520, 700)
    rows = (paused(430, 454), started("B", 460))
    found = scene(*rows, slots=[A, between, after], now=480)
    assert list(found.held) == ["B"]


def test_of_what_stands_still_once_more_less_is_left() -> None:
    found = scene(paused(560, 578), started("B", 580), slots=[REST, B], before=[BEFORE])
    assert (found.paused["A"].left, found.paused["A"].of) == (3, 10)
    half = scene(paused(560, 578, pieces=5), started("B", 580), slots=[REST, B], before=[BEFORE])
    assert (half.paused["A"].left, half.paused["A"].of) == (5, 10)


PEOPLE = (
    Person(name="Ana", stations=("Finisher", "Saw", "Notcher", "Bender")),
    Person(name="Bo", stations=("Finisher", "Saw", "Notcher", "Bender")),
)


def week(people: tuple[Person, ...] = ()) -> tuple[Shop, Plan]:
    shop = a_week_shop(people=people)
    lines = [line.model_copy(update={"quantity": 60}) for line in some_orders(6)]
    return shop, make_plan(lines, some_stock(), shop, options(seconds=0.2))


def again(issued: Plan, shop: Shop, now: int, *rows: Progress) -> Plan:
    """Planned again, and proven."""
    plan = replan(
        issued, issued.orders, issued.stock, shop, options(seconds=0.2, start_min=now), rows
    )
    assert [str(each) for each in audit(plan)] == []
    return plan


@pytest.mark.parametrize("people", [(), PEOPLE])
def test_a_week_goes_on_after_a_run_was_put_in_and_the_rest_comes_later(
    people: tuple[Person, ...],
) -> None:
    shop, issued = week(people)
    finishing = sorted(
        (one for one in issued.slots if one.operation.endswith(".P1")),
        key=lambda one: one.start_min,
    )
    first, other = finishing[0], finishing[-1]
    assert first.station == other.station
    since = first.start_min + 6
    rows = (
        Progress((first.operation,), State.PAUSED, first.start_min, since),
        Progress((other.operation,), State.STARTED, since + 4, people=other.people),
    )
    plan = again(issued, shop, since + 10, *rows)
    slots = {one.operation: one for one in plan.slots}
    assert plan.replan
    (one,) = plan.replan.paused
    assert (one.operation, one.left, one.of) == (first.operation, first.minutes - 6, first.minutes)
    assert slots[first.operation].minutes == first.minutes - 6
    assert one.changes == first.changes
    assert first.setup_min
    here = [each.setup_min for each in plan.slots]
    assert plan.yardsticks[0].changeover_min == sum(here) + first.setup_min
    assert sum(row.minutes for row in plan.ledger) == sum(here) + first.setup_min
    mounted = {each.what: each.after for each in one.changes}
    for change in slots[other.operation].changes:
        assert change.before == mounted[change.what]
    if slots[first.operation].station == first.station:
        assert slots[first.operation].start_min >= slots[other.operation].end_min
    held: dict[str, Held] = {each.operation: each for each in plan.replan.held}
    assert held[other.operation].why is HeldWhy.STARTED
    later = again(plan, shop, since + 12, Progress((other.operation,), State.STARTED, since + 4))
    assert later.replan
    assert later.replan.paused == plan.replan.paused
    rest = next(each for each in later.slots if each.operation == first.operation)
    last = again(later, shop, rest.start_min + 2)
    assert last.replan
    assert last.replan.resumed == plan.replan.paused
    assert last.yardsticks[0].changeover_min == first.setup_min + sum(
        each.setup_min for each in last.slots
    )


def test_a_week_goes_on_after_a_pause_of_which_nobody_wrote_the_end() -> None:
    shop, issued = week()
    passes = [one for one in issued.slots if one.operation.endswith(".P1")]
    first, *_, other = sorted(passes, key=lambda one: one.start_min)
    begun = first.start_min + 40
    plan = again(
        issued,
        shop,
        begun + 120,
        Progress((first.operation,), State.PAUSED, first.start_min, pieces=1),
        Progress((other.operation,), State.DONE, begun, begun + 50),
    )
    assert plan.replan
    (one,) = plan.replan.paused
    done = next(held for held in plan.replan.held if held.operation == other.operation)
    assert first.start_min < one.end_min < begun
    assert done.setup_start_min >= one.end_min


def test_a_pass_that_gave_way_wears_its_belt_by_what_was_done_and_then_by_the_rest() -> None:
    shop, issued = week()
    whole = {work.operation: work for work in belt_passes(issued)}
    passes = sorted(
        (one for one in issued.slots if one.operation.endswith(".P1")),
        key=lambda one: one.start_min,
    )
    first, other = passes[0], passes[-1]
    since = first.start_min + 6
    plan = again(
        issued,
        shop,
        since + 10,
        Progress((first.operation,), State.PAUSED, first.start_min, since, pieces=1),
        Progress((other.operation,), State.STARTED, since + 4),
    )
    done, rest = (work for work in belt_passes(plan) if work.operation == first.operation)
    all_of_it = whole[first.operation]
    assert (done.done, rest.done) == (True, False)
    assert (done.before, done.pieces, rest.before, rest.pieces) == (0, 1, 1, all_of_it.pieces - 1)
    assert done.minutes == pytest.approx(all_of_it.minutes / all_of_it.pieces)
    assert done.minutes + rest.minutes == pytest.approx(all_of_it.minutes)
    assert done.area_m2 + rest.area_m2 == pytest.approx(all_of_it.area_m2)
    others = [work for work in belt_passes(plan) if work.operation != first.operation]
    assert sorted((whole[work.operation].minutes, work.minutes) for work in others) == sorted(
        (work.minutes, work.minutes) for work in others
    )
