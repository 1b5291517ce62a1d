"""The reference in docs is what the program says."""

from __future__ import annotations

from pathlib import Path

from planner_io.workbook.reference import reference

DOCS = Path(__file__).parents[3] / "docs" / "workbook.md"


def test_the_reference_is_up_to_date() -> None:
    """If it is not: `python -m planner_io.workbook.reference docs/workbook.md`."""
    assert DOCS.read_text(encoding="utf-8") == reference()
