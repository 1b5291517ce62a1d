"""From the sheets to the bytes of the workbook."""

from __future__ import annotations

import io
from dataclasses import dataclass, field
from datetime import datetime, time
from itertools import takewhile

from planner.records import Plan
from planner_io.drawing.ink import RED
from planner_io.views.index import Index
from planner_io.week_book.heights import LINE_PT, head_pt, lines, rows_pt
from planner_io.week_book.sheet import Block, Kind, Row, Sheet, Value
from planner_io.week_book.sheets import sheets
from planner_io.week_book.upright import (
    BOTTOM_IN,
    LEFT_IN,
    RIGHT_IN,
    TOP_IN,
    page_breaks,
)
from planner_io.week_book.xlsx import Book, Format, Page, new_book

_PAPER = {"letter": 1, "a4": 9}
_LONGEST_TEXT = 32_767
"""Characters that a cell holds."""
_RULE = "#999999"
_NUMBERS = frozenset({Kind.COUNT, Kind.TENTH, Kind.LENGTH, Kind.MONEY})
"""Kinds that stand at the right of their column, and so do their headings."""
_GAP = "_M"
"""Ends a number's format: room of an M's width, or 16 pieces of 1-1/2" would read 16 1-1/2"."""


def write_week(plan: Plan) -> bytes:
    """The workbook of a plan."""
    index, out = Index(plan), io.BytesIO()
    book = new_book(out)
    book.set_properties(
        {
            "title": f"{plan.shop.house.name}, {index.week_name}",
            "created": datetime.combine(plan.options.start, time()),
        }
    )
    styles = _Styles(book, "# ??/??" if index.ruler.unit == "inch" else "0.0")
    for sheet in sheets(index):
        _write_sheet(book.add_worksheet(sheet.name), sheet, styles, index)
    book.close()
    return out.getvalue()


@dataclass
class _Styles:
    """Cell formats, each made once."""

    book: Book
    length_format: str
    made: dict[tuple[object, ...], Format] = field(default_factory=dict[tuple[object, ...], Format])

    def cell(self, kind: Kind, row: Row, starts: bool) -> Format:
        """The format of a cell by its column and row, and whether a group of rows starts here."""
        key = (kind, row.trouble, row.total, row.title, starts)
        if key not in self.made:
            self.made[key] = self.book.add_format(self._properties(kind, row, starts))
        return self.made[key]

    def _properties(self, kind: Kind, row: Row, starts: bool) -> dict[str, object]:
        numbers = {
            Kind.COUNT: f"0{_GAP}",
            Kind.TENTH: f"0.0{_GAP}",
            Kind.LENGTH: f"{self.length_format}{_GAP}",
            Kind.MONEY: f"#,##0.00{_GAP}",
            Kind.WHEN: "ddd d mmm h:mm",
            Kind.DAY: "ddd d mmm",
        }
        found: dict[str, object] = {"valign": "top", "text_wrap": kind == Kind.WRAPPED}
        if starts:
            found |= {"top": 1, "top_color": _RULE}
        if kind in numbers:
            found["num_format"] = numbers[kind]
        if kind in (Kind.WHEN, Kind.DAY):
            found["align"] = "left"
        if kind == Kind.TICK:
            found["border"] = 1
        if row.trouble:
            found["font_color"] = RED
        if row.title:
            found["bold"] = True
        if row.total:
            found |= {"bold": True, "top": 1}
        return found

    def named(self, name: str) -> Format:
        """The format of a heading or a note."""
        head: dict[str, object] = {
            "bold": True,
            "text_wrap": True,
            "valign": "bottom",
            "bottom": 2,
        }
        looks: dict[str, dict[str, object]] = {
            "head": head,
            "number": {**head, "align": "right", "num_format": f"@{_GAP}"},
            "title": {"bold": True, "font_size": 14},
            "note": {"italic": True, "text_wrap": True, "valign": "top"},
        }
        if (name,) not in self.made:
            self.made[name,] = self.book.add_format(looks[name])
        return self.made[name,]


def _write_sheet(page: Page, sheet: Sheet, styles: _Styles, index: Index) -> None:
    at = 0
    for number, block in enumerate(sheet.blocks):
        begins = at
        at = _write_block(page, block, at, styles)
        for row, high_pt in enumerate(rows_pt(block, sheet.widths), start=at - len(block.rows)):
            if high_pt > LINE_PT:
                page.set_row(row, high_pt)
        if number == 0:
            rows = sum(1 for _ in takewhile(lambda row: not row.total, block.rows))
            page.autofilter(begins, 0, begins + max(1, rows), len(block.columns) - 1)
        at += 1
        for note in block.notes:
            _write_note(page, at, note, sheet, styles)
            at += 1
        at += bool(block.notes)
    if sheet.printed:
        page.print_area(0, 0, max(1, at - 1), sheet.printed - 1)
    _set_up_page(page, sheet, index)


def _write_note(page: Page, at: int, note: str, sheet: Sheet, styles: _Styles) -> None:
    """A sentence across the columns that are printed, over several lines if need be."""
    widths = sheet.widths[: sheet.printed or None]
    page.merge_range(at, 0, at, len(widths) - 1, note, styles.named("note"))
    page.set_row(at, LINE_PT * lines(note, sum(widths)))


def _write_block(page: Page, block: Block, at: int, styles: _Styles) -> int:
    """Write a block from row `at` on; the row after its last."""
    if block.title:
        page.write_string(at, 0, block.title, styles.named("title"))
        page.set_row(at, 1.5 * LINE_PT)
        at += 1
    for number, column in enumerate(block.columns):
        look = "number" if column.kind in _NUMBERS else "head"
        page.write_string(at, number, column.head, styles.named(look))
    page.set_row(at, head_pt(block))
    rows = zip(block.rows, block.starts(), strict=True)
    for number, (row, starts) in enumerate(rows, start=at + 1):
        for place, (column, value) in enumerate(zip(block.columns, row.cells, strict=True)):
            _write_cell(page, number, place, value, styles.cell(column.kind, row, starts))
    return at + 1 + len(block.rows)


def _write_cell(page: Page, at: int, number: int, value: Value, style: Format) -> None:
    if value is None or value == "":
        page.write_blank(at, number, None, style)
    elif isinstance(value, str):
        page.write_string(at, number, value[:_LONGEST_TEXT], style)
    elif isinstance(value, int | float):
        page.write_number(at, number, value, style)
    else:
        page.write_datetime(at, number, value, style)


def _set_up_page(page: Page, sheet: Sheet, index: Index) -> None:
    house = index.plan.shop.house
    for number, width in enumerate(sheet.widths):
        page.set_column(number, number, width)
    page.freeze_panes(1, sheet.frozen)
    page.repeat_rows(0)
    page.set_paper(_PAPER[house.paper])
    page.set_margins(left=LEFT_IN, right=RIGHT_IN, top=TOP_IN, bottom=BOTTOM_IN)
    if sheet.upright:
        page.set_portrait()
        page.set_h_pagebreaks(page_breaks(sheet, house.paper))
    else:
        page.set_landscape()
    page.fit_to_pages(1, 0)
    name = _in_header(house.name)
    week = ", ".join(filter(None, (index.week_name, index.as_of)))
    page.set_header(f"&L&B{name}&C&B{_in_header(sheet.name)}&R{week}")
    page.set_footer("&RPage &P of &N")


def _in_header(words: str) -> str:
    """Text for a page header, where `&` begins a code."""
    return words[:60].replace("&", "&&")
