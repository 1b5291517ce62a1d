"""Rows that say everything in one cell: `38.1 x 1.5 304 tube 1200 long satin, qty 6`.

No such cell is read: which of its words is the material and which the finish would be guessed.
It is told what columns are wanted, with what can be seen in the first one.

>>> seen("38.1 x 1.5 304 tube 1200 long satin, qty 6")
{'od': '38.1', 'wall': '1.5', 'length': '1200', 'quantity': '6'}
>>> seen('4 off 1-1/2" x .065" A513 x 24"'), seen("Rail post 3"), seen("2 x 4 bracket")
({'od': '1-1/2"', 'wall': '.065"', 'quantity': '4'}, {}, {})
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from fractions import Fraction

from planner_io.workbook.columns import SheetSpec
from planner_io.workbook.grid import Grid, Value, address, in_order
from planner_io.workbook.names import listed
from planner_io.workbook.report import Place, Report

_NUMBER = r"(?:[0-9]+[- ][0-9]+/[0-9]+|[0-9]+/[0-9]+|[0-9]*[.,]?[0-9]+)"
_SIZE = rf"({_NUMBER} ?(?:mm|in\b|\"|'|ft|m\b)?)"
_BY = re.compile(
    rf"(?<![\w.,/-]){_SIZE}(?: ?(?:od|dia))? ?[x×*] ?{_SIZE}(?![\w.,/])", re.IGNORECASE
)
_LENGTH = re.compile(
    rf"{_SIZE} ?(?:long|lg\b|length)|\b(?:l|lg|length) ?[=:] ?{_SIZE}", re.IGNORECASE
)
_COUNT = re.compile(
    r"\b(?:qty|quantity|pcs|pieces) ?[.:=]? ?([0-9]+)\b|\b([0-9]+) ?(?:off|pcs?|pieces|ea)\b",
    re.IGNORECASE,
)
_WORD = re.compile(r"[^\W\d_]{2,}|[0-9]{3,4}")


@dataclass(frozen=True)
class OneCell:
    """The first cell of a column of which most cells say several things."""

    row: int
    index: int
    text: str
    seen: Mapping[str, str]
    """What can be seen in it, by the key of the column that it belongs in."""


def tell_one_cell(
    grid: Grid, header_row: int, spec: SheetSpec, absent: set[str], report: Report
) -> frozenset[str]:
    """Report a column of such cells where both OD and Material are `absent`; the keys of the absent
    ones that it says."""
    if not {"od", "material"} <= absent:
        return frozenset()
    found = one_cell([row for row in in_order(grid) if row[0] > header_row])
    if found is None:
        return frozenset()
    title = {column.key: column.title for column in spec.columns}
    keys = [key for key in found.seen if key in title]
    rest = [key for key in ("material", "recipe") if key in title]
    report.error(
        Place(grid.name, address(found.row, found.index)),
        f"“{found.text}” says several things in one cell, and none is read from there: give each a "
        f"column of its own, here {listed(f'{title[key]} {found.seen[key]}' for key in keys)}, and "
        f"the rest under {' and '.join(title[key] for key in rest)}",
        read=found.text,
        expected=f"a column each for {listed(title[key] for key in (*keys, *rest))}",
    )
    return frozenset(absent & {*keys, *rest})


def one_cell(rows: Sequence[tuple[int, Mapping[int, Value]]]) -> OneCell | None:
    """The first cell of the leftmost such column of some rows; None where there is none."""
    for index in sorted({index for _, cells in rows for index in cells}):
        of_column = [(row, cells[index]) for row, cells in rows if index in cells]
        found = [
            OneCell(row, index, value, parts)
            for row, value in of_column
            if isinstance(value, str) and (parts := seen(value))
        ]
        if 2 * len(found) > len(of_column):
            return found[0]
    return None


def seen(text: str) -> dict[str, str]:
    """The size, length and count in a text that has more words besides; empty where there is no
    OD by a wall."""
    size = _BY.search(text)
    if size is None or not _is_tube(size[1], size[2]):
        return {}
    rest = f"{text[: size.start()]} {text[size.end() :]}"
    found = {"od": size[1].strip(), "wall": size[2].strip()}
    for key, pattern in (("length", _LENGTH), ("quantity", _COUNT)):
        if match := pattern.search(rest):
            found[key] = next(part.strip() for part in match.groups() if part)
            rest = f"{rest[: match.start()]} {rest[match.end() :]}"
    return found if _WORD.search(rest) else {}


def _is_tube(od: str, wall: str) -> bool:
    """Whether two sizes can be an OD and a wall, as most are."""
    wide, thick = _inexact(od), _inexact(wall)
    return 0 < 4 * thick <= wide


def _inexact(size: str) -> Fraction:
    """About how much a size is, whatever its unit."""
    parts: Iterator[str] = iter(re.findall(r"[0-9]+/[0-9]+|[0-9]*[.,]?[0-9]+", size))
    return sum((Fraction(part.replace(",", ".")) for part in parts), Fraction(0))
