"""The changeover ledger and the yardsticks."""

from datetime import date

from planner.change import Change
from planner.ledger import ledger_rows, lines_done, yardstick
from planner.records import Slot
from planner.shop import What
from tests.trade import a_line
from tests.week import DAY, MONDAY


def a_slot(operation: str, station: str, start: int, **changes: int) -> Slot:
    made = tuple(
        Change(what=What(name), before="a", after="b", minutes=minutes)
        for name, minutes in changes.items()
    )
    setup = sum(changes.values())
    return Slot(
        operation=operation,
        station=station,
        changes=made,
        setup_start_min=start - setup,
        setup_min=setup,
        start_min=start,
        end_min=start + 30,
        minutes=30,
        pieces=((start, start + 30),),
    )


SLOTS = (
    a_slot("a", "Finisher", 500, OD=12, belt=5),
    a_slot("b", "Finisher", 600, OD=12),
    a_slot("c", "Finisher", 500 + DAY, belt=5),
)


def test_rows_add_up_by_station_day_and_kind() -> None:
    rows = ledger_rows(SLOTS, MONDAY)
    assert [(row.day, row.what, row.minutes, row.count) for row in rows] == [
        (MONDAY, What.OD, 24, 2),
        (MONDAY, What.BELT, 5, 1),
        (date(2026, 12, 1), What.BELT, 5, 1),
    ]


def test_a_change_without_minutes_counts_as_one() -> None:
    (row,) = ledger_rows((a_slot("a", "Saw", 500, OD=0), a_slot("b", "Saw", 600, OD=3)), MONDAY)
    assert (row.minutes, row.count) == (3, 2)


def test_rows_follow_the_order_of_stations_days_and_kinds() -> None:
    slots = (a_slot("d", "Saw", 500 + DAY, OD=3), a_slot("e", "Saw", 500, OD=3), *SLOTS)
    places = [(row.station, row.day.day, row.what) for row in ledger_rows(slots, MONDAY)]
    assert places == [
        ("Saw", 30, What.OD),
        ("Saw", 1, What.OD),
        ("Finisher", 30, What.OD),
        ("Finisher", 30, What.BELT),
        ("Finisher", 1, What.BELT),
    ]


def test_a_changeover_belongs_to_the_day_on_which_it_begins() -> None:
    midnight = a_slot("d", "Finisher", DAY + 5, OD=12)
    assert ledger_rows((midnight,), MONDAY)[0].day == MONDAY


def test_a_line_is_done_with_its_last_operation() -> None:
    done = lines_done({"1187/1": "b"}, SLOTS, {"1187/1": 600})
    assert (done[0].done_min, done[0].due_min) == (630, 600)


def test_lateness_counts_once_plain_and_once_by_weight() -> None:
    line = a_line(weight=3)
    done = lines_done({line.key: "b"}, SLOTS, {line.key: 600})
    found = yardstick("this plan", SLOTS, done, {line.key: line})
    assert (found.late_lines, found.late_min, found.weighted_late_min) == (1, 30, 90)
    assert found.changeover_min == 34
    assert found.by_what == {What.OD: 24, What.BELT: 10}
