from __future__ import annotations

import io
from typing import Any

from openpyxl import load_workbook

from planner_io.week_book import write_week
from planner_io.week_book.sheet import Block, Column, Kind, Row, Sheet
from planner_io.week_book.upright import page_breaks
from tests.planner_io.plans import a_plan

WIDE = 144.0
"""Characters across: 10.55 in with the columns' paddings, so that letter paper takes .73 of the
size and 64 lines of 15 pt fill .97 of a page below a heading of two."""


def a_sheet(*cards: tuple[str, int, int], remark: str = "") -> Sheet:
    """A sheet with so many rows for each station and card."""
    columns = (Column("Station", 10), Column("Card", 6), Column("Remark", WIDE - 16, Kind.WRAPPED))
    rows = tuple(
        Row((station, card, remark)) for station, card, count in cards for _ in range(count)
    )
    return Sheet("Cards", (Block(columns, rows, apart=(0, 1)),), upright=True)


def test_a_card_that_does_not_fit_below_another_begins_a_page() -> None:
    sheet = a_sheet(*(("Finisher", card, 22) for card in range(1, 7)))
    assert page_breaks(sheet, "letter") == [45, 89]
    assert page_breaks(a_sheet(*(("Finisher", card, 12) for card in range(1, 11))), "letter") == [
        61
    ]


def test_longer_paper_and_shorter_texts_take_more_cards() -> None:
    cards = [("Finisher", card, 22) for card in range(1, 4)]
    assert page_breaks(a_sheet(*cards), "letter") == [45]
    assert page_breaks(a_sheet(*cards), "a4") == []
    long = "word " * 60
    assert page_breaks(a_sheet(*cards, remark=long), "letter") == [23, 45]


def test_another_station_begins_a_page() -> None:
    assert page_breaks(a_sheet(("Finisher", 1, 3), ("Saw", 1, 3), ("Saw", 2, 3)), "letter") == [4]


def test_a_card_longer_than_a_page_flows_on_and_ends_with_a_whole_one() -> None:
    sheet = a_sheet(("Finisher", 1, 70), ("Finisher", 2, 20), ("Finisher", 3, 45))
    assert page_breaks(sheet, "letter") == [91]


def test_the_cards_of_a_week_are_printed_upright_and_begin_pages_by_themselves() -> None:
    plan = a_plan()
    longer = (*plan.cards[0].settings * 5,)
    cards = tuple(card.model_copy(update={"settings": longer}) for card in plan.cards)
    written = io.BytesIO(write_week(plan.model_copy(update={"cards": cards})))
    page: Any = load_workbook(written)["Set-up cards"]
    rows = [row[:2] for row in page.iter_rows(values_only=True)]
    begins = [brk.id for brk in page.row_breaks.brk]
    assert len(begins) > 1
    assert all(rows[at - 1] != rows[at] for at in begins)
    assert page.page_setup.orientation == "portrait"
    assert page.sheet_properties.pageSetUpPr.fitToPage
    assert page.page_setup.fitToHeight == 0
    assert page.print_title_rows == "$1:$1"
