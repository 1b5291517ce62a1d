"""Who does what stands on the pick lists: two for long sticks, nobody at a saw that runs alone."""

from __future__ import annotations

import io
import re
from functools import cache

from openpyxl import load_workbook
from pypdf import PdfReader

from planner.hours import DAY_MIN
from planner.orders import Step
from planner.plan import make_plan
from planner.records import Plan, Slot
from planner.shop import Person, SawSettings
from planner_io.packet import write_packet
from planner_io.views.index import Index
from planner_io.views.pick_lists import pick_lists
from planner_io.week_book import write_week
from tests.trade import stations
from tests.week import a_week_shop, options, some_orders, some_stock, weekdays

HOME_MIN = 600
"""When Cy goes home, minutes of the day."""
PEOPLE = (
    Person(name="Ana Quill", stations=("Finisher", "Saw", "Bender")),
    Person(name="Bo Marsh", stations=("Finisher", "Notcher")),
    Person(name="Cy Thorne", stations=("Finisher", "Bender")),
)


@cache
def a_plan() -> Plan:
    """A week of sticks that take two people, with a saw on automatic feed."""
    shop = a_week_shop(
        people=PEOPLE,
        stations=stations(saw={"saw": SawSettings(unattended=True)}),
        hours=(
            *weekdays((420, 720), (750, 930)),
            *weekdays((420, HOME_MIN), who="Cy Thorne"),
        ),
    )
    return make_plan(some_orders(10), some_stock(), shop, options(seconds=0.3))


def slots(step: Step) -> list[Slot]:
    keys = {operation.key for operation in a_plan().operations if operation.step is step}
    return [slot for slot in a_plan().slots if slot.operation in keys]


def told() -> dict[str, tuple[str, ...]]:
    """People by operation, as the pick lists say."""
    found = pick_lists(Index(a_plan()))
    return {step.operation: step.people for row in found for step in row.steps}


def test_a_pass_of_long_sticks_names_two_people() -> None:
    passes = slots(Step.FINISH)
    assert passes
    assert all(len(set(told()[slot.operation])) == 2 for slot in passes)


def test_a_saw_on_automatic_feed_names_who_sets_it_up_and_nobody_else() -> None:
    saws = slots(Step.SAW)
    assert {bool(slot.setup_min) for slot in saws} == {True, False}
    for slot in saws:
        who = ("Ana Quill (sets it up)",) if slot.setup_min else ()
        assert told()[slot.operation] == who


def test_people_are_named_at_their_own_stations_and_within_their_own_hours() -> None:
    stations_of = {person.name: person.stations for person in PEOPLE}
    for slot in a_plan().slots:
        assert all(slot.station in stations_of[name] for name in slot.people)
    of_cy = [slot for slot in a_plan().slots if "Cy Thorne" in slot.people]
    assert of_cy
    assert all(slot.end_min % DAY_MIN <= HOME_MIN for slot in of_cy)
    assert any(slot.end_min % DAY_MIN > HOME_MIN for slot in slots(Step.BEND))


def test_every_name_stands_on_the_printed_lists_and_in_the_workbook() -> None:
    pages = PdfReader(io.BytesIO(write_packet(a_plan()))).pages
    text = re.sub(r"\s+", "", " ".join(page.extract_text() for page in pages))
    sheet = load_workbook(io.BytesIO(write_week(a_plan())))["Pick lists"]
    head, *rows = sheet.iter_rows(values_only=True)
    cells = {row[head.index("Operation")]: row[head.index("Who")] for row in rows}
    for operation, people in told().items():
        assert (cells[operation] or "") == ", ".join(people)
        assert "".join(", ".join(people).split()) in text
