"""Upright pages, which end where rows that belong together do."""

from __future__ import annotations

from itertools import accumulate, groupby

from planner_io.week_book.heights import head_pt, rows_pt
from planner_io.week_book.sheet import Sheet

LEFT_IN, RIGHT_IN, TOP_IN, BOTTOM_IN = 0.4, 0.4, 0.7, 0.5
"""Margins of a page, inches."""
_PAPER_IN = {"letter": (8.5, 11.0), "a4": (8.27, 11.69)}
_CHARACTER_IN, _PADDING_IN = 7 / 96, 5 / 96
"""Width of a digit and of what stands free beside a column's text, in the usual type."""
_FILLED = 0.97
"""How much of a page is filled, as rows are not as high in every program."""


def page_breaks(sheet: Sheet, paper: str) -> list[int]:
    """The rows of a sheet of one block that begin a page, counted from 0 at the headings."""
    block = sheet.blocks[0]
    room_pt = _room_pt(sheet, paper) - head_pt(block)
    heights = rows_pt(block, sheet.widths)
    numbers = list(accumulate(block.starts()))
    found: list[int] = []
    before, used_pt = None, 0.0
    for _, same in groupby(range(len(block.rows)), key=numbers.__getitem__):
        rows = list(same)
        first, high_pt = block.rows[rows[0]].cells[0], sum(heights[at] for at in rows)
        if before is not None and (first != before or used_pt + high_pt > room_pt):
            found.append(rows[0] + 1)
            used_pt = 0.0
        before, used_pt = first, (used_pt + high_pt) % room_pt
    return found


def _room_pt(sheet: Sheet, paper: str) -> float:
    """The height of the rows on a page whose columns are shrunk to its width."""
    wide_in, high_in = _PAPER_IN[paper]
    widths = sheet.widths[: sheet.printed or None]
    columns_in = sum(_CHARACTER_IN * width + _PADDING_IN for width in widths)
    scale = min(1.0, (wide_in - LEFT_IN - RIGHT_IN) / columns_in)
    return 72 * _FILLED * (high_in - TOP_IN - BOTTOM_IN) / scale
