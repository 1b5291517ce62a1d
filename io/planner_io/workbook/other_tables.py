"""Other tables on a sheet, below, above or beside the one that is read: none of their cells may be
taken for its own."""

from __future__ import annotations

import re
from collections.abc import Container, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace

from planner_io.workbook.bends_sheet import BENDS
from planner_io.workbook.columns import SheetSpec
from planner_io.workbook.grid import Grid, Value, in_order, letters
from planner_io.workbook.headers import match_headers, names_exactly
from planner_io.workbook.orders_sheet import ORDERS
from planner_io.workbook.stock_sheet import STOCK

_SPECS = (ORDERS, STOCK, BENDS)
"""Sheets that people put on one sheet."""
LEAST_NAMES = 3
"""Names of columns that a row has at least to be the header of another table."""
LEAST_TWICE = 2
"""Columns that a table beside has as well, so that it is no part of this one with a gap before."""


_PAGE = re.compile(r"\b(?:page|seite|p[aá]gina) ?:? ?[0-9]+(?: ?(?:of|/|von|de) ?[0-9]+)?\b")
_RULE = re.compile(r"[-=_*.~+|–—]*")


@dataclass(frozen=True)
class Other:
    """Another table: its first row and column, and what to say of it."""

    row: int
    column: int
    words: str


@dataclass(frozen=True)
class Alone:
    """A sheet with one table alone, and what was left out of it."""

    grid: Grid
    others: Sequence[Other] = ()
    headers: Sequence[int] = ()
    """Rows that repeat its header, as on each page of a printed list."""
    titles: Sequence[int] = ()
    """Rows of dashes, and those that repeat a title above it."""


def alone(grid: Grid, row: int, spec: SheetSpec) -> Alone:
    """The sheet with header row `row` without what is no row of its table, where that is sure."""
    above = {_said(cells) for number, cells in grid.rows.items() if number < row}
    below = [(number, cells) for number, cells in in_order(grid) if number > row]
    titles = [n for n, cells in below if _is_rule(cells) or _said(cells) in above]
    again = [n for n, cells in below if cells == grid.rows[row]]
    grid = _without(grid, {*titles, *again})
    if spec not in _SPECS:
        return Alone(grid, headers=again, titles=titles)
    grid, beside = _without_beside(grid, row, spec)
    grid, others, like = _without_others(grid, row, spec)
    return Alone(grid, [*beside, *others], sorted([*again, *like]), titles)


def _without(grid: Grid, rows: Container[int]) -> Grid:
    return replace(grid, rows={n: cells for n, cells in grid.rows.items() if n not in rows})


def _said(cells: Mapping[int, Value]) -> str:
    """What a row says, but for the number of its page."""
    return _PAGE.sub("page", " | ".join(str(cells[column]).lower() for column in sorted(cells)))


def _is_rule(cells: Mapping[int, Value]) -> bool:
    """Whether a row is a line of dashes or the like in several cells."""
    return len(cells) > 1 and all(isinstance(v, str) and _RULE.fullmatch(v) for v in cells.values())


def _without_others(grid: Grid, row: int, spec: SheetSpec) -> tuple[Grid, list[Other], list[int]]:
    """The sheet without tables below or above, what those are, and the rows of headers that say the
    same as its own in other words."""
    own = _layout(grid.rows[row], spec)
    kept: dict[int, Mapping[int, Value]] = {}
    others: list[Other] = []
    like: list[int] = []
    for block in _blocks(grid, row, spec):
        header = next((each for each in block if _header_of(each[1], spec)), None)
        if header is None or row in dict(block):
            kept |= dict(block)
        elif _layout(header[1], spec) == own:
            kept |= dict(block)
            like.append(header[0])
        else:
            title = _header_of(header[1], spec) or spec.title
            others.append(Other(block[0][0], min(block[0][1]), _words(block, title, row, spec)))
    return _without(replace(grid, rows=kept), like), others, like


def _blocks(
    grid: Grid, row: int, spec: SheetSpec
) -> Iterator[list[tuple[int, Mapping[int, Value]]]]:
    """The rows of a sheet cut before each header, and before a title right above one. A row next
    to the header is a part of it, if any."""
    block: list[tuple[int, Mapping[int, Value]]] = []
    for number, cells in in_order(grid):
        begins = abs(number - row) > 1 and _header_of(cells, spec)
        if block and (number == row or begins):
            title = [block.pop()] if _is_title(block[-1], number) else []
            yield block
            block = title
        block.append((number, cells))
    yield block


def _is_title(above: tuple[int, Mapping[int, Value]], row: int) -> bool:
    """Whether a row is the title of the table with header row `row`: one text right above it."""
    number, cells = above
    return number + 1 == row and len(cells) == 1 and isinstance(next(iter(cells.values())), str)


def _header_of(cells: Mapping[int, Value], spec: SheetSpec) -> str | None:
    """The title of the sheet of which a row is most like the header, `spec` first."""
    texts = [value for value in cells.values() if isinstance(value, str)]
    every = (spec, *(other for other in _SPECS if other is not spec))
    names, title = max(
        ((sum(names_exactly(text, each) for text in texts), each.title) for each in every),
        key=lambda found: found[0],
    )
    return title if names >= LEAST_NAMES and 2 * names > len(cells) else None


def _layout(cells: Mapping[int, Value], spec: SheetSpec) -> dict[str, tuple[int, str]]:
    """Where the columns of a header row stand, and in which units."""
    headers = {key: guess.header for key, guess in match_headers(cells, spec)[0].items()}
    return {key: (head.index, head.unit) for key, head in headers.items()}


def _words(
    block: list[tuple[int, Mapping[int, Value]]], title: str, row: int, spec: SheetSpec
) -> str:
    first, last = block[0][0], block[-1][0]
    rows = f"rows {first} to {last} are" if last > first else f"row {first} is"
    if title == spec.title:
        return (
            f"{rows} another table, with columns in other places or units, and not read: put what "
            f"is wanted of it under the header in row {row}, and delete the rest"
        )
    return f"{rows} another table, and not read: put it on a sheet of its own called {title}"


def _without_beside(grid: Grid, row: int, spec: SheetSpec) -> tuple[Grid, list[Other]]:
    """The sheet without the columns of tables beside, each behind a blank column."""
    parts = list(_parts(grid, row))
    known = [match_headers(_within(grid.rows[row], part), spec)[0].keys() for part in parts]
    most = max(range(len(parts)), key=lambda number: len(known[number]))
    others = [
        number
        for number, part in enumerate(parts)
        if number != most
        and _header_of(_within(grid.rows[row], part), spec)
        and len(known[number] & known[most]) >= LEAST_TWICE
    ]
    dropped = {column for number in others for column in parts[number]}
    rows = {
        n: {c: v for c, v in cells.items() if c not in dropped} for n, cells in grid.rows.items()
    }
    told = [
        Other(
            row,
            min(parts[number]),
            f"columns {letters(min(parts[number]))} to {letters(max(parts[number]))} are another "
            "table, and not read: put it on a sheet of its own",
        )
        for number in others
    ]
    return replace(grid, rows={n: cells for n, cells in rows.items() if cells}), told


def _parts(grid: Grid, row: int) -> Iterator[range]:
    """The columns of a sheet from header row `row` on, cut at blank ones."""
    filled = sorted({column for n, cells in grid.rows.items() if n >= row for column in cells})
    first = filled[0]
    for column, after in zip(filled, [*filled[1:], 0], strict=True):
        if after != column + 1:
            yield range(first, column + 1)
            first = after


def _within(cells: Mapping[int, Value], part: Iterable[int]) -> dict[int, Value]:
    return {column: cells[column] for column in part if column in cells}
