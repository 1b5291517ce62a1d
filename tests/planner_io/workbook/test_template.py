"""The template can be read back as it is, and holds the starter shop."""

from __future__ import annotations

from pathlib import Path

import openpyxl
import pytest

from planner.errors import Severity
from planner_io.starter import starter_shop, starter_stock
from planner_io.workbook import Reading, read_workbook, write_template


@pytest.fixture(scope="module")
def untouched(tmp_path_factory: pytest.TempPathFactory) -> Reading:
    path = tmp_path_factory.mktemp("template") / "week.xlsx"
    path.write_bytes(write_template())
    return read_workbook(path)


def test_an_untouched_template_has_no_errors_and_no_orders(untouched: Reading) -> None:
    assert untouched.orders == ()
    assert [finding.severity for finding in untouched.findings] == [Severity.WARNING]
    assert "no order lines yet" in untouched.findings[0].message


def test_the_template_holds_the_starter_shop_to_the_nanometre(untouched: Reading) -> None:
    assert untouched.shop == starter_shop()
    assert untouched.stock == starter_stock()


def test_the_template_is_the_same_bytes_each_time() -> None:
    assert write_template() == write_template()


def test_an_example_row_that_was_changed_is_an_order(tmp_path: Path) -> None:

    path = tmp_path / "week.xlsx"
    path.write_bytes(write_template())
    book = openpyxl.load_workbook(path)
    book["Orders"]["A5"] = "1187"
    book.save(path)
    reading = read_workbook(path)
    assert [line.key for line in reading.orders] == ["1187/1"]
    assert not [f for f in reading.findings if f.severity == Severity.ERROR]
