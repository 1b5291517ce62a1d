"""Orders are read by meaning, and everything wrong is told at once."""

from __future__ import annotations

from pathlib import Path

from planner.errors import Severity
from planner_io.workbook import read_workbook
from tests.planner_io.workbook.sheets import an_order, some_orders


def test_a_plain_order_is_read_to_the_nanometre(tmp_path: Path) -> None:
    reading = read_workbook(some_orders(tmp_path / "w.xlsx", an_order()))
    (line,) = reading.orders
    assert not reading.findings
    assert line.key == "1187/1"
    assert (line.spec.od_nm, line.spec.wall_nm) == (38_100_000, 1_651_000)
    assert line.place == "Orders!A2"


def test_all_problems_of_a_row_are_told_at_once(tmp_path: Path) -> None:
    bad = an_order(Quantity=0, Material="unobtanium", Length="12 ft 3 x", Due="soon")
    findings = read_workbook(some_orders(tmp_path / "w.xlsx", bad)).findings
    assert {finding.cell for finding in findings} == {"D2", "E2", "I2", "J2"}
    assert {finding.severity for finding in findings} == {Severity.ERROR}
