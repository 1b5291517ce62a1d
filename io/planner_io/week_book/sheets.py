"""The sheets of a week: which columns, and a row for everything the plan says."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from planner_io.views import accounts, cards, cuts, lists, pick_lists, runs
from planner_io.views.index import Index
from planner_io.week_book.sheet import Block, Column, Kind, Row, Sheet, Value


def sheets(index: Index) -> tuple[Sheet, ...]:
    """All sheets, in the order of their tabs."""
    return (
        run_order(index),
        pick(index),
        set_up(index),
        cut(index),
        ledger(index),
        late(index),
        buy(index),
        problems(index),
        orders(index),
    )


def _one(name: str, columns: tuple[Column, ...], rows: Iterable[Row]) -> Sheet:
    return Sheet(name, (Block(columns, tuple(rows)),))


def _in_unit(index: Index, name: str) -> str:
    return f"{name}, {'in' if index.ruler.unit == 'inch' else 'mm'}"


def run_order(index: Index) -> Sheet:
    """Each station's runs in time."""
    columns = (
        Column("Station", 14),
        Column("Run", 6, Kind.COUNT),
        Column("Set-up from", 16, Kind.WHEN),
        Column("Start", 16, Kind.WHEN),
        Column("End", 16, Kind.WHEN),
        Column("Run on", 28),
        Column("Steps", 10),
        Column("Lots", 14),
        Column("Order lines", 26, Kind.WRAPPED),
        Column("Work, min", 9, Kind.COUNT),
        Column("Changeover, min", 11, Kind.COUNT),
        Column("What changes", 40, Kind.WRAPPED),
        Column("Who", 14),
        Column("Late", 14),
        Column("Held by", 34, Kind.WRAPPED),
        Column("Operations", 24, Kind.WRAPPED),
    )
    return _one("Run order", columns, (_run(index, run) for run in runs.runs(index)))


def _run(index: Index, run: runs.Run) -> Row:
    change = run.changeover
    steps = f"{run.steps[0]}" if len(run.steps) == 1 else f"{run.steps[0]}–{run.steps[-1]}"
    return Row(
        (
            run.station,
            run.number,
            index.moment(run.setup_start_min),
            index.moment(run.start_min),
            index.moment(run.end_min),
            run.title,
            steps,
            ", ".join(run.lots),
            ", ".join(run.lines),
            run.minutes,
            change.minutes if change else 0,
            "; ".join(change.changes) if change else "",
            ", ".join(run.people),
            run.late,
            run.held_by,
            ", ".join(run.operations),
        ),
        trouble=bool(run.late),
    )


def pick(index: Index) -> Sheet:
    """Each station's steps in sequence."""
    columns = (
        Column("Done", 6, Kind.TICK),
        Column("Station", 14),
        Column("Step", 6, Kind.COUNT),
        Column("Start", 16, Kind.WHEN),
        Column("End", 16, Kind.WHEN),
        Column("Work, min", 9, Kind.COUNT),
        Column("Who", 14),
        Column("What", 24),
        Column("Tube", 18),
        Column("Material", 18),
        Column("Where it is", 36, Kind.WRAPPED),
        Column("How many", 12),
        Column("Lengths", 24, Kind.WRAPPED),
        Column("Mounted", 30, Kind.WRAPPED),
        Column("Card", 6, Kind.COUNT),
        Column("Set", 40, Kind.WRAPPED),
        Column("Changeover first, min", 11, Kind.COUNT),
        Column("What changes", 36, Kind.WRAPPED),
        Column("Lot", 8),
        Column("Order lines", 24, Kind.WRAPPED),
        Column("Finished tube", 36, Kind.WRAPPED),
        Column("Late", 20),
        Column("Operation", 18),
    )
    found = pick_lists.pick_lists(index)
    return _one(
        "Pick lists",
        columns,
        (_step(index, row.station, step) for row in found for step in row.steps),
    )


def _step(index: Index, station: str, step: pick_lists.PickStep) -> Row:
    change = step.changeover
    return Row(
        (
            "",
            station,
            step.number,
            index.moment(step.start_min),
            index.moment(step.end_min),
            step.minutes,
            ", ".join(step.people),
            step.what,
            step.tube,
            step.material,
            step.place,
            step.count,
            step.lengths,
            ", ".join(step.tooling),
            step.card or None,
            "; ".join(f"{number} {name}" for number, name in step.settings),
            change.minutes if change else 0,
            "; ".join(change.changes) if change else "",
            step.lot,
            ", ".join(step.lines),
            step.care,
            step.late,
            step.operation,
        ),
        trouble=bool(step.late),
    )


def set_up(index: Index) -> Sheet:
    """Every card, a row for each setting, remark and caution."""
    columns = (
        Column("Station", 14),
        Column("Card", 6, Kind.COUNT),
        Column("Start", 18),
        Column("Run on", 28),
        Column("No.", 5, Kind.COUNT),
        Column("Set", 18),
        Column("Other unit", 14),
        Column("What", 34),
        Column("Remark", 60, Kind.WRAPPED),
    )
    found = cards.set_up_cards(index)
    return _one("Set-up cards", columns, (row for card in found for row in _card(card)))


def _card(card: cards.SetUpCard) -> Iterator[Row]:
    head: tuple[Value, ...] = (card.station, card.number, card.start, card.run.title)
    for number, line in enumerate(card.settings, start=1):
        yield Row((*head, number, line.number, line.other, line.name, line.remark))
    words = (("watch", card.remarks), ("care", card.care), ("caution", card.cautions))
    for what, sentences in words:
        for sentence in sentences:
            yield Row((*head, None, "", "", what, sentence))


def cut(index: Index) -> Sheet:
    """Every stick as it is cut, a row for each group of like pieces."""
    columns = (
        Column("Done", 6, Kind.TICK),
        Column("Station", 14),
        Column("Step", 6, Kind.COUNT),
        Column("Lot", 8),
        Column("Tube", 18),
        Column("Material", 18),
        Column("Sticks alike", 8, Kind.COUNT),
        Column("Sticks", 20),
        Column("From", 28, Kind.WRAPPED),
        Column(_in_unit(index, "Stick"), 10, Kind.LENGTH),
        Column("Cut no.", 8),
        Column("Pieces a stick", 8, Kind.COUNT),
        Column(_in_unit(index, "Length"), 12, Kind.LENGTH),
        Column("Length", 14),
        Column("Other unit", 14),
        Column("Order line", 12),
        Column("Part", 22),
        Column("Customer", 22),
        Column("Next", 14),
        Column("Drop", 36, Kind.WRAPPED),
    )
    found = cuts.cut_sheets(index)
    return _one(
        "Cut lists",
        columns,
        (row for sheet in found for p in sheet.patterns for row in _pattern(index, sheet, p)),
    )


def _pattern(index: Index, sheet: cuts.CutSheet, pattern: cuts.Pattern) -> Iterator[Row]:
    sticks = pattern.sticks
    names = sticks[0] if len(sticks) == 1 else f"{sticks[0]} to {sticks[-1]}"
    for group in pattern.groups:
        is_last = group is pattern.groups[-1]
        yield Row(
            (
                "",
                sheet.station,
                sheet.step_number,
                sheet.lot,
                sheet.tube,
                sheet.material,
                len(sticks),
                names,
                pattern.place,
                index.ruler.mark(pattern.length_nm),
                group.numbers,
                group.count,
                index.ruler.mark(group.length_nm),
                group.length,
                group.other,
                group.line,
                group.part,
                group.customer,
                group.next_station,
                pattern.drop if is_last else "",
            )
        )


def ledger(index: Index) -> Sheet:
    """Minutes of changeovers, and the same week in other orders."""
    book = accounts.account(index)
    kinds = tuple(Column(kind.value, 11, Kind.COUNT) for kind in book.kinds)
    days = Block(
        (
            Column("Station", 26),
            Column("Day", 14),
            *kinds,
            Column("Changeovers", 12, Kind.COUNT),
            Column("Minutes", 10, Kind.COUNT),
        ),
        (*(_ledger_day(row) for row in book.days), _ledger_total(book)),
    )
    others = Block(
        (
            Column("The same week", 26),
            Column("", 14),
            *kinds,
            Column("Lines late", 12, Kind.COUNT),
            Column("Minutes", 10, Kind.COUNT),
            Column("Minutes late, all lines", 14, Kind.COUNT),
        ),
        tuple(_yardsticks(book)),
        title="The same week in another order",
    )
    words = (book.difference.words,) if book.difference else ()
    return Sheet("Changeover ledger", (days, others), (*words, *book.floors))


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
                f"this plan less {foot.baseline}",
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
    columns = (
        Column("Order line", 14),
        Column("Customer", 24),
        Column("Part", 24),
        Column("Pieces", 8, Kind.COUNT),
        Column("Due", 18, Kind.WHEN),
        Column("Done", 18, Kind.WHEN),
        Column("Late, min", 10, Kind.COUNT),
        Column("Late", 12),
        Column("Why, and what would help", 70, Kind.WRAPPED),
    )
    return _one(
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
                    row.late.reason,
                ),
                trouble=True,
            )
            for row in lists.late_rows(index)
        ),
    )


def buy(index: Index) -> Sheet:
    """Sticks to buy."""
    columns = (
        Column("Stock item", 18),
        Column("Tube", 34),
        Column("Length", 12),
        Column(_in_unit(index, "Length"), 12, Kind.LENGTH),
        Column("Sticks", 8, Kind.COUNT),
        Column("Each", 12, Kind.MONEY),
        Column("Sum", 12, Kind.MONEY),
        Column("Needed by", 18, Kind.WHEN),
        Column("Lots", 24, Kind.WRAPPED),
    )
    rows = [
        Row(
            (
                row.buy.stock,
                row.what,
                row.length,
                index.ruler.mark(row.item.length_nm) if row.item else None,
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
        total = sum(row.price_cents for row in index.plan.buy) / 100
        rows.append(Row(("", "", "", None, None, None, total, None, ""), total=True))
    return _one("Buy", columns, rows)


def problems(index: Index) -> Sheet:
    """Everything found wrong or doubtful."""
    columns = (
        Column("Severity", 10),
        Column("Where", 18),
        Column("What, and what to do", 90, Kind.WRAPPED),
        Column("Read", 24, Kind.WRAPPED),
        Column("Expected", 40, Kind.WRAPPED),
    )
    return _one(
        "Problems",
        columns,
        (
            Row(
                (row.severity.value, row.place, row.message, row.read, row.expected),
                trouble=row.severity == "error",
            )
            for row in lists.problem_rows(index)
        ),
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
        Column("Shape", 14),
        Column(_in_unit(index, "Blank"), 12, Kind.LENGTH),
        Column("Due", 18, Kind.WHEN),
        Column("Done", 18, Kind.WHEN),
        Column("Late, min", 10, Kind.COUNT),
        Column("State", 14),
        Column("Lot", 8),
        Column("Notes", 40, Kind.WRAPPED),
        Column("Read from", 14),
    )
    return _one("Orders", columns, (_order(index, row) for row in lists.order_rows(index)))


def _order(index: Index, row: lists.OrderRow) -> Row:
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
            row.shape,
            index.ruler.mark(row.blank_nm) if row.blank_nm is not None else None,
            row.due,
            row.done,
            row.late_min,
            row.state,
            row.lot,
            line.notes,
            line.place,
        ),
        trouble=row.state != "on time",
    )
