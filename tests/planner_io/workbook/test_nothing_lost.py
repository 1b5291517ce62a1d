"""Whatever stands in the cells: no exception but InputError, and no row disappears silently."""

from __future__ import annotations

import contextlib
import datetime as dt
import re
from collections.abc import Callable, Sequence
from pathlib import Path

from hypothesis import HealthCheck, assume, given, settings
from hypothesis import strategies as st

from planner.errors import InputError, Severity
from planner_io.starter import starter_shop
from planner_io.starter_stock import starter_stock
from planner_io.workbook import read_workbook
from planner_io.workbook.bends import Parts, read_bends
from planner_io.workbook.bends_sheet import BENDS
from planner_io.workbook.columns import Column, SheetSpec
from planner_io.workbook.find import find_table
from planner_io.workbook.grid import CellError, Grid, GridBuilder, Value
from planner_io.workbook.names import plain_name
from planner_io.workbook.order_lines import Trade
from planner_io.workbook.orders import read_orders
from planner_io.workbook.orders_sheet import ORDERS
from planner_io.workbook.pipe_columns import DN_TITLES, PIPE_TITLES
from planner_io.workbook.report import LEFT_OUT, Report
from planner_io.workbook.rows import Habits
from planner_io.workbook.shop import read_shop
from planner_io.workbook.shop_sheets import SHOP_SHEETS
from planner_io.workbook.stock import read_stock
from planner_io.workbook.stock_sheet import STOCK
from planner_io.workbook.table import Table
from tests.planner_io.workbook.sheets import an_order

GOOD = {
    "order": st.sampled_from(["1187", "1188", 1187]),
    "line": st.sampled_from(["1", 2, None]),
    "quantity": st.sampled_from([1, 12.0, "3 pcs"]),
    "material": st.sampled_from(["304", 4130, "6061-T6", "DOM"]),
    "od": st.sampled_from(["1-1/2", 1.5, "38.1 mm", "1-1/2 sch 40"]),
    "wall": st.sampled_from([0.065, ".065", "16 ga", None]),
    "length": st.sampled_from([36, "36-1/2", "900 mm", "c-c 40", "see bends"]),
    "end_1": st.sampled_from(["square", "mitre 45", "saddle 1-1/2 @ 90", None]),
    "due": st.sampled_from([dt.datetime(2026, 12, 4), "2026-12-04", "4 Dec 2026", 46360]),
}
GARBAGE = st.one_of(
    st.none(),
    st.text(max_size=20),
    st.text(alphabet="0123456789-/., '\"xsch@mitresaddle", max_size=16),
    st.integers(),
    st.floats(),
    st.booleans(),
    st.datetimes(),
    st.dates(),
    st.times(),
    st.timedeltas(),
    st.sampled_from([CellError("#N/A"), CellError("="), "-", "n/a", "1e999", "9**9", "∞", "١٢"]),
)


Cells = Sequence[Value | None]


def a_grid(title: str, columns: Cells, rows: Sequence[Cells]) -> Grid:
    builder = GridBuilder(title)
    every: list[Cells] = [columns, *rows]
    for number, row in enumerate(every, 1):
        for column, value in enumerate(row, 1):
            builder.add(number, column, value)
    return builder.done()


@st.composite
def sheets(draw: st.DrawFn, spec: SheetSpec) -> Grid:
    """A sheet of this kind, its cells good ones and garbage mixed."""
    columns = [column for column in spec.columns if column.required or draw(st.booleans())]
    rows = draw(st.integers(0, 6))
    chance = draw(st.integers(0, 3))
    cells = [
        [
            draw(
                GOOD[column.key]
                if column.key in GOOD and draw(st.integers(0, 3)) > chance
                else GARBAGE
            )
            for column in columns
        ]
        for _ in range(rows)
    ]
    return a_grid(spec.title, [column.title for column in columns], cells)


def the_table(grid: Grid, spec: SheetSpec, report: Report) -> Table:
    table = find_table(grid, spec, report)
    assert table is not None
    return table


def rows_told(report: Report, sheet: str) -> set[int]:
    """Rows with an error, or a warning or reading that says that they were left out."""
    cells = [
        f.cell
        for f in report.findings
        if f.sheet == sheet
        if f.severity == Severity.ERROR
        or f.message.startswith(("left out as a note", "left out as a heading"))
        or "so the row is not planned" in f.message
    ]
    rows = {int(re.sub(r"\D", "", cell)) for cell in cells if cell}
    return rows | {
        int(row)
        for text in report.readings
        if text.endswith(LEFT_OUT)
        for row in re.findall(rf"{sheet}![A-Z]+(\d+)", text.split(": ")[0])
    }


def account(table: Table, report: Report, read: int) -> None:
    told = rows_told(report, table.spec.title)
    if table.header_row in told:  # the sheet as a whole cannot be read
        assert read == 0
        return
    assert read + len(told) == len(list(table.rows()))


@given(sheets(ORDERS))
@settings(max_examples=60)
def test_every_row_of_orders_is_a_line_or_an_error(grid: Grid) -> None:
    report = Report()
    table = the_table(grid, ORDERS, report)
    trade = Trade(starter_shop(), starter_stock(), Parts({}), Habits())
    account(table, report, len(read_orders((table,), trade, report)))


@given(sheets(STOCK))
@settings(max_examples=40)
def test_every_row_of_stock_is_an_item_or_an_error(grid: Grid) -> None:
    report = Report()
    table = the_table(grid, STOCK, report)
    items = read_stock(table, starter_shop().recipes, Habits(), report)
    account(table, report, len(items))


@given(sheets(BENDS))
@settings(max_examples=40)
def test_every_part_of_bends_is_a_shape_or_has_an_error(grid: Grid) -> None:
    report = Report()
    table = the_table(grid, BENDS, report)
    parts = read_bends(table, Habits(), report)
    if table.header_row in rows_told(report, table.spec.title):  # it cannot be read as a whole
        assert not parts.shapes
        return
    broken = [name for name, shape in parts.shapes.items() if shape is None]
    assert bool(broken) == any(f.severity == Severity.ERROR for f in report.findings)


@given(st.data())
@settings(max_examples=60)
def test_garbage_in_the_shop_is_told_and_never_raised(data: st.DataObject) -> None:
    report = Report()
    chosen = data.draw(st.lists(st.sampled_from(SHOP_SHEETS), min_size=1, max_size=4, unique=True))
    read_shop([[data.draw(sheets(spec)) for spec in chosen]], report)


@given(st.binary(max_size=3000))
@settings(max_examples=60, suppress_health_check=[HealthCheck.function_scoped_fixture])
def test_garbage_for_a_file_is_an_input_error_or_a_finding(tmp_path: Path, content: bytes) -> None:
    path = tmp_path / "w.csv"
    path.write_bytes(content)
    with contextlib.suppress(InputError):
        assert read_workbook(path).findings


def names_of(column: Column) -> list[str]:
    """The names of a column but those of pipe, which say something of its cells."""
    every = [column.title, *column.names.split(", ")]
    return [name for name in every if plain_name(name) not in PIPE_TITLES | DN_TITLES]


@given(st.permutations(sorted(an_order())), st.data())
@settings(max_examples=30)
def test_columns_in_any_order_and_by_any_name_read_the_same(
    order: list[str], data: st.DataObject
) -> None:
    titles = {column.title: column for column in ORDERS.columns}
    names = [data.draw(st.sampled_from(names_of(titles[title]))) for title in order]
    plain = {plain_name(name).replace(" ", "") for name in names}
    assume(len(plain) == len(names))  # some names serve two columns, Reqd and Req d alike
    above: list[Cells] = [["Week 49"], [], ["extra", "x"]]
    cases: list[Callable[[str], str]] = [str.strip, str.upper, str.lower]
    case = data.draw(st.sampled_from(cases))
    values: Cells = [an_order()[title] for title in order]
    grid = a_grid("Orders", ["Third Kiln"], [*above, [case(name) for name in names], values])
    report = Report()
    trade = Trade(starter_shop(), starter_stock(), Parts({}), Habits())
    (line,) = read_orders((the_table(grid, ORDERS, report),), trade, report)
    usual = a_grid("Orders", list(an_order()), [list(an_order().values())])
    (expected,) = read_orders((the_table(usual, ORDERS, report),), trade, report)
    assert line.model_copy(update={"place": expected.place}) == expected
