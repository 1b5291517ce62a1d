"""Example rows of the template: left out until somebody changes them."""

from __future__ import annotations

from planner_io.workbook.cells import text
from planner_io.workbook.columns import SheetSpec
from planner_io.workbook.table import Row

MARK = "EXAMPLE"
"""What the first column of an example row says."""


def example_values(spec: SheetSpec) -> dict[str, str]:
    """What the example row of a sheet says, by column."""
    return {column.key: column.example for column in spec.columns if column.example}


def is_example(row: Row) -> bool:
    """Whether a row is the template's example, unchanged."""
    expected = example_values(row.table.spec)
    return {key: text(value) for key, value in row.values.items()} == expected
