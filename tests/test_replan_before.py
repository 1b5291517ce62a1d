"""Until when what nobody reported must have ended, for what was reported to begin after it."""

from __future__ import annotations

from collections.abc import Mapping

from planner.orders import Step
from planner.progress import Progress, State
from planner.records import Operation, Slot
from planner.replan.before import Bound, bounds

PLACES = {"Saw": "Saw", "Finisher": "Grinder", "Notcher": "Grinder", "Bender": "Bender"}


def a_slot(operation: str, station: str = "Saw", setup_start: int = 100, end: int = 160) -> Slot:
    """Ten minutes of changeover, then a run."""
    start = setup_start + 10
    return Slot(
        operation=operation, station=station, setup_start_min=setup_start, setup_min=10,
        start_min=start, end_min=end, minutes=end - start, pieces=((start, end),),
    )  # fmt: skip


def found(
    *slots: Slot,
    after: Mapping[str, tuple[str, ...]] | None = None,
    told: Mapping[str, int | None],
    done: tuple[str, ...] = (),
) -> dict[str, Bound]:
    """The bounds of slots in issued order. `told` has when an operation is said to have begun, or
    None where it is said to be open; `done` are said to be done and no more, and `after` has what
    each waits for."""
    operations = {
        slot.operation: Operation(
            key=slot.operation, step=Step.SAW, lot="L01", alternatives=(), count=1,
            after=(after or {}).get(slot.operation, ()),
        )
        for slot in slots
    }  # fmt: skip
    rows = {
        key: Progress((key,), State.OPEN if begun is None else State.DONE, begun)
        for key, begun in told.items()
    } | {key: Progress((key,), State.DONE) for key in done}
    return bounds(slots, operations, PLACES, rows)


def test_with_time_enough_it_went_as_long_as_issued_and_as_late_as_it_could() -> None:
    bound = Bound(begun_min=200, after=20)
    assert bound.times(a_slot("A"), free=100, ready=0) == (120, 130, 180)
    assert bound.times(a_slot("A"), free=120, ready=0) == (120, 130, 180)
    assert bound.times(a_slot("A"), free=100, ready=150) == (120, 150, 180)


def test_with_less_time_all_of_it_went_quicker_by_as_much() -> None:
    bound = Bound(begun_min=200, after=20)
    assert bound.times(a_slot("A"), free=140, ready=0) == (140, 148, 185)


def test_it_went_in_half_its_minutes_at_the_least() -> None:
    bound = Bound(begun_min=200, after=20)
    assert bound.times(a_slot("A"), free=160, ready=0) == (160, 165, 190)
    assert bound.times(a_slot("A"), free=161, ready=0) is None


def test_it_lasted_a_minute_at_least_once_its_tube_was_there() -> None:
    bound = Bound(begun_min=200, after=20)
    assert bound.times(a_slot("A"), free=160, ready=189) == (160, 189, 190)
    assert bound.times(a_slot("A"), free=160, ready=190) is None


def test_what_is_ahead_at_a_station_leaves_room_for_all_between() -> None:
    saws = [a_slot("A"), a_slot("B", setup_start=160, end=220), a_slot("C", setup_start=220)]
    assert found(*saws, told={"C": 500}) == {"A": Bound(500, 60), "B": Bound(500, 0)}
    assert found(*saws, told={"C": 500}, done=("B",)) == found(*saws, told={"C": 500})
    assert found(*saws, told={}) == {}


def test_attachments_of_a_base_are_one_place_and_other_stations_are_not() -> None:
    slots = [a_slot("A", "Finisher"), a_slot("S", "Saw"), a_slot("B", "Notcher")]
    assert found(*slots, told={"B": 300}) == {"A": Bound(300, 0)}


def test_what_is_said_to_be_open_has_not_ended_and_takes_no_room() -> None:
    saws = [a_slot("A"), a_slot("B"), a_slot("C")]
    assert found(*saws, told={"C": 500, "B": None}) == {"A": Bound(500, 0)}


def test_work_that_waits_for_it_counts_too_and_what_is_sooner_holds() -> None:
    slots = [a_slot("A"), a_slot("D", "Bender"), a_slot("E", "Notcher")]
    waits = {"D": ("A",), "E": ("A",)}
    for told in ({"D": 400, "E": 350}, {"D": 350, "E": 400}):
        assert found(*slots, after=waits, told=told) == {"A": Bound(350, 0)}


def test_of_two_reports_the_one_that_leaves_less_time_holds() -> None:
    """C begins at 500, but B is between, with 300 minutes; D, which is fed by A, begins at 400."""
    slots = [a_slot("A"), a_slot("B", end=400), a_slot("D", "Bender"), a_slot("C")]
    assert found(*slots, after={"D": ("A",)}, told={"C": 500, "D": 400}) == {
        "A": Bound(500, 300),
        "B": Bound(500, 0),
    }
    assert found(*slots, after={"D": ("A",)}, told={"C": 800, "D": 400})["A"] == Bound(400, 0)
