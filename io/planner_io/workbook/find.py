"""Find the sheets and their header rows, whatever they are called and wherever they stand."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace

from planner_io.workbook.columns import SheetSpec
from planner_io.workbook.feet import together
from planner_io.workbook.grid import Grid, address
from planner_io.workbook.headers import Guess, Header, match_headers
from planner_io.workbook.names import find_name, plain_name
from planner_io.workbook.other_tables import alone
from planner_io.workbook.piece_names import items_by_name, pieces_by_name
from planner_io.workbook.report import Place, Report
from planner_io.workbook.table import Table
from planner_io.workbook.table_told import tell_alone, tell_no_header, tell_table
from planner_io.workbook.two_rows import Titles, candidates, with_titles
from planner_io.workbook.unit_columns import with_units

LEAST_HEADERS = 2
"""Columns that must be known for a row to be a header."""


def find_sheet(grids: Iterable[Grid], spec: SheetSpec) -> tuple[Grid | None, bool]:
    """The grid whose name means `spec`, its title first, and whether its name was a guess.

    Hidden sheets count, but after those that can be seen.
    """
    every = list(grids)
    visible = _named(spec, [grid for grid in every if grid.visible])
    return visible if visible[0] else _named(spec, every)


def _named(spec: SheetSpec, grids: list[Grid]) -> tuple[Grid | None, bool]:
    for name in spec.plain_names:
        for grid in grids:
            if plain_name(grid.name) == name:
                return grid, False
    known = dict.fromkeys(spec.plain_names, spec)
    for grid in grids:
        match = find_name(grid.name, known)
        if match:
            return grid, match.guessed
    return None, False


@dataclass(frozen=True)
class _Found:
    """A sheet with its header row, as far as its columns are understood by now."""

    spec: SheetSpec
    grid: Grid
    row: int
    guesses: Mapping[str, Guess]
    """How the header row names columns, by their keys."""
    doubles: Sequence[Header]
    """Headers that name a column a second time."""
    headers: Mapping[str, Header]

    @classmethod
    def of(cls, spec: SheetSpec, grid: Grid, row: int, but: frozenset[int] = frozenset()) -> _Found:
        """The columns that a row names, without those that stand at `but`."""
        titles = {index: text for index, text in grid.rows[row].items() if index not in but}
        guesses, doubles = match_headers(titles, spec)
        headers = {key: guess.header for key, guess in guesses.items()}
        return cls(spec, grid, row, guesses, doubles, headers)

    def place(self, column: int) -> Place:
        """The header of a column."""
        return Place(self.grid.name, address(self.row, column))


def find_table(grid: Grid, spec: SheetSpec, report: Report) -> Table | None:
    """The table of a sheet; what is missing or unclear goes to the report."""
    titles = _titles(grid, spec)
    if titles is None:
        tell_no_header(grid, spec, report)
        return None
    parted = alone(with_titles(grid, titles, report), titles.row, spec)
    tell_alone(parted, report)
    found = _Found.of(spec, parted.grid, titles.row)
    for understood in (_pieces, _grade, _items, _feet_and_inches, _units):
        found = understood(found, report)
    table = Table(spec, found.grid, found.row, found.headers)
    tell_table(table, found.guesses.values(), found.doubles, report)
    return table


def _titles(grid: Grid, spec: SheetSpec) -> Titles | None:
    """The row that names the most columns, the first of several; None where none names enough."""
    best = max(candidates(grid, spec), key=lambda each: _known(each, spec), default=None)
    return best if best and _known(best, spec) >= LEAST_HEADERS else None


def _known(titles: Titles, spec: SheetSpec) -> int:
    return len(match_headers(titles.cells, spec)[0])


def _pieces(found: _Found, report: Report) -> _Found:
    """With a column of pieces by name as the parts."""
    part = pieces_by_name(found.grid, found.row, found.headers, found.spec)
    if part is None:
        return found
    words = f"header “{part.text}” read as {part.column.title}, as it has names"
    report.note(words, found.place(part.index))
    rest = _Found.of(found.spec, found.grid, found.row, frozenset({part.index}))
    return replace(rest, headers={**rest.headers, part.column.key: part})


def _grade(found: _Found, _: Report) -> _Found:
    """With a second column of materials as the grade, where there is no other: `Alloy` beside
    `Material`."""
    second = next((head for head in found.doubles if head.column.key == "material"), None)
    if second is None or "grade" in found.headers:
        return found
    grade = Header(found.spec.column("grade"), second.index, second.text, second.unit)
    return replace(found, headers={**found.headers, "grade": grade})


def _items(found: _Found, report: Report) -> _Found:
    """With a column of lines that has names as the parts, or as nothing where there are parts."""
    line = items_by_name(found.grid, found.row, found.headers, found.doubles)
    if line is None:
        return found
    report.note(
        f"header “{line.text}” is not read as Line, as it has names", found.place(line.index)
    )
    others = {key: header for key, header in found.headers.items() if header != line}
    part = Header(found.spec.column("part"), line.index, line.text)
    return replace(found, headers={"part": part, **others})


def _feet_and_inches(found: _Found, report: Report) -> _Found:
    """With feet and inches of two columns in one."""
    joined = together(found.grid, found.row, found.headers, found.spec)
    if joined is None:
        return found
    report.note(joined.words, found.place(joined.inches))
    return replace(
        found,
        grid=joined.grid,
        headers={**found.headers, joined.length.column.key: joined.length},
        doubles=[head for head in found.doubles if head.index != joined.inches],
    )


def _units(found: _Found, report: Report) -> _Found:
    """With units of columns of their own behind the amounts that they are of."""
    for units in with_units(found.grid, found.row, found.headers):
        found = replace(found, grid=units.grid)
        report.note(units.words, found.place(units.index))
    return found


def fits(grid: Grid, spec: SheetSpec) -> int:
    """How many columns of `spec` the best header row of a sheet names."""
    return len(named_columns(grid, spec))


def named_columns(grid: Grid, spec: SheetSpec) -> frozenset[str]:
    """The keys of the columns of `spec` that the best header row of a sheet names."""
    rows = candidates(grid, spec)
    known = [frozenset(match_headers(titles.cells, spec)[0]) for titles in rows]
    return max(known, key=len, default=frozenset[str]())


def has_needed(
    grid: Grid,
    spec: SheetSpec,
    any_of: tuple[str, ...] = (),
    but: frozenset[str] = frozenset(),
) -> bool:
    """Whether some header row of a sheet names all columns that `spec` needs but those of
    `but`, and one of `any_of` if there are any."""
    columns = [column for column in spec.columns if column.required and column.key not in but]
    needed = [{column.key, column.or_else} for column in columns]
    needed += [{*any_of}] if any_of else []
    named = (match_headers(titles.cells, spec)[0].keys() for titles in candidates(grid, spec))
    return any(all(keys & found for keys in needed) for found in named)
