"""What is told of late order lines."""

from __future__ import annotations

from datetime import date, datetime

from planner.lateness import late_lines
from planner.records import LineDone
from planner.schedule import Ahead, Behind, LateJob, Overtime, Remedy
from tests.trade import a_line

MONDAY = date(2026, 11, 30)


def told(*remedies: Remedy, unavoidable_min: int = 0, first_late_min: int | None = 0) -> str:
    """The sentence for a line that is due at noon on Tuesday and done an hour later."""
    line = a_line(due=datetime(2026, 12, 1, 12, 0))
    done = LineDone(line=line.key, due_min=1440 + 720, done_min=1440 + 780)
    job = LateJob(
        job=line.key,
        due_min=done.due_min,
        end_min=done.done_min,
        late_min=60,
        chain=("L01.P1", "L02.P1"),
        unavoidable_min=unavoidable_min,
        first_late_min=first_late_min,
        remedies=remedies,
    )
    (late,) = late_lines({line.key: line}, [done], [job], MONDAY)
    assert (late.late_min, late.chain) == (60, ("L01.P1", "L02.P1"))
    return late.reason


def test_the_latest_line_comes_first_and_one_in_time_is_left_out() -> None:
    done = [
        LineDone(line=f"7/{number}", due_min=500, done_min=500 + late)
        for number, late in enumerate((10, 60, 0, 60, -5))
    ]
    lines = {each.line: a_line(order="7", line=each.line[2:]) for each in done}
    late = late_lines(lines, done, (), MONDAY)
    assert [(each.line, each.late_min) for each in late] == [("7/1", 60), ("7/3", 60), ("7/0", 10)]


def test_a_line_that_was_due_before_the_week_says_so() -> None:
    line = a_line()
    done = LineDone(line=line.key, due_min=-60, done_min=500)
    (late,) = late_lines({line.key: line}, [done], (), MONDAY)
    assert late.reason == "due before the week begins"
    job = LateJob(
        job=line.key,
        due_min=done.due_min,
        end_min=done.done_min,
        late_min=560,
        chain=(),
        unavoidable_min=480,
        first_late_min=0,
        remedies=(),
    )
    (late,) = late_lines({line.key: line}, [done], [job], MONDAY)
    assert late.reason == (
        "due before the week begins; at least 8 h late even with the shop to itself"
    )


def test_a_move_that_harms_nobody_says_so() -> None:
    assert told(Behind("L03.P1", "L01.P1")) == "do L03.P1 after L01.P1: no other line pays for it"


def test_overtime_says_how_long_where_and_when() -> None:
    once = Overtime(("Finisher",), 90, 930, daily=False)
    assert told(once) == (
        "1 h 30 of overtime on Finisher and for whoever runs it, Mon 30 Nov from 15:30"
    )
    daily = Overtime(("Finisher", "Saw"), 60, 1440 + 930, daily=True)
    assert told(daily) == (
        "1 h of overtime a day on Finisher and Saw and for whoever runs them, from Tue 1 Dec on"
    )


def test_overtime_names_those_who_must_stay() -> None:
    def words(*people: str) -> str:
        return told(Overtime(("Finisher",), 90, 930, daily=False, people=people))

    assert words("Ann") == "1 h 30 of overtime on Finisher and for Ann, Mon 30 Nov from 15:30"
    assert "on Finisher and for Ann, Bob and Cy, Mon 30 Nov from" in words("Ann", "Bob", "Cy")
    assert "on Finisher, where nobody has to stay, Mon 30 Nov from" in words()


AHEAD = "start it by Tue 1 Dec 9:05, before L05.P2"


def ahead(*harmed: tuple[str, int]) -> Ahead:
    return Ahead("L05.P2", 1440 + 545, harmed)


def test_who_pays_is_named_two_at_most() -> None:
    harmed = (("7/1", 130), ("7/2", 45), ("7/3", 5))
    words = f"{AHEAD}, which delays 7/1 by 2 h 10, 7/2 by 45 min"
    assert told(ahead(*harmed)) == f"{words} and 1 more"
    assert told(ahead(*harmed[:2])) == words
    assert told(ahead()) == f"{AHEAD}: no other line pays for it"


def test_what_is_late_by_days_is_said_in_days() -> None:
    assert told(ahead(("7/1", 71 * 60 + 47))) == f"{AHEAD}, which delays 7/1 by 3 days"
    assert told(unavoidable_min=1440 + 600).startswith("at least 1 day 10 h late even")
    assert told(first_late_min=2 * 1440).startswith("2 days late even")


def test_two_offers_stand_side_by_side() -> None:
    offers = told(Overtime(("Saw",), 60, 930, daily=False), ahead())
    assert f"; or {AHEAD}" in offers


def test_overtime_is_offered_where_the_shop_to_itself_would_not_do() -> None:
    once = Overtime(("Saw",), 60, 930, daily=False)
    assert told(once, unavoidable_min=75) == (
        "at least 1 h 15 late even with the shop to itself, in these hours; on time with 1 h of "
        "overtime on Saw and for whoever runs it, Mon 30 Nov from 15:30"
    )


def test_what_cannot_be_helped_says_how_late_it_stays() -> None:
    assert told(unavoidable_min=75) == "at least 1 h 15 late even with the shop to itself"
    assert told(first_late_min=40) == "40 min late even ahead of all other work"
    assert told() == "no single move or stretch of overtime makes it on time"
