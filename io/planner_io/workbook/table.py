"""Find the sheets and their header rows, whatever they are called and wherever they stand."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, field
from functools import cached_property

from planner_io.workbook.columns import Kind, SheetSpec
from planner_io.workbook.doubles import first_other
from planner_io.workbook.feet import together
from planner_io.workbook.grid import MAX_BLANK_ROWS, Grid, Value, address, in_order, letters
from planner_io.workbook.headers import Guess, Header, match_headers
from planner_io.workbook.layout import tell_layout
from planner_io.workbook.names import find_name, listed, plain_name
from planner_io.workbook.one_cell import tell_one_cell
from planner_io.workbook.other_tables import Alone, alone
from planner_io.workbook.piece_names import items_by_name, pieces_by_name
from planner_io.workbook.report import NOT_USED, Place, Report
from planner_io.workbook.two_rows import Titles, candidates, with_titles
from planner_io.workbook.unit_columns import with_units

LEAST_HEADERS = 2
"""Columns that must be known for a row to be a header."""

_AMOUNTS = frozenset(
    {Kind.WHOLE, Kind.DECIMAL, Kind.LENGTH, Kind.ALLOWANCE, Kind.OFFSET, Kind.OD, Kind.WALL}
)
_DITTO = frozenset({'"', "''", "″", "”", "“", "〃", '-"-', "ditto", "do.", "same", "as above"})
_DECIMAL_COMMA = re.compile(
    r"(?:[0-9]*|[0-9]{1,3}(?:\.[0-9]{3})+),(?:[0-9]{1,2}|[0-9]{4,})(?: ?[a-zA-Z]+)?"
)
"""Three figures behind the comma could be thousands."""


@dataclass(frozen=True)
class Row:
    """The filled cells of one row, by column key."""

    table: Table
    number: int
    values: Mapping[str, Value]

    def place(self, key: str) -> Place:
        """The cell of a column, or of the row's first column when the sheet lacks it."""
        header = self.table.headers.get(key)
        title = self.table.spec.column(key).title
        first = min(head.index for head in self.table.headers.values())
        return Place(
            self.table.grid.name, address(self.number, header.index if header else first), title
        )

    @property
    def start(self) -> Place:
        """The row's cell in the first column that is known."""
        first = min(header.index for header in self.table.headers.values())
        return Place(self.table.grid.name, address(self.number, first))


@dataclass(frozen=True)
class Table:
    """A sheet whose header row was found."""

    spec: SheetSpec
    grid: Grid
    header_row: int
    headers: Mapping[str, Header]
    parts: Mapping[str, Mapping[Value, Value]] = field(
        default_factory=dict[str, Mapping[Value, Value]]
    )
    """For columns that are a part of their cells: by cell what they take of it."""
    given: Mapping[str, Value] = field(default_factory=dict[str, Value])
    """For columns that the sheet lacks: what its name says for every row."""

    def rows(self) -> Iterator[Row]:
        """Rows below the header that hold something in a known column, with the cell above for a
        ditto mark."""
        above: Mapping[int, Value] = {}
        for number, written in in_order(self.grid):
            if number > self.header_row:
                cells = dict(_undittoed(written, above))
                values = {
                    key: self._part(key, cells[header.index])
                    for key, header in self.headers.items()
                    if header.index in cells
                }
                above = cells
                if values:
                    yield Row(self, number, values)

    def _part(self, key: str, value: Value) -> Value:
        return self.parts[key].get(value, value) if key in self.parts else value

    @cached_property
    def comma_columns(self) -> Mapping[str, str]:
        """Columns of numbers with a comma before the decimals, each with such a cell's text."""
        return {
            key: cell
            for row in self.rows()
            for key, cell in row.values.items()
            if self.spec.column(key).kind in _AMOUNTS
            and isinstance(cell, str)
            and _DECIMAL_COMMA.fullmatch(cell)
        }

    def strays(self) -> list[int]:
        """Rows below the header that hold something, but in no known column."""
        known = {row.number for row in self.rows()}
        return [
            number
            for number in sorted(self.grid.rows)
            if number > self.header_row and number not in known
        ]


def _undittoed(
    written: Mapping[int, Value], above: Mapping[int, Value]
) -> Iterator[tuple[int, Value]]:
    """The cells of a row with those above it for ditto marks; as a blank one where that is."""
    for index, value in written.items():
        if not is_ditto(value):
            yield index, value
        elif index in above:
            yield index, above[index]


def is_ditto(value: Value) -> bool:
    """Whether a cell says that it is as the one above."""
    return isinstance(value, str) and value.strip().lower() in _DITTO


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


def find_table(grid: Grid, spec: SheetSpec, report: Report) -> Table | None:
    """The table of a sheet; what is missing or unclear goes to the report."""
    best: tuple[Titles, dict[str, Guess], list[Header]] | None = None
    for titles in candidates(grid, spec):
        found, doubles = match_headers(titles.cells, spec)
        if len(found) >= LEAST_HEADERS and (best is None or len(found) > len(best[1])):
            best = (titles, found, doubles)
    if best is None:
        _no_header(grid, spec, report)
        return None
    titles, found, doubles = best
    grid, number = with_titles(grid, titles, report), titles.row
    found_alone = alone(grid, number, spec)
    grid = found_alone.grid
    _tell_alone(found_alone, report)
    if found_alone.others:
        found, doubles = match_headers(grid.rows[number], spec)
    headers = {key: guess.header for key, guess in found.items()}
    if part := pieces_by_name(grid, number, headers, spec):
        others = {index: text for index, text in grid.rows[number].items() if index != part.index}
        found, doubles = match_headers(others, spec)
        headers = {**{key: guess.header for key, guess in found.items()}, part.column.key: part}
        report.note(
            f"header “{part.text}” read as {part.column.title}, as it has names",
            Place(grid.name, address(number, part.index)),
        )
    headers = _with_grade(spec, headers, doubles)
    if line := items_by_name(grid, number, headers, doubles):
        headers = _as_part(spec, headers, line)
        report.note(
            f"header “{line.text}” is not read as Line, as it has names",
            Place(grid.name, address(number, line.index)),
        )
    if joined := together(grid, number, headers, spec):
        grid, headers = joined.grid, {**headers, joined.length.column.key: joined.length}
        doubles = [head for head in doubles if head.index != joined.inches]
        report.note(joined.words, Place(grid.name, address(number, joined.inches)))
    for units in with_units(grid, number, headers):
        grid = units.grid
        report.note(units.words, Place(grid.name, address(number, units.index)))
    table = Table(spec, grid, number, headers)
    _tell(table, found, doubles, report)
    return table


def _with_grade(
    spec: SheetSpec, headers: Mapping[str, Header], doubles: list[Header]
) -> dict[str, Header]:
    """The headers with a second column of materials as the grade, where there is no other: `Alloy`
    beside `Material`."""
    second = next((head for head in doubles if head.column.key == "material"), None)
    if second is None or "grade" in headers:
        return dict(headers)
    grade = Header(spec.column("grade"), second.index, second.text, second.unit)
    return {**headers, "grade": grade}


def _as_part(spec: SheetSpec, headers: Mapping[str, Header], line: Header) -> dict[str, Header]:
    """The headers with a column of lines as the parts, or as nothing where there are parts."""
    others = {key: header for key, header in headers.items() if header != line}
    return {"part": Header(spec.column("part"), line.index, line.text), **others}


def _tell_alone(found: Alone, report: Report) -> None:
    """Tell what of a sheet is no row of its table."""
    for other in found.others:
        report.error(Place(found.grid.name, address(other.row, other.column)), other.words)
    if found.headers:
        rows = listed(map(str, found.headers))
        report.note(f"the header again in row {rows}", Place(found.grid.name))
    if found.titles:
        rows = listed(map(str, found.titles))
        report.note(
            f"lines and titles that stand above, left out: row {rows}", Place(found.grid.name)
        )


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


def _no_header(grid: Grid, spec: SheetSpec, report: Report) -> None:
    titles = listed(column.title for column in spec.columns if column.required)
    report.error(
        Place(grid.name, "A1"),
        f"no header row found; put a row with {titles} above the rows",
        expected=f"a header row with {titles}",
    )


def _tell(table: Table, found: Mapping[str, Guess], doubles: list[Header], report: Report) -> None:
    place = table.grid.name
    for guess in found.values():
        if guess.guessed:
            head = guess.header
            cell = Place(place, address(table.header_row, head.index))
            report.note(f"header “{head.text}” read as {head.column.title}", cell)
    for head in doubles:
        used = table.headers[head.column.key]
        if head.index in {other.index for other in table.headers.values()}:
            continue
        cell = Place(place, address(table.header_row, head.index))
        words = (
            f"columns {letters(used.index)} and {letters(head.index)} both mean "
            f"{head.column.title}: {letters(used.index)}, “{used.text}”, is used"
        )
        pairs = [(row.number, table.grid.rows[row.number]) for row in table.rows()]
        row = first_other(pairs, used, head)
        if row and used.column.key == "ends":
            where = "write what both say under End 1 and End 2"
            report.error(cell, f"{words}, though row {row} differs; {where}")
        elif row:
            report.warn(
                cell, f"{words}, though row {row} differs; delete the one that is not meant"
            )
        else:
            report.note(words, cell)
    _tell_dittos(table, report)
    if table.grid.merged:
        report.note("merged cells count for each of their rows", Place(place, table.grid.merged[0]))
    if table.grid.ended:
        report.note(
            f"the rest is not read after {MAX_BLANK_ROWS:,} blank rows below row "
            f"{table.grid.ended}",
            Place(place),
        )
    if not table.grid.visible:
        report.note("the sheet is hidden, and read all the same", Place(place))
    _tell_unused(table, doubles, report)
    rows = [row.number for row in table.rows()]
    tell_layout(table.grid, table.header_row, rows, [*table.headers.values()], report)
    if table.grid.cut:
        report.error(
            Place(place, "A1"),
            f"the sheet is too large: {table.grid.cut} were not read; split it or delete old rows",
        )


def _tell_dittos(table: Table, report: Report) -> None:
    known = {head.index for head in table.headers.values()}
    for number, cells in in_order(table.grid):
        for index in sorted(known & cells.keys()):
            if number > table.header_row and is_ditto(cells[index]):
                place = Place(table.grid.name, address(number, index))
                report.note("ditto marks read as the cell above", place)


def _tell_unused(table: Table, doubles: list[Header], report: Report) -> None:
    used = {head.index for head in table.headers.values()} | {head.index for head in doubles}
    titles = table.grid.rows[table.header_row]
    others = [str(titles[index]) for index in sorted(titles) if index not in used]
    others += [f"{letters(index)} (without a header)" for index in _unnamed(table, used)]
    if others:
        report.note(f"columns {NOT_USED}: {listed(others)}", Place(table.grid.name))
    strays = table.strays()
    if strays:
        rows = listed(str(number) for number in strays)
        report.note(
            f"rows with nothing in a known column, left out: {rows}", Place(table.grid.name)
        )


def _unnamed(table: Table, used: set[int]) -> list[int]:
    """Columns with something below the header row, but no header."""
    titles = table.grid.rows[table.header_row]
    filled = {
        index
        for number, row in table.grid.rows.items()
        if number > table.header_row
        for index in row
    }
    return sorted(filled - used - titles.keys())


def unread_titles(table: Table) -> list[tuple[int, str]]:
    """The headers of columns that are not read, from left to right."""
    used = {head.index for head in table.headers.values()}
    titles = table.grid.rows[table.header_row]
    return [(index, str(titles[index])) for index in sorted(titles) if index not in used]


def or_rename(table: Table) -> str:
    """The end of a sentence about a missing column: the ones that are not read may be it."""
    unread = [f"“{text}”" for _, text in unread_titles(table)]
    return f", or rename the one of {listed(unread)} that says it" if unread else ""


def _or_one_row(table: Table, absent: set[str]) -> str:
    """The end of a sentence about a missing column that the row below the header names."""
    below = [row for row in in_order(table.grid) if row[0] > table.header_row][:1]
    for number, cells in below:
        words = {index: cell for index, cell in cells.items() if not _has_figure(cell)}
        if absent & match_headers(words, table.spec)[0].keys():
            return f"; row {number} looks like a part of the header: write it in one row"
    return ""


def _has_figure(cell: Value) -> bool:
    """A cell with a figure is no title: `38.1 x 1.5 304 tube`."""
    return any(letter.isdigit() for letter in str(cell))


def missing_columns(table: Table, report: Report) -> bool:
    """Report required columns that the sheet lacks; whether there are any."""
    absent = [
        column
        for column in table.spec.columns
        if column.required
        and not {column.key, column.or_else} & (table.headers.keys() | table.given.keys())
    ]
    told = tell_one_cell(
        table.grid, table.header_row, table.spec, {column.key for column in absent}, report
    )
    rename = or_rename(table) + _or_one_row(table, {column.key for column in absent})
    for column in (column for column in absent if column.key not in told):
        report.error(
            Place(table.grid.name, address(table.header_row, 1)),
            f"there is no column {column.title}; add one ({column.help.rstrip('.')}){rename}",
            expected=f"a column such as {listed((column.title, *column.names.split(', ')[:3]))}",
        )
    return bool(absent)
