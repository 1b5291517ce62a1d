from __future__ import annotations

import io
import re
from functools import cache
from itertools import pairwise
from typing import Any

import pytest
from openpyxl import load_workbook
from openpyxl.utils import get_column_letter

from planner.records import Plan
from planner_io.week_book import write_week
from tests.planner_io.plans import a_plan, a_replanned_plan

TABS = [
    "Run order",
    "Pick lists",
    "Set-up cards",
    "Cut lists",
    "Changeover ledger",
    "Late",
    "Buy",
    "Material",
    "Problems",
    "Orders",
]


@cache
def tabs_of(written: bytes) -> dict[str, list[tuple[Any, ...]]]:
    book = load_workbook(io.BytesIO(written))
    return {page.title: list(page.iter_rows(values_only=True)) for page in book}


def cells(plan: Plan, tab: str, head: str) -> list[Any]:
    rows = tabs_of(write_week(plan))[tab]
    column = rows[0].index(head)
    return [row[column] for row in rows[1:]]


def test_the_sheets_are_the_papers_of_the_week() -> None:
    assert list(tabs_of(write_week(a_plan()))) == TABS


def test_every_operation_has_its_row_in_the_pick_lists() -> None:
    plan = a_plan()
    found = cells(plan, "Pick lists", "Operation")
    assert sorted(found) == sorted(operation.key for operation in plan.operations)


def test_every_piece_is_counted_in_the_cut_lists() -> None:
    plan = a_plan()
    alike = cells(plan, "Cut lists", "Sticks alike")
    each = cells(plan, "Cut lists", "Pieces a stick")
    pieces = sum(len(stick.pieces) for cut in plan.cut_lists for stick in cut.sticks)
    assert sum(a * e for a, e in zip(alike, each, strict=True)) == pieces


def test_lengths_are_numbers_on_the_marks_of_the_tape() -> None:
    assert cells(a_plan(), "Cut lists", "Length, in") == [24.5, 24.5, 41.15625]
    assert cells(a_plan(unit="mm"), "Cut lists", "Length, mm") == [622.3, 622.3, 1045.4]


def test_orders_carry_when_they_are_done_and_how_late() -> None:
    plan = a_plan()
    assert cells(plan, "Orders", "State") == ["on time", "LATE 1 h 48", "refused"]
    assert [str(at) for at in cells(plan, "Orders", "Done")] == [
        "2026-12-01 08:40:00",
        "2026-11-30 12:48:00",
        "None",
    ]


def test_the_ledger_ends_in_the_difference_to_due_date_order() -> None:
    rows = tabs_of(write_week(a_plan()))["Changeover ledger"]
    foot = next(row for row in rows if row[0] == "this plan against by due date")
    assert foot[2:9] == (-12, -20, 0, 0, 0, -32, 28)


def test_the_ledger_says_what_a_minute_less_at_each_change_is_worth() -> None:
    """The plan has four belt changes of 5 min and one of each other kind, at a dollar a minute."""
    rows = tabs_of(write_week(a_plan()))["Changeover ledger"]
    head = next(at for at, row in enumerate(rows) if row[1] == "Change")
    assert rows[head][:6] == (
        "Station",
        "Change",
        "Times",
        "Minutes each",
        "Minutes",
        "A minute less, $",
    )
    assert rows[head + 1][:6] == ("Finisher", "belt", 4, 5, 20, 4)
    assert [row[1] for row in rows[head + 2 : head + 6]] == ["die", "clean-down", "OD", "OD"]


def test_text_that_looks_like_a_formula_stays_text() -> None:
    plan = a_plan(customer="=1+1", part="@SUM(A1)")
    book = load_workbook(io.BytesIO(write_week(plan)))
    kinds = {cell.data_type for page in book for row in page.iter_rows() for cell in row}
    assert "f" not in kinds
    assert "=1+1" in cells(plan, "Orders", "Customer")


def test_the_same_plan_gives_the_same_bytes() -> None:
    assert write_week(a_plan()) == write_week(a_plan())


def test_rows_are_as_high_as_their_wrapped_texts() -> None:
    page = pages(with_cautions((), ("Keep well clear of it. " * 9,), (), ()))["Set-up cards"]
    column = [cell.value for cell in page[1]].index("Remark")
    width = page.column_dimensions[get_column_letter(column + 1)].width
    lines = [
        (number, len(str(row[column] or "")) / (1.1 * width))
        for number, row in enumerate(page.iter_rows(min_row=2, values_only=True), start=2)
    ]
    assert max(most for _, most in lines) > 1
    for number, least in lines:
        assert (page.row_dimensions[number].height or 15) >= 15 * least


def test_numbers_stand_clear_of_the_text_beside_them() -> None:
    book = load_workbook(io.BytesIO(write_week(a_plan())))
    formats = {
        cell.number_format
        for page in book
        for row in page.iter_rows(min_row=2)
        for cell in row
        if isinstance(cell.value, int | float)
    }
    assert formats
    assert all(found.endswith("_M") for found in formats)


def pages(plan: Plan) -> dict[str, Any]:
    return {page.title: page for page in load_workbook(io.BytesIO(write_week(plan)))}


def test_headings_of_numbers_stand_above_them_and_say_their_unit() -> None:
    ledger = pages(a_plan())["Changeover ledger"]
    heads = {cell.value: cell.alignment.horizontal for cell in ledger[1] if cell.value}
    assert heads["Station"] is None
    assert heads["OD, min"] == "right"
    buy = [cell.value for cell in pages(a_plan())["Buy"][1]]
    assert {"Each, $", "Sum, $", "Length, in"} <= set(buy)


def test_a_sum_is_not_sorted_among_its_rows() -> None:
    for name in ("Changeover ledger", "Buy", "Material"):
        page = pages(a_plan())[name]
        last = int(re.findall(r"\d+", page.auto_filter.ref)[-1])
        bold = [row[0].row for row in page.iter_rows(min_row=2) if any(c.font.b for c in row)]
        assert last == min(bold) - 1


def test_heading_rows_are_as_high_as_their_words_in_every_block() -> None:
    ledger = pages(a_plan())["Changeover ledger"]
    widths = [ledger.column_dimensions[get_column_letter(n + 1)].width for n in range(20)]
    heads = [row for row in ledger.iter_rows() if row[0].value in ("Station", "The same week")]
    assert len(heads) == 3
    for row in heads:
        lines = max(
            len(str(cell.value or "")) / width for cell, width in zip(row, widths, strict=False)
        )
        assert ledger.row_dimensions[row[0].row].height >= 15 * lines


def test_what_the_account_comes_to_stands_before_other_orders_of_the_week() -> None:
    words = [str(row[0]) for row in tabs_of(write_week(a_plan()))["Changeover ledger"]]
    said = words.index("32 min less changeover than by due date (−32 %, $32.00 saved).")
    assert words.index("This week") < said < words.index("The same week in another order")


@pytest.mark.parametrize("name", ["Late", "Run order"])
def test_lateness_of_days_is_not_cut_by_the_column_beside_it(name: str) -> None:
    plan = a_plan()
    days = plan.late[0].model_copy(update={"late_min": 12 * 1440 + 23 * 60})
    page = pages(plan.model_copy(update={"late": (days,)}))[name]
    (said,) = [c for row in page.iter_rows() for c in row if "12 days 23 h" in str(c.value)]
    assert page.column_dimensions[said.column_letter].width >= len(said.value)


@pytest.mark.parametrize(
    ("name", "heads"),
    [
        ("Run order", {"Run on", "Who", "Lots", "Order lines"}),
        ("Pick lists", {"Who", "What", "New belt", "Stands", "Moved"}),
    ],
)
def test_lists_of_names_are_wrapped_where_a_cell_beside_them_would_cut_them(
    name: str, heads: set[str]
) -> None:
    page = pages(a_replanned_plan())[name]
    wrapped = {
        cell.value
        for cell, below in zip(page[1], page[2], strict=True)
        if below.alignment.wrap_text
    }
    assert heads <= wrapped


def test_sentences_below_a_table_are_wrapped_within_its_width() -> None:
    ledger = pages(a_plan())["Changeover ledger"]
    rows = {cells.min_row for cells in ledger.merged_cells.ranges}
    said = [ledger.cell(row, 1) for row in sorted(rows)]
    assert any("(proven)" in cell.value for cell in said)
    assert all(cell.alignment.wrap_text for cell in said)


def test_a_list_with_nothing_on_it_says_so() -> None:
    plan = a_plan().model_copy(update={"late": (), "findings": ()})
    assert pages(plan)["Late"]["A2"].value is None
    words = {cell.value for name in ("Late", "Problems") for (cell, *_) in pages(plan)[name]}
    assert {"No order line is late.", "Nothing was found wrong or doubtful."} <= words


def test_a_line_is_drawn_where_another_card_or_station_begins() -> None:
    page = pages(a_plan())["Set-up cards"]
    cards = [(row[0].value, row[1].value) for row in page.iter_rows(min_row=2)]
    ruled = [row[0].border.top.style is not None for row in page.iter_rows(min_row=2)]
    assert any(ruled)
    assert ruled[1:] == [before != after for before, after in pairwise(cards)]


def with_cautions(*cautions: tuple[str, ...]) -> Plan:
    """The plan with these cautions on its cards, one after the other."""
    plan = a_plan()
    found = zip(plan.cards, cautions, strict=True)
    return plan.model_copy(
        update={"cards": tuple(card.model_copy(update={"cautions": each}) for card, each in found)}
    )


def test_every_caution_stands_with_its_card_or_once_above_all_cards() -> None:
    plan = with_cautions(("eyes", "dust"), ("dust", "eyes"), ("eyes", "heat"), ("eyes",))
    head, *rows = tabs_of(write_week(plan))["Set-up cards"]
    card, what, remark = map(head.index, ("Card", "What", "Remark"))
    told = [(row[card], row[what], row[remark]) for row in rows if "caution" in row[what]]
    assert told == [
        (None, "caution for every card", "eyes"),
        (None, "caution", "Cards 1, 2: dust"),
        (3, "caution", "heat"),
    ]


def test_what_a_row_is_stays_in_view_beside_wide_tables() -> None:
    found = pages(a_plan())
    assert [found[name].freeze_panes for name in ("Pick lists", "Cut lists", "Orders")] == [
        "D2",
        "E2",
        "C2",
    ]


def test_sheets_of_a_week_planned_again_are_printed_with_when_it_was() -> None:
    def heads(plan: Plan) -> set[str | None]:
        book = load_workbook(io.BytesIO(write_week(plan)))
        found = [sheet.oddHeader for sheet in book.worksheets]
        return {header.right.text for header in found if header is not None}

    assert heads(a_replanned_plan()) == {"Week 49, as of Mon 30 Nov 8:40"}
    assert heads(a_plan()) == {"Week 49"}
