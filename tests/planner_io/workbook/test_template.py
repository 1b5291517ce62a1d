"""The template can be read back as it is, and holds the starter shop."""

from __future__ import annotations

import io
import re
from datetime import date, datetime
from pathlib import Path

import openpyxl
import pytest

from planner.errors import Severity
from planner_io.checks_sheet import CHECKS
from planner_io.finish_checks import read_checks
from planner_io.logbook import read_log
from planner_io.logbook_sheet import LOG
from planner_io.progress import read_progress
from planner_io.progress_sheet import PROGRESS
from planner_io.starter import starter_shop
from planner_io.starter_metric import metric_shop, metric_stock
from planner_io.starter_stock import starter_stock
from planner_io.workbook import Reading, blanks_of, read_workbook, write_template
from planner_io.workbook.bends_sheet import BENDS
from planner_io.workbook.orders_sheet import ORDERS
from planner_io.workbook.shop_sheets import SHOP_SHEETS
from planner_io.workbook.stock_sheet import STOCK
from tests.planner_io.plans import a_plan


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


def test_the_examples_of_log_progress_and_checks_count_for_nothing(tmp_path: Path) -> None:
    path = tmp_path / "week.xlsx"
    path.write_bytes(write_template())
    log = read_log(path)
    assert (log.runs, log.findings) == ((), ())
    issued = a_plan()
    assert read_progress(path, issued, datetime(2026, 11, 30, 12)).rows == ()
    assert read_checks(path, issued) == ()


def test_a_run_written_over_the_logs_example_is_learned_from(tmp_path: Path) -> None:
    path = tmp_path / "week.xlsx"
    path.write_bytes(write_template())
    book = openpyxl.load_workbook(path)
    book["Log"]["A5"] = date(2026, 11, 2)
    book.save(path)
    log = read_log(path)
    assert log.findings == ()
    assert [(run.belt, run.count, run.minutes) for run in log.runs] == [("P120 stainless", 12, 48)]


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


@pytest.fixture(scope="module")
def book() -> openpyxl.Workbook:
    return openpyxl.load_workbook(io.BytesIO(write_template()))


def test_every_sheet_says_what_it_is_for_and_notes_every_header(book: openpyxl.Workbook) -> None:
    specs = (ORDERS, BENDS, STOCK, *SHOP_SHEETS, LOG, PROGRESS, CHECKS)
    assert book.sheetnames == [spec.title for spec in specs]
    for spec in specs:
        sheet = book[spec.title]
        assert sheet["A1"].value == spec.title
        assert sheet["A2"].value == spec.help
        for index, column in enumerate(spec.columns, 1):
            head = sheet.cell(4, index)
            assert head.value == column.title
            assert head.comment is not None
            assert column.help in head.comment.text


def test_columns_with_words_to_choose_from_have_a_drop_down(book: openpyxl.Workbook) -> None:
    lists = " ".join(str(rule.formula1) for rule in book["Orders"].data_validations.dataValidation)
    for word in ("carbon", "scaled", "Satin P180", "axis to axis", "rush", "saw first"):
        assert word in lists


def test_sizes_are_text_so_that_no_spreadsheet_makes_a_date_of_them(
    book: openpyxl.Workbook,
) -> None:
    sheet = book["Orders"]
    titles = [cell.value for cell in sheet[4]]
    spans = [
        (look.min or 0, look.max or 0, look.number_format)
        for look in sheet.column_dimensions.values()
    ]
    for title in ("OD", "Wall", "Length", "End 1"):
        index = titles.index(title) + 1
        assert [look for low, high, look in spans if low <= index <= high] == ["@"], title


def test_the_template_has_no_formulas_and_no_macros(book: openpyxl.Workbook) -> None:
    cells = [cell for sheet in book for row in sheet.iter_rows() for cell in row]
    assert not [cell.coordinate for cell in cells if cell.data_type == "f"]
    assert book.vba_archive is None


def test_every_setting_is_explained_where_its_value_is_entered(book: openpyxl.Workbook) -> None:
    page = book["Settings"]
    told = {
        str(rule.sqref): (rule.promptTitle, rule.prompt)
        for rule in page.data_validations.dataValidation
    }
    rows = list(page.iter_rows(min_row=5, min_col=2, max_col=2))
    assert len(rows) > 30
    for (cell,) in rows:
        title, text = told[f"C{cell.row}"]
        assert title == cell.value
        assert text is not None
        assert len(text) > 10


def test_sizes_are_written_as_the_trade_writes_them(book: openpyxl.Workbook) -> None:
    """Sticks in feet, walls and pipe sizes to three places (common practice)."""

    def values(sheet: str, column: str) -> set[str]:
        page = book[sheet]
        head = [cell.value for cell in page[4]].index(column)
        return {str(row[head]) for row in page.iter_rows(min_row=6, values_only=True)}

    assert values("Stock", "Length") == {"20 ft", "24 ft"}
    assert {'.120"', '.083"', '.065"'} <= values("Stock", "Wall")
    assert {'1.900"', '1-1/2"'} <= values("Tooling", "OD")
    assert "1000 mm" not in values("Stations", "Largest OD")


def test_a_metric_template_holds_the_metric_shop_and_its_examples_count_for_nothing(
    tmp_path: Path,
) -> None:
    path = tmp_path / "week.xlsx"
    path.write_bytes(write_template("mm"))
    found = read_workbook(path)
    assert (found.shop, found.stock) == (metric_shop(), metric_stock())
    assert found.orders == ()
    assert [finding.severity for finding in found.findings] == [Severity.WARNING]
    assert (read_log(path).runs, read_log(path).findings) == ((), ())


def test_a_metric_template_is_a_week_once_its_example_is_an_order(tmp_path: Path) -> None:
    path = tmp_path / "week.xlsx"
    path.write_bytes(write_template("mm"))
    book = openpyxl.load_workbook(path)
    book["Orders"]["A5"] = "1187"
    shown = [str(cell.value) for page in book for row in page.iter_rows(min_row=5) for cell in row]
    book.save(path)
    assert not [text for text in shown if re.search(r"[0-9]\"|[0-9]/[0-9]+$|\bft\b", text)]
    reading = read_workbook(path)
    made = blanks_of(reading)
    assert [f for f in (*reading.findings, *made.findings) if f.severity == Severity.ERROR] == []
    assert [blank.length_nm for blank in made.blanks] == [930_000_000]
