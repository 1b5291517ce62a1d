"""An owner reads first what changeovers cost, what is saved, and what to better next."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from typing import Any

import pytest

from planner.shop import What
from planner_io.packet.data import packet_data
from planner_io.packet.floor import TagKind
from planner_io.views.accounts import Account, Difference, account
from planner_io.views.headlines import headlines, sentences
from planner_io.views.index import Index
from planner_io.views.worth import Worth
from tests.planner_io.plans import a_plan

INDEX = Index(a_plan())
DIFFERENCE = Difference("by due date", -100, -0.4, (), -2, -500)


def an_account(foot: Difference | None, *worth: Worth) -> Account:
    return replace(account(INDEX), difference=foot, worth=worth)


def told(foot: Difference | None, *worth: Worth) -> list[tuple[str, str, str]]:
    return [(f.number, f.name, f.more) for f in headlines(INDEX, an_account(foot, *worth))]


def test_the_first_is_what_the_week_changes_over_and_what_that_costs() -> None:
    minutes = sum(slot.setup_min for slot in a_plan().slots)
    changes = sum(len(slot.changes) for slot in a_plan().slots)
    (first,) = told(None)
    assert minutes == 68
    cost = 68 * a_plan().shop.house.minute_cents / 100
    assert first == ("1 h 08", "in changeovers", f"${cost:.2f}, {changes} changes")


@pytest.mark.parametrize(
    ("foot", "number", "name", "more"),
    [
        (
            DIFFERENCE,
            "1 h 40",
            "less changeover than by due date",
            "−40 %, $100.00 saved, 2 lines fewer late",
        ),
        (
            replace(DIFFERENCE, minutes=30, share=0.1, late_lines=1),
            "30 min",
            "more changeover than by due date",
            "+10 %, $30.00 lost, 1 line more late",
        ),
        (
            replace(DIFFERENCE, minutes=-5, share=None, late_lines=0),
            "5 min",
            "less changeover than by due date",
            "$5.00 saved",
        ),
        (
            replace(DIFFERENCE, minutes=0, share=0.0, late_lines=0),
            "0 min",
            "As much changeover as by due date",
            "",
        ),
    ],
)
def test_the_second_is_what_the_plan_saves_or_loses(
    foot: Difference, number: str, name: str, more: str
) -> None:
    house = INDEX.plan.shop.house.model_copy(update={"minute_cents": 100, "currency": "$"})
    shop = INDEX.plan.shop.model_copy(update={"house": house})
    index = Index(a_plan().model_copy(update={"shop": shop}))
    found = headlines(index, an_account(foot))[1]
    assert (found.number, found.name, found.more) == (number, name, more)


def test_the_last_is_the_change_of_which_a_minute_is_worth_the_most() -> None:
    first = Worth("Finisher", What.BELT, 27, 108, 3_780)
    second = Worth("Saw", What.OD, 12, 24, 1_680)
    assert told(None, first, second)[1:] == [
        (
            "$37.80",
            "a week for a minute less each time",
            "belt at Finisher: 27 times, now 4.0 min each",
        )
    ]


def test_sentences_say_the_same() -> None:
    assert sentences(headlines(INDEX, an_account(replace(DIFFERENCE, minutes=0, late_lines=0))))[
        1
    ] == ("0 min as much changeover as by due date.")


def test_the_ledger_page_begins_with_them() -> None:
    pages: Mapping[str, Any] = packet_data(INDEX, TagKind.BUNDLES)[0]
    figures = headlines(INDEX, account(INDEX))
    assert len(figures) == 3
    assert pages["ledger"]["headlines"] == [
        {"number": one.number, "name": one.name, "more": one.more} for one in figures
    ]
