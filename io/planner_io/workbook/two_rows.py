"""Headers that stand in two rows: units below them, or parts of what one title above says."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace

from planner_io.workbook.columns import SheetSpec
from planner_io.workbook.grid import Grid, Value, in_order
from planner_io.workbook.headers import UNITS, match_headers, names_exactly
from planner_io.workbook.names import plain_name
from planner_io.workbook.report import Place, Report

HEADER_ROWS = 40
"""Filled rows among which the header is looked for."""


@dataclass(frozen=True)
class Titles:
    """A row that may be the header, with the titles of its columns."""

    row: int
    cells: Mapping[int, Value]
    above: int = 0
    """The row above that says the other half of the titles; 0 for none."""


def candidates(grid: Grid, spec: SheetSpec) -> Iterator[Titles]:
    """The rows that may be the header, each joined with the one below if that goes on."""
    rows = list(in_order(grid))[: HEADER_ROWS + 1]
    below: list[tuple[int, Mapping[int, Value]] | None] = [*rows[1:], None]
    for (number, cells), after in zip(rows[:HEADER_ROWS], below, strict=False):
        joined = _joined(cells, after[1], spec) if after and after[0] == number + 1 else None
        if after and joined and _says_more(joined, cells, after[1], spec):
            yield Titles(after[0], joined, number)
        else:
            yield Titles(number, cells)


def _says_more(
    joined: Mapping[int, Value],
    upper: Mapping[int, Value],
    lower: Mapping[int, Value],
    spec: SheetSpec,
) -> bool:
    """Whether two rows name more columns together than the lower one alone, and no fewer than the
    upper one, to which it may add units."""
    both, above, below = (len(match_headers(row, spec)[0]) for row in (joined, upper, lower))
    return both > below and both >= above


def with_titles(grid: Grid, titles: Titles, report: Report) -> Grid:
    """The sheet with a header of two rows in the lower one, which is told."""
    if not titles.above:
        return grid
    report.note(f"rows {titles.above} and {titles.row} read as one header", Place(grid.name))
    rows = {number: cells for number, cells in grid.rows.items() if number != titles.above}
    return replace(grid, rows={**rows, titles.row: titles.cells})


def _joined(
    upper: Mapping[int, Value], lower: Mapping[int, Value], spec: SheetSpec
) -> dict[int, Value] | None:
    """The titles of two rows as one; None where the lower one is no part of a header: it names
    columns or units, and few words besides, which are remarks on the titles above them."""
    titles: dict[int, Value] = dict(upper)
    last = ""
    named = remarks = 0
    for column in range(1, max(*upper, *lower) + 1):
        title, part = upper.get(column), lower.get(column)
        last = title if isinstance(title, str) else last
        if part is None or part == title:
            continue
        found = _title(last, part, spec) if isinstance(part, str) else None
        if found is None and not _is_remark(title, part):
            return None
        titles[column] = found or f"{title} {part}"
        named, remarks = named + (found is not None), remarks + (found is None)
    return titles if named and remarks <= named // 2 else None


def _is_remark(title: Value | None, part: Value) -> bool:
    """Whether words below a title may be about it, as `/car` below `Qty`."""
    words = isinstance(title, str) and isinstance(part, str) and plain_name(part)
    return bool(words) and not any(letter.isdigit() for letter in str(part))


def _title(above: str, part: str, spec: SheetSpec) -> str | None:
    """A title and what stands below it: a unit of it, or a name alone or together with it."""
    if part.strip(" .()").lower() in UNITS:
        return f"{above} ({part.strip(' .()')})" if above else part
    if not plain_name(part):
        return None  # a line of dashes below a header is no part of it
    both = f"{above} {part}".strip()
    return next((text for text in (both, part) if names_exactly(text, spec)), None)
