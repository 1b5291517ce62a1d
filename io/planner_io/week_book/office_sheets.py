"""The sheets that the office works from: ledger, late list, buy list, problems, orders."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from planner_io.views import accounts, belts, lists, sureness
from planner_io.views import material as use
from planner_io.views.headlines import headlines, sentences
from planner_io.views.index import Index
from planner_io.week_book.parts import in_money, in_unit, one_block
from planner_io.week_book.sheet import Block, Column, Kind, Row, Sheet


def ledger(index: Index) -> Sheet:
    """Minutes of changeovers, and the same week in other orders."""
    book = accounts.account(index)
    kinds = tuple(Column(f"{kind.value}, min", 12, Kind.COUNT) for kind in book.kinds)
    days = Block(
        (
            Column("Station", 26),
            Column("Day", 14),
            *kinds,
            Column("Changes", 13, Kind.COUNT),
            Column("Together, min", 11, Kind.COUNT),
        ),
        (*(_ledger_day(row) for row in book.days), _ledger_total(book)),
        notes=sentences(headlines(index, book)),
    )
    words = (
        book.money,
        sureness.likely_changeover(index),
        *book.floors,
        book.basis,
    )
    others = Block(
        (
            Column("The same week", 26),
            Column("", 14),
            *kinds,
            Column("Lines late", 13, Kind.COUNT),
            Column("Together, min", 11, Kind.COUNT),
            Column("All lines late, min", 13, Kind.COUNT),
        ),
        tuple(_yardsticks(book)),
        title="The same week in another order",
        notes=tuple(filter(None, words)),
    )
    return Sheet("Changeover ledger", (days, others, *_worth(index, book)))


def _worth(index: Index, book: accounts.Account) -> Iterator[Block]:
    """What a minute less at each kind of change is worth, where there is any."""
    columns = (
        Column("Station", 26),
        Column("Change", 14),
        Column("Times", 12, Kind.COUNT),
        Column("Minutes each", 12, Kind.TENTH),
        Column("Minutes", 12, Kind.COUNT),
        Column(in_money(index, "A minute less"), 12, Kind.MONEY),
    )
    rows = tuple(
        Row((row.station, row.what.value, row.times, row.each, row.minutes, row.cents / 100))
        for row in book.worth
    )
    if rows:
        yield Block(columns, rows, title="What faster changes are worth")


def _ledger_day(row: accounts.LedgerDay) -> Row:
    return Row((row.station, row.day, *row.minutes, row.count, row.total))


def _ledger_total(book: accounts.Account) -> Row:
    sums = (book.kind_total(n) for n in range(len(book.kinds)))
    count = sum(row.count for row in book.days)
    return Row(("This week", "", *sums, count, book.total), total=True)


def _yardsticks(book: accounts.Account) -> Iterator[Row]:
    for stick in book.yardsticks:
        minutes = (stick.by_what.get(kind, 0) for kind in book.kinds)
        yield Row(
            (stick.name, "", *minutes, stick.late_lines, stick.changeover_min, stick.late_min)
        )
    if foot := book.difference:
        yield Row(
            (
                f"this plan against {foot.baseline}",
                "",
                *foot.by_kind,
                foot.late_lines,
                foot.minutes,
                foot.late_min,
            ),
            total=True,
        )


def late(index: Index) -> Sheet:
    """Order lines that end after they are due."""
    chances = sureness.chances(index)
    columns = (
        Column("Order line", 14),
        Column("Customer", 24),
        Column("Part", 24),
        Column("Pieces", 8, Kind.COUNT),
        Column("Due", 18, Kind.WHEN),
        Column("Done", 18, Kind.WHEN),
        Column("Late, min", 10, Kind.COUNT),
        Column("Late", 20),
        Column("Chance on time", 14),
        Column("Why, and what would help", 70, Kind.WRAPPED),
    )
    return one_block(
        "Late",
        columns,
        (
            Row(
                (
                    row.late.line,
                    row.order.customer,
                    row.order.part,
                    row.order.quantity,
                    row.late.due,
                    row.late.done,
                    row.late.late_min,
                    f"LATE {row.by}",
                    chances.get(row.late.line, ""),
                    row.late.reason,
                ),
                trouble=True,
            )
            for row in lists.late_rows(index)
        ),
        frozen=1,
        nothing="No order line is late.",
    )


def buy(index: Index) -> Sheet:
    """Sticks and belts to buy."""
    columns = (
        Column("Stock item", 18),
        Column("Tube", 34),
        Column("Length", 12),
        Column(in_unit(index, "Length"), 12, Kind.LENGTH),
        Column("Count", 8, Kind.COUNT),
        Column(in_money(index, "Each"), 12, Kind.MONEY),
        Column(in_money(index, "Sum"), 12, Kind.MONEY),
        Column("Needed by", 18, Kind.WHEN),
        Column("Lots", 24, Kind.WRAPPED),
    )
    rows = [
        Row(
            (
                row.buy.stock,
                row.what,
                row.length,
                index.ruler.mark(row.item.length_nm),
                row.buy.count,
                row.each_cents / 100,
                row.buy.price_cents / 100,
                row.buy.needed_by,
                ", ".join(row.buy.lots),
            )
        )
        for row in lists.buy_rows(index)
    ]
    if rows:
        total = sum(row.buy.price_cents for row in lists.buy_rows(index)) / 100
        rows.append(Row(("All sticks", "", "", None, None, None, total, None, ""), total=True))
    rows.extend(_belt(row) for row in belts.belts_to_buy(index))
    said = lists.buy_note(index)
    note = f"{said[0].upper()}{said[1:]}." if said else ""
    return one_block("Buy", columns, rows, nothing="Nothing is to be bought.", note=note)


def _belt(row: belts.BeltBuy) -> Row:
    each = row.sum_cents // row.count / 100
    return Row(
        (row.belt, "belt", "", None, row.count, each, row.sum_cents / 100, row.needed_by, "")
    )


def problems(index: Index) -> Sheet:
    """Everything found wrong or doubtful."""
    columns = (
        Column("Severity", 10),
        Column("Where", 24, Kind.WRAPPED),
        Column("What, and what to do", 90, Kind.WRAPPED),
        Column("Read", 24, Kind.WRAPPED),
        Column("Expected", 40, Kind.WRAPPED),
    )
    return one_block(
        "Problems",
        columns,
        (
            Row(
                (row.severity.value, row.place, row.message, row.read, row.expected),
                trouble=row.severity == "error",
            )
            for row in lists.problem_rows(index)
        ),
        nothing="Nothing was found wrong or doubtful.",
    )


def orders(index: Index) -> Sheet:
    """Every order line with when it is done."""
    columns = (
        Column("Order", 12),
        Column("Line", 7),
        Column("Customer", 24),
        Column("Part", 24),
        Column("Pieces", 8, Kind.COUNT),
        Column("Tube", 32),
        Column("Finish", 16),
        Column(in_unit(index, "Blank"), 12, Kind.LENGTH),
        Column("Due", 18, Kind.WHEN),
        Column("Done", 18, Kind.WHEN),
        Column("Late, min", 10, Kind.COUNT),
        Column("State", 14),
        Column("To spare, min", 10, Kind.COUNT),
        Column("Chance on time", 14),
        Column("Shape", 14),
        Column("Lot", 8),
        Column("Notes", 70, Kind.WRAPPED),
        Column("Read from", 14),
    )
    chances, spare = sureness.chances(index), sureness.spare_minutes(index)
    rows = (_order(index, row, chances, spare) for row in lists.order_rows(index))
    return one_block("Orders", columns, rows, printed=14, frozen=2, apart=(0,))


def _order(
    index: Index, row: lists.OrderRow, chances: Mapping[str, str], spare: Mapping[str, int]
) -> Row:
    line = row.order
    return Row(
        (
            line.order,
            line.line,
            line.customer,
            line.part,
            line.quantity,
            row.tube,
            line.recipe or "none",
            index.ruler.mark(row.blank_nm) if row.blank_nm is not None else None,
            row.due,
            row.done,
            row.late_min,
            row.state,
            spare.get(line.key),
            chances.get(line.key, ""),
            row.shape,
            row.lot,
            line.notes,
            line.place,
        ),
        trouble=row.state != "on time",
    )


def material(index: Index) -> Sheet:
    """Where the tube goes, by tube spec, in length and money."""
    columns = (
        Column("Tube", 30),
        Column("Sticks", 8, Kind.COUNT),
        *(
            Column(in_unit(index, name), 13, Kind.LENGTH)
            for name in ("Sticks", "Pieces", "Chips", "Kept", "Scrap")
        ),
        Column("Yield, %", 9, Kind.TENTH),
        *(
            Column(in_money(index, name), 12, Kind.MONEY)
            for name in ("With finishing", "In pieces", "Kept", "Scrapped")
        ),
    )
    rows = tuple(_material_row(index, row) for row in use.by_spec(index))
    words = (*use.merger_words(index), *use.lots_words(index))
    return Sheet("Material", (Block(columns, rows, notes=words),))


def _material_row(index: Index, row: use.Material) -> Row:
    lengths = (row.sticks_nm, row.pieces_nm, row.chips_nm, row.kept_nm, row.scrap_nm)
    money = (row.paid_cents, row.used_cents, row.kept_cents, row.scrapped_cents)
    return Row(
        (
            index.ruler.spec(row.spec) if row.spec else "This week",
            row.sticks,
            *(index.ruler.mark(length) for length in lengths),
            round(row.yield_percent, 1),
            *(cents / 100 for cents in money),
        ),
        total=row.spec is None,
    )
