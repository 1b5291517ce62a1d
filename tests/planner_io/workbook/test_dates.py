"""Dates are read in the ways that people write them, and never guessed without saying so."""

from __future__ import annotations

import datetime as dt
import re

import pytest

from planner.errors import InputError
from planner_io.workbook.date_order import evidence
from planner_io.workbook.dates import DateHabit, Order, read_moment
from planner_io.workbook.grid import Value

START = DateHabit(start=dt.date(2026, 11, 30))
FOURTH = dt.date(2026, 12, 4)


@pytest.mark.parametrize(
    "value",
    [
        dt.date(2026, 12, 4),
        dt.datetime(2026, 12, 4),
        "2026-12-04",
        "20261204",
        "4 Dec 2026",
        "4. December 2026",
        "Dec 4, 2026",
        "December 4th 2026",
        "04DEC2026",
        "Friday, 4 December 2026",
    ],
)
def test_a_date_without_choice_is_read_without_a_word(value: Value) -> None:
    found = read_moment(value, DateHabit())
    assert (found.value.day, found.value.minute, found.note) == (FOURTH, None, "")


@pytest.mark.parametrize(
    "value", ["4-Dec-26", "4 Dec", "Fri 4 Dec", "12/4", "4.12.", "12/4/2026", "4/12/26", 46360]
)
def test_a_date_with_a_choice_is_read_by_the_start_of_the_plan_and_told(value: Value) -> None:
    found = read_moment(value, START)
    assert found.value.day == FOURTH
    assert "4 Dec 2026" in found.note


@pytest.mark.parametrize(
    ("value", "minute"),
    [
        ("2026-12-04 14:30", 870),
        ("2026-12-04T14:30:00", 870),
        ("4 Dec 2026 2 pm", 840),
        ("4 Dec 2026 at 9:15", 555),
        ("4 Dec 2026 noon", 720),
        (dt.datetime(2026, 12, 4, 10, 5), 605),
        (46360.5, 720),
    ],
)
def test_a_time_of_day_is_kept(value: Value, minute: int) -> None:
    assert read_moment(value, START).value.minute == minute


def test_two_plausible_dates_are_an_error_that_names_both() -> None:
    with pytest.raises(InputError, match="2 Mar 2026 or 3 Feb 2026") as told:
        read_moment("2/3/2026", DateHabit(start=dt.date(2026, 1, 26)))
    assert "--start" not in str(told.value)
    with pytest.raises(InputError, match="Date order in Settings"):
        read_moment("2/3/2026", DateHabit())


@pytest.mark.parametrize("start", [None, dt.date(2026, 1, 26)])
def test_a_date_with_points_has_the_day_first_where_nothing_else_tells(
    start: dt.date | None,
) -> None:
    found = read_moment("02.03.2026", DateHabit(start=start))
    assert found.value.day == dt.date(2026, 3, 2)
    assert "(day first: as dates with points are)" in found.note
    near = read_moment("12.04.2026", START)
    assert (near.value.day, "far from the plan" in near.note) == (FOURTH, True)
    setting = DateHabit(Order.MONTH_FIRST, why="by Date order")
    assert read_moment("02.03.2026", setting).value.day == dt.date(2026, 2, 3)


@pytest.mark.parametrize(("order", "day"), [(Order.DAY_FIRST, 2), (Order.MONTH_FIRST, 3)])
def test_the_setting_decides_between_two_dates(order: Order, day: int) -> None:
    found = read_moment("2/3/2026", DateHabit(order, why="by Date order"))
    assert found.value.day.day == day
    assert "by Date order" in found.note


@pytest.mark.parametrize(
    "value",
    ["soon", "", "2026-13-01", "29 Feb 2026", "30 Feb", "1/2/3", "4 Dec", True, 12, 1e9, "9" * 80],
)
def test_what_is_no_date_is_refused(value: Value) -> None:
    with pytest.raises(InputError, match="expected a date"):
        read_moment(value, DateHabit())


@pytest.mark.parametrize(
    ("values", "order"),
    [
        (["11/30/2026", "12/4/2026"], Order.MONTH_FIRST),
        (["30.11.2026", "4.12.2026"], Order.DAY_FIRST),
        (["12/1/2026", "12/4/2026"], Order.MONTH_FIRST),
        (["1/12/2026", "4/12/2026 14:00"], Order.DAY_FIRST),
        (["12/4/2026", "12/11"], Order.MONTH_FIRST),
        (["4/12/2026", "11/12", "8/12/26"], Order.DAY_FIRST),
        (["12/4/2026"], None),
        (["30/11/2026", "11/30/2026"], None),
        (["2026-12-04", 46360, "soon"], None),
    ],
)
def test_a_column_tells_how_its_dates_are_written(values: list[Value], order: Order | None) -> None:
    assert evidence(values)[0] == order


@pytest.mark.parametrize(
    ("value", "why"),
    [
        ("12/4", "the year is missing"),
        ("4.12.", "the year is missing"),
        ("0/0/2026", "no such day"),
    ],
)
def test_an_error_about_a_date_never_asks_an_empty_question(value: str, why: str) -> None:
    with pytest.raises(InputError, match=why) as found:
        read_moment(value, DateHabit())
    assert "(?" not in str(found.value)


@pytest.mark.parametrize("habit", [START, DateHabit(Order.DAY_FIRST, START.start, why="so")])
def test_the_weekday_tells_which_number_is_the_day(habit: DateHabit) -> None:
    found = read_moment("Fri 12/4", habit)
    assert (found.value.day, "by the weekday" in found.note) == (FOURTH, True)


@pytest.mark.parametrize("value", ["Thu 4 Dec", "Thursday 12/4/2026", "Mon 2026-12-04"])
def test_a_date_that_is_another_weekday_is_refused(value: str) -> None:
    with pytest.raises(InputError, match="4 Dec 2026 is a Friday; correct the day or the date"):
        read_moment(value, START)


@pytest.mark.parametrize("value", ["Fri", "friday", "by Fri.", "Fri EOD"])
def test_a_weekday_alone_is_the_first_of_the_plan(value: str) -> None:
    found = read_moment(value, START)
    assert (found.value.day, "4 Dec 2026" in found.note) == (FOURTH, True)
    with pytest.raises(InputError, match="which week"):
        read_moment(value, DateHabit())


@pytest.mark.parametrize(
    "value",
    [
        *("4. Dezember 2026", "Fr 4. Dez.", "Freitag, 04.12.26", "bis 4. Dez. 2026"),
        *("4 décembre 2026", "ven. 4 déc.", "le 4 déc. 2026", "vendredi 4 decembre"),
        *("4 de diciembre de 2026", "vie 4 dic", "viernes, 4 dic. 2026", "el 4 de dic"),
        *("Freitag", "vendredi", "viernes"),
    ],
)
def test_months_and_days_may_be_german_french_or_spanish(value: str) -> None:
    found = read_moment(value, START)
    assert (found.value.day, "4 Dec 2026" in found.note) == (FOURTH, True)


@pytest.mark.parametrize(
    ("value", "day"),
    [
        ("15. März 2027", dt.date(2027, 3, 15)),
        ("15 mrz 2027", dt.date(2027, 3, 15)),
        ("1er août 2027", dt.date(2027, 8, 1)),
        ("2 févr. 2027", dt.date(2027, 2, 2)),
        ("2 juin 2027", dt.date(2027, 6, 2)),
        ("2 juil. 2027", dt.date(2027, 7, 2)),
        ("2. Juni 2027", dt.date(2027, 6, 2)),
        ("2 mai 2027", dt.date(2027, 5, 2)),
        ("2 de enero de 2027", dt.date(2027, 1, 2)),
        ("avr 12 2027", dt.date(2027, 4, 12)),
        ("mar 1 dic", dt.date(2026, 12, 1)),
        ("mar. 2 mars 2027", dt.date(2027, 3, 2)),
        ("Mar 2 2027", dt.date(2027, 3, 2)),
    ],
)
def test_a_month_is_never_taken_for_another(value: str, day: dt.date) -> None:
    assert read_moment(value, START).value.day == day


@pytest.mark.parametrize("value", ["jui 4 2027", "Do 4. Dez", "4 ma 2027", "4 décemb 2026 или 5"])
def test_a_word_that_could_be_two_months_or_another_day_is_refused(value: str) -> None:
    with pytest.raises(InputError):
        read_moment(value, START)


@pytest.mark.parametrize("value", ["by 4 Dec 2026", "due 4 Dec 2026 EOD", "on 2026-12-04"])
def test_words_about_a_date_add_nothing(value: str) -> None:
    assert read_moment(value, DateHabit()).value.day == FOURTH


def test_a_time_may_stand_behind_an_at_sign() -> None:
    assert read_moment("4 Dec 2026 @ 10:00", DateHabit()).value.minute == 600


@pytest.mark.parametrize(
    ("value", "fix"),
    [
        ("ASAP", "rush under Priority"),
        ("wk 49", "a week is no day"),
        *((text, "more than one") for text in ("12/4 or 12/7", "12/4-12/7", "Mon-Wed")),
        ("EOM", "write the day"),
        ("KW49", "a week is no day"),
        ("w/c 7 Dec", "a week is no day"),
        ("end of week", "a week is no day"),
        ("Dec 2026", "a month is no day"),
        ("end of December", "a month is no day"),
    ],
)
def test_what_leaves_the_day_open_is_refused_with_what_to_write(value: str, fix: str) -> None:
    with pytest.raises(InputError, match=fix):
        read_moment(value, START)


@pytest.mark.parametrize("value", ["Dec 4 26", "Dec 4'26", "Dec-4-2026", "4 Dec26", "Dec 4"])
def test_a_year_stands_apart_from_the_day_before_it(value: str) -> None:
    assert read_moment(value, START).value.day == FOURTH


@pytest.mark.parametrize("text", ["Fri 4th", "fri. 4th", "Fri 4", "Friday the 4th", "Freitag 4."])
def test_a_weekday_with_the_day_of_a_month_is_the_only_one_near_the_plan(text: str) -> None:
    found = read_moment(text, START)
    assert (found.value.day, found.value.minute) == (FOURTH, None)
    assert "4 Dec 2026, the only one near the plan" in found.note


def test_a_weekday_with_the_day_of_a_month_that_is_no_day_or_two_is_refused() -> None:
    with pytest.raises(InputError, match="no such day near the plan's start"):
        read_moment("Fri 31st", START)
    with pytest.raises(InputError, match="5 Feb 2027 or 5 Mar 2027"):
        read_moment("Fri 5th", DateHabit(start=dt.date(2027, 2, 1)))
    with pytest.raises(InputError, match="which month"):
        read_moment("Fri 4th", DateHabit())


@pytest.mark.parametrize("text", ["Dec 4 (firm)", "2026-12-04 (Firm)", "Fri 4 Dec (per Jo)"])
def test_words_in_brackets_behind_a_date_are_left_out_and_told(text: str) -> None:
    found = read_moment(text, START)
    assert found.value.day == FOURTH
    assert f"“{text}” read as 4 Dec 2026" in found.note


@pytest.mark.parametrize("text", ["Dec 4 (or 11)", "Dec 4 (?)"])
def test_brackets_that_may_hold_another_date_or_a_doubt_are_refused(text: str) -> None:
    with pytest.raises(InputError):
        read_moment(text, START)


@pytest.mark.parametrize(
    ("text", "minute", "told"),
    [
        *((text, 720, "by noon") for text in ("4 Dec AM", "Dec 4 AM", "Dec 4 (a.m.)", "12/4 am")),
        *((text, 720, "by noon") for text in ("Fri AM", "Fri 4th AM", "2026-12-04 morning")),
        *((text, None, "by the end of the day") for text in ("Dec 4 PM", "4 Dec afternoon")),
        ("Dec 4 10 am", 600, "4 Dec 2026, at 10:00"),
    ],
)
def test_half_a_day_ends_at_noon_or_with_the_day(text: str, minute: int | None, told: str) -> None:
    found = read_moment(text, START)
    assert (found.value.day, found.value.minute) == (FOURTH, minute)
    assert found.note.endswith(told)


@pytest.mark.parametrize("text", ["Fri 4 pm", "Fri 4pm", "Fri 4 p.m.", "4pm Fri", "4 pm on Friday"])
def test_an_hour_beside_a_weekday_is_told(text: str) -> None:
    found = read_moment(text, START)
    assert (found.value.day, found.value.minute, found.value.half) == (FOURTH, 960, False)
    assert found.note.endswith("the first from the plan's start, at 16:00")


def test_saturday_s_last_letter_is_not_that_of_a_time() -> None:
    found = read_moment("Sat 4pm", START).value
    assert (found.day, found.minute) == (FOURTH + dt.timedelta(days=1), 960)


@pytest.mark.parametrize("text", ["noon Fri", "Fri noon", "12/4 midday", "noon Dec 4"])
def test_noon_may_stand_before_the_day_or_behind_it(text: str) -> None:
    found = read_moment(text, START).value
    assert (found.day, found.minute) == (FOURTH, 720)


@pytest.mark.parametrize(
    ("text", "why"),
    [
        *((text, "which day? Write it before the time") for text in ("noon", "4pm", "EOD")),
        *((text, "write the hour") for text in ("Fri first thing", "first thing Fri", "Fri night")),
        *((text, "write the date") for text in ("tomorrow", "next Fri", "this Friday")),
        *(("Fri at 4", "write 4 am or 4 pm"), ("EOW", "a week is no day")),
        ("Fri 12", "no such day near the plan's start; write the month"),
    ],
)
def test_a_due_that_leaves_the_day_or_the_hour_open_says_what_to_write(text: str, why: str) -> None:
    with pytest.raises(InputError, match=re.escape(why)):
        read_moment(text, START)


@pytest.mark.parametrize(
    ("value", "today", "day"),
    [
        ("4 Dec", dt.date(2026, 11, 30), dt.date(2026, 12, 4)),
        ("Dec 4", dt.date(2026, 12, 20), dt.date(2026, 12, 4)),
        ("8 Jan", dt.date(2026, 11, 30), dt.date(2027, 1, 8)),
        ("18 Dec", dt.date(2027, 1, 4), dt.date(2026, 12, 18)),
        ("12/24", dt.date(2026, 11, 30), dt.date(2026, 12, 24)),
        ("4.12.", dt.date(2026, 11, 30), dt.date(2026, 12, 4)),
        ("Fri 4 Dec", dt.date(2026, 11, 30), dt.date(2026, 12, 4)),
    ],
)
def test_without_a_start_a_date_that_lacks_a_year_is_the_nearest_to_today(
    value: str, today: dt.date, day: dt.date
) -> None:
    found = read_moment(value, DateHabit(today=today))
    assert found.value.day == day
    assert f"the nearest to today, {today.day} " in found.note
    start = dt.date(2020, 11, 30)
    planned = read_moment(value.removeprefix("Fri "), DateHabit(start=start, today=today))
    assert abs((planned.value.day - start).days) < 184
    assert "today" not in planned.note


@pytest.mark.parametrize("value", ["12/2", "2/1/2027", "Fri", "Fri 4"])
def test_what_today_leaves_open_is_still_asked_for(value: str) -> None:
    with pytest.raises(InputError, match=r"\?"):
        read_moment(value, DateHabit(today=dt.date(2026, 11, 30)))


def test_a_weekday_that_is_not_that_of_the_nearest_date_is_refused() -> None:
    with pytest.raises(InputError, match="4 Dec 2026 is a Friday"):
        read_moment("Mon 4 Dec", DateHabit(today=dt.date(2026, 11, 30)))


def test_dates_that_their_weekday_or_today_decides_decide_for_their_column() -> None:
    november = DateHabit(today=dt.date(2026, 11, 30))
    assert evidence(["12/2", "12/3"])[0] is None
    assert evidence(["12/2", "12/3"], november)[0] == Order.MONTH_FIRST
    assert evidence(["2/12", "3/12"], november)[0] == Order.DAY_FIRST
    assert evidence(["12/2", "Thu 12/3"], november)[0] == Order.MONTH_FIRST
    assert evidence(["12/2", "2/12"], november)[0] is None
    assert evidence(["12/3", "4.12."], november)[0] is None


def test_one_date_of_another_hand_does_not_turn_a_column_round() -> None:
    november = DateHabit(start=dt.date(2026, 11, 30))
    column = ["12/4/2026", "12/3/2026", "12/7/2026", "30/11"]
    assert evidence(column, november)[0] is None
    assert evidence([*column, "31/12", "23/12", "18/12"], november)[0] == Order.DAY_FIRST
    assert evidence(["4/12/2026", "30/11"], november)[0] == Order.DAY_FIRST
