"""What a spreadsheet shows besides its cells and is not read: hidden rows and columns, strokes
through cells, comments."""

from __future__ import annotations

from collections.abc import Sequence

from planner_io.workbook.grid import Grid, address, letters
from planner_io.workbook.headers import Header
from planner_io.workbook.names import listed
from planner_io.workbook.report import Place, Report


def tell_layout(
    grid: Grid, header_row: int, rows: Sequence[int], headers: Sequence[Header], report: Report
) -> None:
    """Tell it of the rows of a table and of the columns that are read."""
    first = min(head.index for head in headers)
    hidden = [row for row in rows if row in grid.hidden]
    if hidden:
        report.warn(
            Place(grid.name, address(hidden[0], first)),
            "rows that the spreadsheet does not show count all the same: "
            f"{listed(map(str, hidden))}; show them, and delete what is not wanted",
        )
    struck = [row for row in rows if row in grid.struck]
    if struck:
        report.warn(
            Place(grid.name, address(struck[0], first)),
            "rows with cells that are struck through count all the same: "
            f"{listed(map(str, struck))}; delete what is not wanted",
        )
    unseen = [head for head in headers if head.index in grid.hidden_columns]
    if unseen:
        names = listed(f"{letters(head.index)}, “{head.text}”" for head in unseen)
        report.note(
            f"columns that the spreadsheet does not show are read all the same: {names}",
            Place(grid.name),
        )
    below = [cell for cell in grid.comments if _row_of(cell) > header_row]
    if below:
        report.warn(
            Place(grid.name, below[0]),
            f"comments on cells are not read: {listed(below)}; write what counts into the cells",
        )


def _row_of(cell: str) -> int:
    return int(cell.lstrip("ABCDEFGHIJKLMNOPQRSTUVWXYZ"))
