"""A base with two speeds: each card of its attachments says which one to set."""

from __future__ import annotations

import io
import json
import re
from functools import cache

from openpyxl import load_workbook
from pypdf import PdfReader

from planner.plan import make_plan
from planner.records import Plan
from planner_io.packet import write_packet
from planner_io.plan_file import plan_bytes
from planner_io.week_book import write_week
from tests.trade import stations
from tests.week import a_week_shop, options, some_orders, some_stock

SPEEDS = {"Finisher": "slow, lever left", "Notcher": "fast, lever right"}


@cache
def a_plan() -> Plan:
    """A week of a finisher and a notcher on one base, and of a saw and a bender without speeds."""
    both = {name.lower(): {"base": "Base 1", "speed": speed} for name, speed in SPEEDS.items()}
    shop = a_week_shop(stations=stations(**both))
    return make_plan(some_orders(6), some_stock(), shop, options(seconds=0.3))


def test_the_plan_file_gives_each_card_the_speed_of_its_station() -> None:
    cards = json.loads(plan_bytes(a_plan()))["cards"]
    assert {card["station"] for card in cards} >= {*SPEEDS, "Saw"}
    for card in cards:
        told = [one["value"] for one in card["settings"] if one["name"] == "speed"]
        assert told == ([SPEEDS[card["station"]]] if card["station"] in SPEEDS else [])


def test_every_printed_card_of_such_a_station_says_its_speed() -> None:
    pages = PdfReader(io.BytesIO(write_packet(a_plan()))).pages
    text = re.sub(r"\s+", "", " ".join(page.extract_text() for page in pages))
    for station, speed in SPEEDS.items():
        cards = sum(card.station == station for card in a_plan().cards)
        assert text.count(re.sub(r"\s+", "", speed)) == cards > 0


def test_the_sheet_of_cards_says_it_too() -> None:
    sheet = load_workbook(io.BytesIO(write_week(a_plan())))["Set-up cards"]
    head, *rows = sheet.iter_rows(values_only=True)
    row = [dict(zip(head, each, strict=True)) for each in rows]
    told = [(each["Station"], each["Set"]) for each in row if each["What"] == "speed"]
    wanted = [card.station for card in a_plan().cards if card.station in SPEEDS]
    assert told == [(station, SPEEDS[station]) for station in wanted]
