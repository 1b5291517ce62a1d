"""Build order lines from the rows of the Orders sheet."""

from __future__ import annotations

from collections import Counter
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field, replace

from planner.errors import InputError
from planner.orders import USUAL_ROUTE, Bent, BentBlank, OrderLine, Step
from planner.shop import Shop
from planner.stock import StockItem
from planner.tube import TubeSpec
from planner_io.workbook import cells
from planner_io.workbook.bends import Parts
from planner_io.workbook.day_sheets import with_day
from planner_io.workbook.due import doubt_order_of_dates, read_due, with_evidence
from planner_io.workbook.end_cells import read_ends, read_twist
from planner_io.workbook.finishes import recipe_named
from planner_io.workbook.grid import address
from planner_io.workbook.grit import read_finish
from planner_io.workbook.joined import apart
from planner_io.workbook.names import listed, plain_name
from planner_io.workbook.order_rows import NEVER_BLANK, TUBE, is_heading, order_rows
from planner_io.workbook.owners import as_brought, seen_by
from planner_io.workbook.per_set import in_all
from planner_io.workbook.priorities import doubt_ranks, priority
from planner_io.workbook.report import Place, Report
from planner_io.workbook.routes import route
from planner_io.workbook.rows import Habits, RowReader
from planner_io.workbook.shapes import read_shape
from planner_io.workbook.spec import SpecReading, read_spec, spec_as_in_stock, walls_missing
from planner_io.workbook.table import Row, Table, missing_columns, or_rename, unread_titles
from planner_io.workbook.to_make import pieces_left, without_money
from planner_io.workbook.unplanned_words import doubt_column, doubt_words


@dataclass(frozen=True)
class Trade:
    """What the builder of order lines must know besides the sheet."""

    shop: Shop
    stock: tuple[StockItem, ...]
    parts: Parts
    house: Habits
    issued: Mapping[str, int] = field(default_factory=dict[str, int])
    """Pieces of the lines of the plan that is planned again, by key."""


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
    builder = _Lines(trade, report)
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


class _Lines:
    """Builds one line after the other and remembers what came before."""

    def __init__(self, trade: Trade, report: Report) -> None:
        self.trade = trade
        self.house = trade.house
        """How the cells of the sheet are written."""
        self.report = report
        self.order = ""
        self.customers: dict[str, str] = {}
        """Of the first row of each order, for its rows where it is left blank."""
        self.counted: Counter[str] = Counter()
        self.seen: dict[tuple[str, str], Row] = {}
        self.built: dict[OrderLine, Row] = {}
        """Rows by their lines without number and place."""

    def lines(self, table: Table, rows: list[Row]) -> list[OrderLine]:
        """The lines of one sheet."""
        self.house = with_evidence(self.trade.house, table)
        doubt_order_of_dates(rows, self.house.dates, self.report)
        self.order = ""
        return [line for row in rows if (line := self.line(row)) is not None]

    def line(self, row: Row) -> OrderLine | None:
        """One row as an order line; None when it has errors."""
        reader = RowReader(row, self.report, self.house)
        if not any(row.values.get(key) is not None for key in NEVER_BLANK):
            self._heading(row) if is_heading(row) else self._no_line(row)
            return None
        if not TUBE & row.values.keys():
            self._no_tube(row)
            return None
        order = self._order(reader)
        quantity = pieces_left(reader, self._issued(reader))
        if not quantity and not reader.failed:
            return None
        number = self._number(reader)
        part = reader.text("part")
        customer = reader.text("customer")
        tube = read_spec(reader)
        spec = self._spec(reader, tube, customer or self.customers[order])
        ends = read_ends(reader, spec.od_nm if spec else None)
        twist_mdeg = read_twist(reader, ends)
        shape = read_shape(reader, part, self.trade.parts, ends, spec)
        due = read_due(reader, self.trade.shop, self.trade.house.dates.start)
        notes = reader.text("notes")
        recipe = read_finish(reader, self.trade.shop.recipes)
        weight = reader.take("priority", priority, 1)
        steps = self._route(reader)
        touch_up_s = reader.take(
            "touch_up", lambda value: cells.seconds(value, reader.unit("touch_up")), 0
        )
        if reader.failed or spec is None or shape is None or due is None:
            return None
        line = OrderLine(
            order=order,
            line=number,
            customer=customer,
            part=part,
            quantity=quantity,
            spec=spec,
            oiled=tube.oiled,
            recipe=recipe,
            shape=shape,
            ends=ends,
            twist_mdeg=twist_mdeg,
            due=due,
            weight=weight,
            route=steps,
            touch_up_s=touch_up_s,
            notes=notes,
            place=str(row.start),
        )
        self._doubt_twice(line, row)
        doubt_words(row, self.report, isinstance(shape, (Bent, BentBlank)))
        return line

    def _doubt_twice(self, line: OrderLine, row: Row) -> None:
        """Warn of a row that says the same as one above, unless both have numbers of their own."""
        first = self.built.setdefault(line.model_copy(update={"line": "", "place": ""}), row)
        if first is not row and row.values.get("line") is None:
            self.report.warn(
                row.start,
                f"says the same as {_where(first, row)}; delete it if it was entered twice",
                line.order,
                "a row of its own",
            )

    def _heading(self, row: Row) -> None:
        """A row of one word or name above the lines that it is about."""
        ((key, value),) = row.values.items()
        shown, so = cells.text(value), ""
        if key == "order":
            self.order, so = shown, ", and rows below without an order are of this one"
        self.report.warn(
            row.start, f"left out as a heading{so}; complete the row if it is an order line", shown
        )

    def _no_tube(self, row: Row) -> None:
        shown = "; ".join(cells.text(value) for value in row.values.values())
        self.report.error(
            row.start,
            "names no tube, as material, OD, wall and length are all blank; complete the row, or "
            "delete it if nothing is to be made",
            shown[:80],
            "an order line",
        )

    def _no_line(self, row: Row) -> None:
        shown = "; ".join(cells.text(value) for value in row.values.values())
        self.report.error(
            row.start,
            "this is no order line, since material, OD and due are all blank; "
            "complete the row, or delete it",
            shown[:80],
            "an order line",
        )

    def _order(self, reader: RowReader) -> str:
        """The row's order, carried down where it is left blank."""
        if reader.raw("order") is None and self.order:
            self.report.note("order taken from the row above", reader.row.place("order"))
        else:
            self.order = reader.text("order")
        self.counted[self.order] += 1
        self.customers.setdefault(self.order, reader.text("customer"))
        return self.order

    def _issued(self, reader: RowReader) -> int:
        """The pieces of the row's line in the plan that is planned again; 0 if it is not in it."""
        line = reader.raw("line")
        number = self._next_line(self.order) if line is None else cells.text(line)
        return self.trade.issued.get(f"{self.order}/{number}", 0)

    def _number(self, reader: RowReader) -> str:
        """The row's line, counted where it is left blank."""
        if reader.raw("line") is None:
            number = self._next_line(self.order)
            self.report.note("lines numbered within their order", reader.row.place("line"))
        else:
            number = reader.text("line")
        first = self.seen.setdefault((self.order, number), reader.row)
        if first is not reader.row:
            reader.fail(
                "line",
                f"order {self.order} line {number} stands in {_where(first, reader.row)} already; "
                "give this row another line number, or delete it if it was entered twice",
                number,
                "a line number of its own",
            )
        return number

    def _next_line(self, order: str) -> str:
        number = self.counted[order]
        while (order, str(number)) in self.seen:
            number += 1
        return str(number)

    def _spec(self, reader: RowReader, tube: SpecReading, customer: str) -> TubeSpec | None:
        if tube.spec is None:
            return None
        stock = self.trade.stock
        spec = spec_as_in_stock(reader, tube.spec, tube.surface_given, seen_by(stock, customer))
        spec, brought = as_brought(spec, stock, customer)
        if brought:
            self.report.note(brought, reader.row.place("customer"))
        return spec

    def _route(self, reader: RowReader) -> tuple[Step, ...]:
        usual: tuple[Step, ...] = USUAL_ROUTE
        return reader.take("route", lambda value: route(cells.text(value)), usual)


def _where(other: Row, row: Row) -> str:
    """Where another row stands, as seen from this one."""
    return f"row {other.number}" if other.table.grid is row.table.grid else str(other.start)
