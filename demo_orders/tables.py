"""Tables written as text, one row a line and cells between bars."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence

from planner_io.workbook.columns import SheetSpec
from planner_io.workbook.examples import typed
from planner_io.workbook.show import Shown

Cells = Mapping[str, Shown]


def table(spec: SheetSpec, keys: Sequence[str], text: str) -> list[Cells]:
    """Rows of a sheet from text, its cells being those of `keys` in order.

    A cell that says `"` repeats the one above; numbers and dates become such where the sheet
    has them.
    """
    rows: list[Cells] = []
    above = [""] * len(keys)
    for words in _lines(text, len(keys)):
        above = [old if word == '"' else word for word, old in zip(words, above, strict=True)]
        rows.append(
            {
                key: typed(spec.column(key), word)
                for key, word in zip(keys, above, strict=True)
                if word
            }
        )
    return rows


def _lines(text: str, width: int) -> Iterator[list[str]]:
    for line in text.strip().splitlines():
        words = [word.strip() for word in line.split("|")]
        if len(words) > width:
            raise ValueError(line)
        yield words + [""] * (width - len(words))
