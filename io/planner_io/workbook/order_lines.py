"""Build order lines from the rows of Orders, one after the other."""

from __future__ import annotations

from collections import Counter
from collections.abc import Mapping
from dataclasses import dataclass, field

from planner.orders import USUAL_ROUTE, Bent, BentBlank, EndCut, OrderLine, Shape, Step
from planner.shop import Shop
from planner.stock import StockItem
from planner.tube import TubeSpec
from planner_io.workbook import cells
from planner_io.workbook.bends import Parts
from planner_io.workbook.due import doubt_order_of_dates, read_due, with_evidence
from planner_io.workbook.end_cells import read_ends, read_twist
from planner_io.workbook.grit import read_finish
from planner_io.workbook.order_rows import NEVER_BLANK, TUBE, is_heading
from planner_io.workbook.owners import as_brought, seen_by
from planner_io.workbook.priorities import priority
from planner_io.workbook.report import Report
from planner_io.workbook.routes import route
from planner_io.workbook.rows import Habits, RowReader
from planner_io.workbook.shapes import read_shape
from planner_io.workbook.spec import SpecReading, read_spec, spec_as_in_stock
from planner_io.workbook.table import Row, Table
from planner_io.workbook.to_make import pieces_left
from planner_io.workbook.unplanned_words import doubt_words


@dataclass(frozen=True)
class Trade:
    """What the builder of order lines must know besides the sheet."""

    shop: Shop
    stock: tuple[StockItem, ...]
    parts: Parts
    house: Habits
    issued: Mapping[str, int] = field(default_factory=dict[str, int])
    """Pieces of the lines of the plan that is planned again, by key."""


@dataclass(frozen=True)
class _Piece:
    """What the pieces of a row are, apart from when and how they are made."""

    spec: TubeSpec
    oiled: bool
    shape: Shape
    ends: tuple[EndCut, EndCut]
    twist_mdeg: int


class OrderLines:
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
        """One row as an order line; None when it is none, when all of it is made, and when it has
        errors."""
        if not self._says_what_to_make(row):
            return None
        reader = RowReader(row, self.report, self.house)
        order = self._order(reader)
        quantity = pieces_left(reader, self._issued(reader))
        if not quantity and not reader.failed:
            return None
        line = self._read(reader, order, quantity)
        if line is not None:
            self._doubt_twice(line, row)
            doubt_words(row, self.report, isinstance(line.shape, (Bent, BentBlank)))
        return line

    def _says_what_to_make(self, row: Row) -> bool:
        """Whether a row names a tube; of one that does not it is told what it lacks."""
        if not any(row.values.get(key) is not None for key in NEVER_BLANK):
            if is_heading(row):
                self._heading(row)
            else:
                self._no_line(row)
            return False
        if not TUBE & row.values.keys():
            self._no_tube(row)
            return False
        return True

    def _read(self, reader: RowReader, order: str, quantity: int) -> OrderLine | None:
        """The line of a row; None when a cell of it has an error. Columns are read in the order
        in which their problems are told."""
        number = self._number(reader)
        part, customer = reader.text("part"), reader.text("customer")
        piece = self._piece(reader, part, customer or self.customers[order])
        due = read_due(reader, self.trade.shop, self.trade.house.dates.start)
        notes = reader.text("notes")
        recipe = read_finish(reader, self.trade.shop.recipes)
        weight = reader.take("priority", priority, 1)
        steps = self._route(reader)
        touch_up_s = self._touch_up_s(reader)
        if reader.failed or piece is None or due is None:
            return None
        return OrderLine(
            order=order,
            line=number,
            customer=customer,
            part=part,
            quantity=quantity,
            spec=piece.spec,
            oiled=piece.oiled,
            recipe=recipe,
            shape=piece.shape,
            ends=piece.ends,
            twist_mdeg=piece.twist_mdeg,
            due=due,
            weight=weight,
            route=steps,
            touch_up_s=touch_up_s,
            notes=notes,
            place=str(reader.row.start),
        )

    def _piece(self, reader: RowReader, part: str, customer: str) -> _Piece | None:
        """What a row's pieces are; None when their tube or their shape is not known."""
        tube = read_spec(reader)
        spec = self._spec(reader, tube, customer)
        ends = read_ends(reader, spec.od_nm if spec else None)
        twist_mdeg = read_twist(reader, ends)
        shape = read_shape(reader, part, self.trade.parts, ends, spec)
        if spec is None or shape is None:
            return None
        return _Piece(spec, tube.oiled, shape, ends, twist_mdeg)

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

    def _touch_up_s(self, reader: RowReader) -> int:
        return reader.take(
            "touch_up", lambda value: cells.seconds(value, reader.unit("touch_up")), 0
        )


def _where(other: Row, row: Row) -> str:
    """Where another row stands, as seen from this one."""
    return f"row {other.number}" if other.table.grid is row.table.grid else str(other.start)
