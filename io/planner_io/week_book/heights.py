"""How high rows are, in points: not every spreadsheet program fits them to their texts itself."""

from __future__ import annotations

from collections.abc import Sequence
from textwrap import wrap

from planner_io.week_book.sheet import Block, Kind

LINE_PT = 15.0
"""Height of a line of text."""
MOST_PT = 409.0
"""The largest that a row may have."""


def lines(words: str, width: float) -> int:
    """How many lines a text takes in a column that is so many characters wide."""
    return sum(
        len(wrap(line, max(1, int(1.1 * width)))) or 1 for line in words.splitlines() or [""]
    )


def head_pt(block: Block) -> float:
    """The height of a block's headings."""
    return LINE_PT * max(2, *(lines(c.head, c.width) for c in block.columns))


def rows_pt(block: Block, widths: Sequence[float]) -> list[float]:
    """The height of each row of a block, by its wrapped texts."""
    return [
        min(MOST_PT, LINE_PT * max(_wrapped(block, row.cells, widths), default=1))
        for row in block.rows
    ]


def _wrapped(block: Block, cells: Sequence[object], widths: Sequence[float]) -> list[int]:
    return [
        lines(value, width)
        for column, value, width in zip(block.columns, cells, widths, strict=False)
        if column.kind == Kind.WRAPPED and isinstance(value, str)
    ]
