"""Working hours: layers of rows, breaks, overtime, and what cannot be meant."""

from __future__ import annotations

from datetime import date, datetime
from itertools import pairwise

from hypothesis import given
from hypothesis import strategies as st

from planner.hours import (
    DAY_MIN,
    Interval,
    ahead_of,
    common,
    due_minute,
    end_of_day,
    moment,
    usual_spans,
    worked_between,
    working,
)
from planner.shop import HoursKind, HoursRow, Person, Shop, Station, StationKind

MONDAY = date(2026, 11, 30)


def hours(
    kind: str,
    start: str,
    end: str,
    weekday: int | None = 0,
    who: str = "shop",
    day: date | None = None,
) -> HoursRow:
    return HoursRow(
        who=who,
        weekday=None if day else weekday,
        day=day,
        kind=HoursKind(kind),
        start_min=minute(start),
        end_min=minute(end),
    )


def minute(clock: str) -> int:
    hour, minutes = clock.split(":")
    return int(hour) * 60 + int(minutes)


def a_shop(*rows: HoursRow) -> Shop:
    saw = Station(name="Saw", kind=StationKind.SAW)
    return Shop(stations=(saw,), hours=rows, people=(Person(name="Ann", stations=("Saw",)),))


def clock(pieces: tuple[Interval, ...]) -> list[str]:
    return [
        f"{moment(piece.start_min, MONDAY):%a %H:%M}-{moment(piece.end_min, MONDAY):%H:%M}"
        + (" overtime" if piece.overtime else "")
        for piece in pieces
    ]


def of_ann(*rows: HoursRow, days: int = 1) -> list[str]:
    return clock(working(a_shop(*rows), "Ann", MONDAY, days))


WORK = hours("work", "7:00", "15:30")
LUNCH = hours("break", "11:30", "12:00")


def test_a_break_cuts_the_day_in_two() -> None:
    assert of_ann(WORK, LUNCH) == ["Mon 07:00-11:30", "Mon 12:00-15:30"]


def test_a_day_without_rows_is_off() -> None:
    assert of_ann(WORK, days=7) == ["Mon 07:00-15:30"]


def test_rows_that_overlap_or_touch_are_one_interval() -> None:
    rows = (hours("work", "7:00", "10:00"), hours("work", "9:00", "12:00"))
    assert of_ann(*rows, hours("work", "12:00", "13:00")) == ["Mon 07:00-13:00"]


def test_hours_over_midnight_are_one_interval() -> None:
    late, early = hours("work", "22:00", "24:00"), hours("work", "0:00", "6:00", weekday=1)
    assert working(a_shop(late, early), "shop", MONDAY, 2) == (Interval(22 * 60, 30 * 60),)


def test_own_hours_replace_those_of_the_shop_with_their_breaks() -> None:
    assert of_ann(WORK, LUNCH, hours("work", "9:00", "13:00", who="Ann")) == ["Mon 09:00-13:00"]


def test_an_own_break_leaves_the_hours_of_the_shop() -> None:
    assert of_ann(WORK, hours("break", "9:00", "9:15", who="Ann")) == [
        "Mon 07:00-09:00",
        "Mon 09:15-15:30",
    ]


def test_hours_of_a_date_replace_those_of_its_weekday() -> None:
    assert of_ann(WORK, LUNCH, hours("work", "8:00", "10:00", day=MONDAY)) == ["Mon 08:00-10:00"]


def test_a_date_closed_by_the_shop_closes_those_with_weekday_hours_of_their_own() -> None:
    own = hours("work", "9:00", "13:00", who="Ann")
    assert of_ann(WORK, own, hours("closed", "0:00", "24:00", day=MONDAY)) == []


def test_somebody_may_work_on_a_date_on_which_the_shop_is_closed() -> None:
    closed = hours("closed", "0:00", "24:00", day=MONDAY)
    own = hours("overtime", "8:00", "12:00", day=MONDAY, who="Ann")
    assert of_ann(WORK, closed, own) == ["Mon 08:00-12:00 overtime"]


def test_overtime_on_a_date_lengthens_the_day() -> None:
    assert of_ann(WORK, hours("overtime", "15:30", "17:30", day=MONDAY)) == [
        "Mon 07:00-15:30",
        "Mon 15:30-17:30 overtime",
    ]


def test_where_overtime_overlaps_ordinary_hours_they_stay_ordinary() -> None:
    assert of_ann(WORK, hours("overtime", "15:00", "17:00")) == [
        "Mon 07:00-15:30",
        "Mon 15:30-17:00 overtime",
    ]


def test_common_hours_are_those_that_everybody_works() -> None:
    shop = a_shop(WORK, LUNCH, hours("work", "9:00", "13:00", who="Ann"))
    sets = (working(shop, "Saw", MONDAY, 1), working(shop, "Ann", MONDAY, 1))
    assert common(sets) == ((540, 690), (720, 780))


def test_common_hours_run_on_from_ordinary_hours_into_overtime() -> None:
    shop = a_shop(WORK, hours("overtime", "15:30", "17:30"))
    assert common([working(shop, "Saw", MONDAY, 1)]) == ((420, 1050),)


def test_a_due_date_alone_means_the_end_of_the_hours_of_that_day() -> None:
    assert end_of_day(a_shop(WORK), MONDAY) == datetime(2026, 11, 30, 15, 30)


def test_minutes_ahead_of_a_due_time_are_worked_ones_without_breaks_nights_and_overtime() -> None:
    late = hours("overtime", "15:30", "17:00")
    days = [
        row.model_copy(update={"weekday": day}) for day in (0, 1) for row in (WORK, LUNCH, late)
    ]
    spans = usual_spans(a_shop(*days), MONDAY, 2)
    due = DAY_MIN + 17 * 60
    assert ahead_of(spans, due, 120) == DAY_MIN + 13 * 60 + 30
    assert ahead_of(spans, due, 5 * 60) == DAY_MIN + 10 * 60
    assert ahead_of(spans, DAY_MIN + 8 * 60, 120) == 14 * 60 + 30
    assert ahead_of(spans, 8 * 60, 120) == 7 * 60
    assert worked_between(spans, 14 * 60 + 30, DAY_MIN + 8 * 60) == 120
    assert worked_between(spans, DAY_MIN + 15 * 60 + 26, due) == 4


def test_a_shop_without_hours_of_its_own_counts_every_minute() -> None:
    spans = usual_spans(a_shop(), MONDAY, 2)
    assert ahead_of(spans, 2 * DAY_MIN, 90) == 2 * DAY_MIN - 90
    assert ahead_of(spans, -30, 90) == -30


def test_a_due_date_on_a_closed_day_means_its_last_minute() -> None:
    assert end_of_day(a_shop(WORK), date(2026, 12, 1)) == datetime(2026, 12, 1, 23, 59)


def test_due_minutes_count_from_midnight_of_the_first_day() -> None:
    assert due_minute(datetime(2026, 12, 1, 15, 30), MONDAY) == DAY_MIN + 930
    assert due_minute(datetime(2026, 11, 29, 23, 0), MONDAY) == -60


a_row = st.builds(
    HoursRow,
    who=st.sampled_from(["shop", "Ann"]),
    weekday=st.sampled_from([0, 1]),
    kind=st.sampled_from(HoursKind),
    start_min=st.integers(0, 1440),
    end_min=st.integers(0, 1440),
)


@given(st.lists(a_row, max_size=8))
def test_intervals_are_sorted_disjoint_and_never_in_a_break_of_the_top_layer(
    rows: list[HoursRow],
) -> None:
    pieces = working(a_shop(*rows), "Ann", MONDAY, 2)
    for before, after in pairwise(pieces):
        assert before.end_min <= after.start_min
        assert before.end_min < after.start_min or before.overtime != after.overtime
    for row in rows:
        if row.who == "Ann" and row.kind in (HoursKind.BREAK, HoursKind.CLOSED):
            offset = (row.weekday or 0) * DAY_MIN
            assert not any(
                max(piece.start_min, row.start_min + offset)
                < min(piece.end_min, row.end_min + offset)
                for piece in pieces
            )
