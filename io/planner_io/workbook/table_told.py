"""What is told of a table as a whole: its headers, what of it is not read, and what it lacks."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from planner_io.workbook.columns import SheetSpec
from planner_io.workbook.doubles import first_other
from planner_io.workbook.grid import MAX_BLANK_ROWS, Grid, Value, address, in_order, letters
from planner_io.workbook.headers import Guess, Header, match_headers
from planner_io.workbook.layout import tell_layout
from planner_io.workbook.names import listed
from planner_io.workbook.one_cell import tell_one_cell
from planner_io.workbook.other_tables import Alone
from planner_io.workbook.report import NOT_USED, Place, Report
from planner_io.workbook.table import Table, is_ditto, unread_titles


def tell_no_header(grid: Grid, spec: SheetSpec, report: Report) -> None:
    """Tell that no row of a sheet names the columns that it must have."""
    titles = listed(column.title for column in spec.columns if column.required)
    report.error(
        Place(grid.name, "A1"),
        f"no header row found; put a row with {titles} above the rows",
        expected=f"a header row with {titles}",
    )


def tell_alone(found: Alone, report: Report) -> None:
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


def tell_table(
    table: Table, guesses: Iterable[Guess], doubles: Sequence[Header], report: Report
) -> None:
    """Tell how a table was read: which headers were `guesses`, which are `doubles` of another, and
    what of the sheet is not read."""
    _tell_guesses(table, guesses, report)
    for head in doubles:
        if head.index not in {used.index for used in table.headers.values()}:
            _tell_double(table, head, report)
    _tell_dittos(table, report)
    _tell_grid(table.grid, report)
    _tell_unused(table, doubles, report)
    rows = [row.number for row in table.rows()]
    tell_layout(table.grid, table.header_row, rows, [*table.headers.values()], report)
    if table.grid.cut:
        report.error(
            Place(table.grid.name, "A1"),
            f"the sheet is too large: {table.grid.cut} were not read; split it or delete old rows",
        )


def _tell_guesses(table: Table, guesses: Iterable[Guess], report: Report) -> None:
    for guess in guesses:
        if guess.guessed:
            head = guess.header
            place = Place(table.grid.name, address(table.header_row, head.index))
            report.note(f"header “{head.text}” read as {head.column.title}", place)


def _tell_double(table: Table, head: Header, report: Report) -> None:
    """Tell which of two columns that mean the same is read, and warn where they differ."""
    used = table.headers[head.column.key]
    place = Place(table.grid.name, address(table.header_row, head.index))
    words = (
        f"columns {letters(used.index)} and {letters(head.index)} both mean "
        f"{head.column.title}: {letters(used.index)}, “{used.text}”, is used"
    )
    pairs = [(row.number, table.grid.rows[row.number]) for row in table.rows()]
    row = first_other(pairs, used, head)
    if row and used.column.key == "ends":
        where = "write what both say under End 1 and End 2"
        report.error(place, f"{words}, though row {row} differs; {where}")
    elif row:
        report.warn(place, f"{words}, though row {row} differs; delete the one that is not meant")
    else:
        report.note(words, place)


def _tell_dittos(table: Table, report: Report) -> None:
    known = {head.index for head in table.headers.values()}
    for number, cells in in_order(table.grid):
        for index in sorted(known & cells.keys()):
            if number > table.header_row and is_ditto(cells[index]):
                place = Place(table.grid.name, address(number, index))
                report.note("ditto marks read as the cell above", place)


def _tell_grid(grid: Grid, report: Report) -> None:
    """Tell what of the spreadsheet's own ways is read past."""
    if grid.merged:
        report.note("merged cells count for each of their rows", Place(grid.name, grid.merged[0]))
    if grid.ended:
        report.note(
            f"the rest is not read after {MAX_BLANK_ROWS:,} blank rows below row {grid.ended}",
            Place(grid.name),
        )
    if not grid.visible:
        report.note("the sheet is hidden, and read all the same", Place(grid.name))


def _tell_unused(table: Table, doubles: Sequence[Header], report: Report) -> None:
    """Tell which columns and rows of a table hold something and are not read."""
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
