"""A shop's sheets by themselves: hours that cannot be meant, changeovers that no shift holds."""

from __future__ import annotations

import pytest

from planner.errors import Severity
from planner.shop import ChangeoverRow, HoursRow, Person, Shop, StationKind, What
from planner.shop_checks import check_shop
from tests.test_hours import LUNCH, WORK, a_shop, hours


def messages(*rows: HoursRow) -> str:
    return "\n".join(str(finding) for finding in check_shop(a_shop(*rows)))


def test_sound_hours_have_no_findings() -> None:
    assert messages(WORK, LUNCH, hours("overtime", "15:30", "17:30")) == ""


def test_an_end_before_the_start_is_found() -> None:
    assert "Hours of shop on Monday end at 6:00, not after they begin at 22:00" in messages(
        WORK, hours("work", "22:00", "6:00")
    )


def test_overtime_within_ordinary_hours_is_found() -> None:
    assert "overlaps ordinary hours from 15:00" in messages(
        WORK, hours("overtime", "15:00", "17:00")
    )


def test_overtime_up_to_or_from_ordinary_hours_is_sound() -> None:
    assert messages(WORK, hours("overtime", "5:00", "7:00")) == ""
    assert messages(hours("overtime", "5:00", "7:00"), WORK) == ""
    assert messages(hours("overtime", "15:30", "17:30"), WORK) == ""


def test_a_shop_without_hours_is_found() -> None:
    assert "Saw never works" in messages(hours("break", "9:00", "9:15"))


def test_hours_of_nobody_known_are_found() -> None:
    assert "Hours of “Bob”" in messages(WORK, hours("work", "7:00", "9:00", who="Bob"))


def test_a_row_without_a_day_is_found() -> None:
    assert "need either a weekday or a date" in messages(
        WORK, hours("work", "7:00", "9:00", weekday=None)
    )


@pytest.mark.parametrize(
    ("people", "rows", "doubtful"),
    [
        (1, [], False),
        (1, [hours("work", "15:30", "23:00", who="Saw")], True),
        (
            1,
            [hours("overtime", "15:30", "23:00"), hours("work", "15:30", "23:00", who="Saw")],
            True,
        ),
        (2, [hours("work", "15:30", "23:00", who="Bo")], True),
        (2, [hours("work", "15:00", "23:00", who="Bo")], False),
        (3, [], False),
    ],
)
def test_a_station_that_works_when_nobody_who_runs_it_does_is_doubtful(
    people: int, rows: list[HoursRow], doubtful: bool
) -> None:
    shop = a_shop(WORK, LUNCH, *rows)
    saw = shop.stations[0].model_copy(update={"people": people})
    crew = tuple(Person(name=name, stations=("Saw",)) for name in ("Ash", "Bo"))
    found = check_shop(shop.model_copy(update={"stations": (saw,), "people": crew}))
    assert [f.message[:31] for f in found] == ["In the ordinary hours of Saw th"] * doubtful


def changing(minutes: int, other_min: int = 0, people: int = 1, **changes: object) -> Shop:
    """A saw that works 7:00 to 11:30 and 12:00 to 15:30, with minutes for its OD and its rail."""
    shop = a_shop(WORK, LUNCH)
    saw = shop.stations[0].model_copy(update={"people": people})
    table = (
        ChangeoverRow(station="Saw", what=What.OD, minutes=minutes),
        ChangeoverRow(station="saw", what=What.RAIL, minutes=other_min),
    )
    return shop.model_copy(update={"stations": (saw,), "changeovers": table, **changes})


def test_a_changeover_as_long_as_the_longest_stretch_is_sound() -> None:
    assert check_shop(changing(270)) == ()


def test_a_changeover_longer_than_any_stretch_is_refused() -> None:
    (found,) = check_shop(changing(271))
    assert (found.severity, found.sheet) == (Severity.ERROR, "Changeovers")
    assert "Changing the OD of Saw takes 271 min" in found.message
    assert "is 270 min" in found.message


def test_changes_that_fit_alone_and_not_together_are_doubtful() -> None:
    (found,) = check_shop(changing(200, 101))
    assert found.severity is Severity.WARNING
    assert "All changes of Saw one after the other take up to 301 min" in found.message
    assert check_shop(changing(200, 101, longest_of=("saw",))) == ()


@pytest.mark.parametrize(("people", "longest"), [(1, 270), (2, 60)])
def test_the_stretch_is_one_of_the_station_with_as_many_people_as_it_needs(
    people: int, longest: int
) -> None:
    both = (Person(name="Ann", stations=("Saw",)), Person(name="Bob", stations=("Saw",)))
    rows = (WORK, LUNCH, hours("work", "7:00", "8:00", who="Bob"))
    shop = changing(longest, people=people)
    shop = shop.model_copy(update={"people": both, "hours": rows})
    assert check_shop(shop) == ()
    longer = shop.changeovers[0].model_copy(update={"minutes": longest + 1})
    assert "with people" in str(check_shop(shop.model_copy(update={"changeovers": (longer,)})))


def test_a_second_station_whose_changes_take_no_minutes_is_doubted() -> None:
    shop = a_shop(WORK)
    (saw,) = (station for station in shop.stations if station.kind is StationKind.SAW)
    second = saw.model_copy(update={"name": "Band saw"})
    rows = (ChangeoverRow(station=saw.name, what=What.OD, minutes=2),)
    two = shop.model_copy(update={"stations": (*shop.stations, second), "changeovers": rows})
    (finding,) = check_shop(two)
    assert finding.severity is Severity.WARNING
    assert finding.message == (
        f"Changes of OD at Band saw count as no minutes, as the sheet Changeovers has them for "
        f"{saw.name} and not for Band saw: add rows for Band saw."
    )
    of_kind = (ChangeoverRow(station="saw", what=What.OD, minutes=2),)
    assert check_shop(two.model_copy(update={"changeovers": of_kind})) == ()
    own = (*rows, ChangeoverRow(station="Band saw", what=What.OD, minutes=9))
    assert check_shop(two.model_copy(update={"changeovers": own})) == ()
