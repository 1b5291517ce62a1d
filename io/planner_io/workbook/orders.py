"""Read the Orders sheets: which rows they have, what they miss, and a line of each row."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from planner.errors import InputError
from planner.orders import OrderLine
from planner.shop import Shop
from planner_io.workbook import cells
from planner_io.workbook.bends import Parts
from planner_io.workbook.day_sheets import with_day
from planner_io.workbook.finishes import recipe_named
from planner_io.workbook.grid import address
from planner_io.workbook.joined import apart
from planner_io.workbook.names import listed, plain_name
from planner_io.workbook.order_lines import OrderLines, Trade
from planner_io.workbook.order_rows import order_rows
from planner_io.workbook.per_set import in_all
from planner_io.workbook.priorities import doubt_ranks
from planner_io.workbook.report import Place, Report
from planner_io.workbook.spec import walls_missing
from planner_io.workbook.table import Row, Table, unread_titles
from planner_io.workbook.table_told import missing_columns, or_rename
from planner_io.workbook.to_make import without_money
from planner_io.workbook.unplanned_words import doubt_column

MISSED = (
    ("recipe", "Finish", "nothing is finished"),
    ("part", "Part", "parts have no names, and none has rows in Bends"),
    ("length", "Length", "only parts in Bends have one"),
)
"""Columns whose lack is told: key, title, and what follows from it."""
WILL_DO = {"recipe": "grit"}
"""Columns that do instead of them."""

_SHAPING = frozenset(
    map(
        plain_name,
        (
            *("bend", "bent", "cope", "notch", "saddle", "fishmouth", "mitre", "miter", "angle"),
            *("winkel", "ángulo", "bogen", "biegung", "biegen", "gehrung", "sattel", "ausklinkung"),
            *("cintrage", "coude", "onglet", "grugeage", "doblez", "curva", "inglete"),
        ),
    )
)
"""Words of headers about work on a tube's shape."""


def read_orders(tables: Sequence[Table], trade: Trade, report: Report) -> tuple[OrderLine, ...]:
    """The order lines of the sheets; a row that cannot be used is reported and left out."""
    builder = OrderLines(trade, report)
    read = [ready for table in tables if (ready := _order_rows(table, trade, report))]
    doubt_ranks([row for _, rows in read for row in rows], report)
    lines = [line for table, rows in read for line in builder.lines(table, rows)]
    if read:
        _tell_unused_parts([row for _, rows in read for row in rows], trade.parts, report)
    return tuple(lines)


def _order_rows(table: Table, trade: Trade, report: Report) -> tuple[Table, list[Row]] | None:
    """A sheet's rows that may be order lines; None where it cannot be read as a whole."""
    dated = with_day(table, trade.house.dates, report)
    whole = in_all(apart(dated, trade.house, report), report) if dated else None
    if whole is None or missing_columns(whole, report):
        return None
    table = without_money(_finish_under_surface(whole, trade.shop, report), report)
    rows = order_rows(table, report)
    if walls_missing(table, rows, trade.house, report):
        return None
    if not rows:
        report.warn(
            Place(table.grid.name, f"A{table.header_row + 1}"),
            "there are no order lines yet; write the week's orders here, over the example row",
        )
    else:
        _tell_missed(table, rows, report)
    return table, rows


def _tell_missed(table: Table, rows: Sequence[Row], report: Report) -> None:
    """Warn of columns that a week can do without, but hardly any does, and of columns about ends or
    bends, and of what else is to be planned, that are not read."""
    for key, title, so in MISSED:
        if key not in table.headers and WILL_DO.get(key) not in table.headers:
            surface = table.headers.get("surface") if key == "recipe" else None
            incoming = surface and f" (“{surface.text}” is read as how the tube comes in)"
            report.warn(
                Place(table.grid.name, f"A{table.header_row}"),
                f"there is no column {title}, so {so}{incoming or ''}; add one if that is wrong"
                f"{or_rename(table)}",
            )
    for index, text in unread_titles(table):
        if not _SHAPING.isdisjoint(plain_name(text).split()):
            report.warn(
                Place(table.grid.name, address(table.header_row, index)),
                f"the column “{text}” is not read, so what it says is not planned; write saddles "
                "and mitres under End 1 and End 2, and how many bends under Bent",
            )
        else:
            doubt_column(table, index, rows, report)


def _finish_under_surface(table: Table, shop: Shop, report: Report) -> Table:
    """The table with its Surface column as Finish, where there is no other and it names recipes
    more often than surfaces."""
    if "recipe" in table.headers or "surface" not in table.headers:
        return table
    head = table.headers["surface"]
    written = [cells.text(v) for row in table.rows() if (v := row.values.get("surface"))]
    surfaces = [text for text in written if _is_surface(text)]
    named = [each for each in written if each not in surfaces and recipe_named(each, shop.recipes)]
    if len(named) <= len(surfaces):
        return table
    finish = replace(head, column=table.spec.column("recipe"))
    others = {key: other for key, other in table.headers.items() if key != "surface"}
    cell = Place(table.grid.name, address(table.header_row, head.index))
    report.note(f"header “{head.text}” read as {finish.column.title}, as it names recipes", cell)
    return replace(table, headers={**others, "recipe": finish})


def _is_surface(text: str) -> bool:
    try:
        cells.surface(text)
    except InputError:
        return False  # a finish then, or a word that its row will be told of
    return True


def _tell_unused_parts(rows: list[Row], parts: Parts, report: Report) -> None:
    ordered = {plain_name(cells.text(row.values.get("part", ""))) for row in rows}
    unused = [name for name in parts.names if plain_name(name) not in ordered]
    if unused:
        report.note(f"parts in Bends that nobody ordered: {listed(unused)}")
