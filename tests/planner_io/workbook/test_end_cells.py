"""Ends that may mean work that is not planned are warned of."""

from __future__ import annotations

from pathlib import Path

import pytest

from planner.errors import Severity
from planner.orders import EndCut
from planner_io.workbook import read_workbook
from tests.planner_io.workbook.sheets import an_order, some_orders


@pytest.mark.parametrize(
    ("column", "end"),
    [("End 1", "flat"), ("End 2", "Flattened"), ("Ends", "flattened end"), ("Ends", "flat both")],
)
def test_a_flat_end_is_planned_square_and_warned_of(tmp_path: Path, column: str, end: str) -> None:
    row = {**an_order(), column: end}
    found = read_workbook(some_orders(tmp_path / "w.xlsx", row))
    assert found.orders[0].ends == (EndCut(), EndCut())
    (warning,) = found.findings
    assert (warning.severity, warning.cell) == (Severity.WARNING, "K2")
    assert "flattening it is not planned" in warning.message


def test_one_flattened_end_of_two_is_warned_of(tmp_path: Path) -> None:
    row = an_order(Ends="flattened / square")
    found = read_workbook(some_orders(tmp_path / "w.xlsx", row))
    assert [each.cell for each in found.findings] == ["K2"]
