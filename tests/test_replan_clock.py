"""Working time of stations with their people."""

from __future__ import annotations

from planner.hours import DAY_MIN
from planner.replan.clock import Clock
from planner.shop import HoursKind, HoursRow, Person, SawSettings, Shop
from tests.trade import stations
from tests.week import MONDAY, a_week_shop

DAYS = 3
ALL = ("Finisher", "Saw")


def a_shop(*, unattended: bool) -> Shop:
    """The shop works from 7:00 to 15:30 with a break; Ann is away on Monday until noon."""
    away = HoursRow(who="Ann", day=MONDAY, kind=HoursKind.CLOSED, start_min=7 * 60, end_min=12 * 60)
    shop = a_week_shop(
        people=(Person(name="Ann", stations=ALL), Person(name="Bob", stations=ALL)),
        stations=stations(saw={"saw": SawSettings(unattended=unattended)}),
    )
    return shop.model_copy(update={"hours": (*shop.hours, away)})


def a_clock(*, unattended: bool = False) -> Clock:
    return Clock(a_shop(unattended=unattended), MONDAY, DAYS)


NOON = 12 * 60


def test_a_run_needs_its_people_for_as_long_as_it_takes() -> None:
    clock = a_clock()
    assert clock.running("Saw", ("Bob",)).fit(0, 10) < NOON
    assert clock.running("Saw", ("Bob", "Ann")).fit(0, 10) >= NOON
    assert clock.running("Finisher", ("Ann",)).fit(0, 10) >= NOON


def test_a_station_that_runs_by_itself_needs_them_for_its_changeover_alone() -> None:
    clock = a_clock(unattended=True)
    assert clock.running("Saw", ("Ann",)).fit(0, 10) < NOON
    assert clock.calendar("Saw", ("Ann",)).fit(0, 10) >= NOON
    assert clock.running("Finisher", ("Ann",)).fit(0, 10) >= NOON


def test_who_is_not_of_the_shop_any_more_holds_nothing_up() -> None:
    clock = a_clock()
    longer = HoursRow(who="Saw", day=MONDAY, start_min=7 * 60, end_min=20 * 60)
    shop = clock.shop.model_copy(update={"hours": (*clock.shop.hours, longer)})
    for one in (clock, Clock(shop, MONDAY, DAYS)):
        assert one.calendar("Saw", ("Zed",)) == one.calendar("Saw")


def test_people_stay_at_a_station_that_the_shop_has_no_more() -> None:
    clock = a_clock(unattended=True)
    assert not clock.is_attended("Saw")
    assert clock.is_attended("Finisher")
    assert clock.is_attended("Mill")


def test_who_comes_back_on_the_day_is_not_away() -> None:
    clock = a_clock()
    assert not clock.is_away("Ann", "Saw", 8 * 60)
    ill = HoursRow(who="Bob", day=MONDAY, kind=HoursKind.CLOSED, start_min=8 * 60, end_min=DAY_MIN)
    shop = clock.shop.model_copy(update={"hours": (*clock.shop.hours, ill)})
    clock = Clock(shop, MONDAY, DAYS)
    assert clock.is_away("Bob", "Saw", 8 * 60)
    assert not clock.is_away("Bob", "Saw", 8 * 60 - 1)
    assert not clock.is_away("Bob", "Saw", 20 * 60)


def test_after_the_last_day_all_is_open() -> None:
    assert a_clock().calendar("Saw").fit(DAYS * DAY_MIN, 10_000) == DAYS * DAY_MIN
