"""The overtime that a plan tells for a late line, written into the shop's hours as it is told."""

from __future__ import annotations

import re
from datetime import datetime

import pytest

from planner.audit import audit
from planner.plan import Plan, make_plan
from planner.shop import HoursKind, HoursRow, Person, Shop
from tests.trade import a_line, cut
from tests.week import MONDAY, SPECS, a_week_shop, options, some_stock

EVERYWHERE = tuple(station.name for station in a_week_shop().stations)
CREW = tuple(Person(name=name, stations=EVERYWHERE) for name in ("Ann", "Bob"))
TOLD = re.compile(
    r"(?:(?P<hours>\d+) h ?)?(?:(?P<minutes>\d+)(?: min)?)? of overtime on (?P<station>\w+) "
    r"and for (?P<who>whoever runs it|\w+(?: and \w+)*), Mon 30 Nov from "
    r"(?P<from_h>\d+):(?P<from_min>\d+)"
)


def plan_of(shop: Shop) -> Plan:
    """One line that needs a little more than Monday and is due on Monday evening."""
    line = a_line(spec=SPECS[0], quantity=370, due=datetime(2026, 11, 30, 20, 0), shape=cut("30"))
    plan = make_plan([line], some_stock((SPECS[0],)), shop, options(seconds=0.5))
    assert audit(plan) == ()
    return plan


def overtime(words: str, *, alone: bool = False) -> tuple[HoursRow, ...]:
    """Rows of the sheet Hours as a planner reads the sentence, or of the station alone."""
    found = TOLD.search(words)
    assert found is not None, words
    first = 60 * int(found["from_h"]) + int(found["from_min"])
    last = first + 60 * int(found["hours"] or 0) + int(found["minutes"] or 0)
    named = () if alone or "whoever" in found["who"] else found["who"].split(" and ")
    return tuple(
        HoursRow(who=name, day=MONDAY, kind=HoursKind.OVERTIME, start_min=first, end_min=last)
        for name in (found["station"], *named)
    )


@pytest.mark.parametrize("people", [(), CREW])
def test_a_line_is_on_time_with_the_overtime_told(people: tuple[Person, ...]) -> None:
    shop = a_week_shop(people=people)
    (late,) = plan_of(shop).late
    rows = overtime(late.reason)
    longer = shop.model_copy(update={"hours": (*shop.hours, *rows)})
    assert plan_of(longer).late == ()


def test_overtime_at_a_station_whose_people_have_gone_home_helps_nobody() -> None:
    shop = a_week_shop(people=CREW)
    (late,) = plan_of(shop).late
    rows = overtime(late.reason, alone=True)
    longer = shop.model_copy(update={"hours": (*shop.hours, *rows)})
    assert len(plan_of(longer).late) == 1


def test_only_those_are_asked_to_stay_without_whom_the_line_is_late() -> None:
    """A finisher takes one person here; of three who may run it one stays."""
    crew = tuple(Person(name=name, stations=EVERYWHERE) for name in ("Ann", "Bob", "Cy"))
    shop = a_week_shop(people=crew)
    (late,) = plan_of(shop).late
    rows = overtime(late.reason)
    stay = {row.who for row in rows if row.who in {"Ann", "Bob", "Cy"}}
    assert 0 < len(stay) < len(crew)
    for who in stay:
        others = tuple(row for row in rows if row.who != who)
        longer = shop.model_copy(update={"hours": (*shop.hours, *others)})
        assert len(plan_of(longer).late) == 1
