"""The sheets that the floor works from: run order, pick lists, set-up cards, cut lists."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence, Set
from itertools import groupby

from planner_io.views import belts, cards, cuts, pick_lists, runs, sureness, words
from planner_io.views.index import Index
from planner_io.week_book.parts import in_unit, one_block
from planner_io.week_book.sheet import Column, Kind, Row, Sheet, Value


def run_order(index: Index) -> Sheet:
    """Each station's runs in time."""
    columns = (
        Column("Station", 14),
        Column("Run", 6, Kind.COUNT),
        Column("Start", 16, Kind.WHEN),
        Column("End", 16, Kind.WHEN),
        Column("Run on", 28, Kind.WRAPPED),
        Column("Steps", 10),
        Column("Order lines", 26, Kind.WRAPPED),
        Column("Work, min", 9, Kind.COUNT),
        Column("Changeover, min", 11, Kind.COUNT),
        Column("What changes", 40, Kind.WRAPPED),
        Column("Who", 14, Kind.WRAPPED),
        Column("Late", 20),
        Column("Set-up from", 16, Kind.WHEN),
        Column("Lots", 14, Kind.WRAPPED),
        Column("Held by", 50, Kind.WRAPPED),
        Column("Operations", 60, Kind.WRAPPED),
    )
    return one_block(
        "Run order",
        columns,
        (_run(index, run) for run in runs.runs(index)),
        printed=12,
        frozen=2,
        apart=(0,),
    )


def _run(index: Index, run: runs.Run) -> Row:
    change = run.changeover
    steps = f"{run.steps[0]}" if len(run.steps) == 1 else f"{run.steps[0]}–{run.steps[-1]}"
    return Row(
        (
            run.station,
            run.number,
            index.moment(run.start_min),
            index.moment(run.end_min),
            run.title,
            steps,
            ", ".join(run.lines),
            run.minutes,
            change.minutes if change else 0,
            "; ".join(change.changes) if change else "",
            ", ".join(run.people),
            run.late,
            index.moment(run.setup_start_min),
            ", ".join(run.lots),
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
        Column("Work, min", 9, Kind.COUNT),
        Column("Who", 14, Kind.WRAPPED),
        Column("What", 24, Kind.WRAPPED),
        Column("Tube", 18),
        Column("Material", 18),
        Column("Where it is", 32, Kind.WRAPPED),
        Column("How many", 12),
        Column("Mounted", 26, Kind.WRAPPED),
        Column("Card", 6, Kind.COUNT),
        Column("Late", 14, Kind.WRAPPED),
        Column("Changeover first, min", 11, Kind.COUNT),
        Column("What changes", 60, Kind.WRAPPED),
        Column("Set", 90, Kind.WRAPPED),
        Column("Lengths", 40, Kind.WRAPPED),
        Column("Where it goes", 50, Kind.WRAPPED),
        Column("End", 16, Kind.WHEN),
        Column("Lot", 8),
        Column("Order lines", 50, Kind.WRAPPED),
        Column("Notes", 60, Kind.WRAPPED),
        Column("Care", 60, Kind.WRAPPED),
        Column("New belt", 30, Kind.WRAPPED),
        Column("Stands", 20, Kind.WRAPPED),
        Column("Moved", 30, Kind.WRAPPED),
        Column("Operation", 18),
    )
    found, worn = pick_lists.pick_lists(index), belts.new_belts(index)
    return one_block(
        "Pick lists",
        columns,
        (_step(index, row.station, step, worn) for row in found for step in row.steps),
        printed=14,
        frozen=3,
        apart=(1,),
    )


def _step(index: Index, station: str, step: pick_lists.PickStep, worn: Mapping[str, str]) -> Row:
    change = step.changeover
    return Row(
        (
            "",
            station,
            step.number,
            index.moment(step.start_min),
            step.minutes,
            ", ".join(step.people),
            step.what,
            step.tube,
            step.material,
            step.place,
            step.to_do,
            ", ".join(step.tooling),
            step.card or None,
            step.late,
            change.minutes if change else 0,
            "; ".join(change.changes) if change else "",
            "; ".join(f"{number} {name}" for number, name in step.settings),
            step.lengths,
            step.onward,
            index.moment(step.end_min),
            step.lot,
            ", ".join(step.lines),
            "; ".join(step.notes),
            step.care,
            worn.get(step.operation, ""),
            ", ".join(filter(None, (step.stands, step.short))),
            step.was,
            step.operation,
        ),
        trouble=bool(step.late),
    )


def set_up(index: Index) -> Sheet:
    """Every card, a row for each setting, remark and caution; what most cards of a station warn of
    stands once, above them."""
    columns = (
        Column("Station", 10),
        Column("Card", 6, Kind.COUNT),
        Column("No.", 5, Kind.COUNT),
        Column("Set", 14),
        Column("Other unit", 10),
        Column("What", 40),
        Column("Remark", 68, Kind.WRAPPED),
        Column("Start", 16, Kind.WHEN),
        Column("Run on", 28),
    )
    likely = sureness.likely_minutes(index)
    of_station = groupby(cards.set_up_cards(index), key=lambda card: card.station)
    return one_block(
        "Set-up cards",
        columns,
        (row for _, found in of_station for row in _station(index, list(found), likely)),
        printed=7,
        frozen=2,
        apart=(0, 1),
        upright=True,
    )


def _station(
    index: Index, found: Sequence[cards.SetUpCard], likely: Mapping[str, str]
) -> Iterator[Row]:
    usual = cards.usual_cautions(found)
    for caution in usual:
        which = f"Cards {words.ranges(caution.cards)}: " if caution.cards else ""
        told = ("caution" if which else "caution for every card", which + caution.sentence)
        yield Row((found[0].station, None, None, "", "", *told, None, ""))
    told_above = {caution.sentence for caution in usual}
    for card in found:
        yield from _card(index, card, likely, told_above)


def _card(
    index: Index, card: cards.SetUpCard, likely: Mapping[str, str], told_above: Set[str]
) -> Iterator[Row]:
    run = (index.moment(card.run.start_min), card.run.title)
    head: tuple[Value, ...] = (card.station, card.number)
    yield Row((*head, None, "", "", card.run.title, card.start, *run), title=True)
    for number, line in enumerate(card.settings, start=1):
        yield Row((*head, number, line.number, line.other, line.name, line.remark, *run))
    for step in card.steps:
        if step.operation in likely:
            yield Row((*head, None, "", "", step.operation, likely[step.operation], *run))
    cautions = [caution for caution in card.cautions if caution not in told_above]
    for what, sentences in (("watch", card.remarks), ("care", card.care), ("caution", cautions)):
        for sentence in sentences:
            yield Row((*head, None, "", "", what, sentence, *run))


def cut(index: Index) -> Sheet:
    """Every stick as it is cut, a row for each group of like pieces."""
    columns = (
        Column("Done", 6, Kind.TICK),
        Column("Station", 14),
        Column("Step", 6, Kind.COUNT),
        Column("Lot", 8),
        Column("Tube", 18),
        Column("Sticks alike", 8, Kind.COUNT),
        Column("From", 24, Kind.WRAPPED),
        Column(in_unit(index, "Stick"), 10, Kind.LENGTH),
        Column("Cut no.", 8),
        Column("Pieces a stick", 8, Kind.COUNT),
        Column("Length", 14),
        Column("Order line", 12),
        Column("Part", 22),
        Column("Sawn ends", 26, Kind.WRAPPED),
        Column("Next", 14),
        Column("Drop", 30, Kind.WRAPPED),
        Column(in_unit(index, "Length"), 12, Kind.LENGTH),
        Column("Other unit", 14),
        Column("Material", 18),
        Column("Customer", 22),
        Column("Sticks", 20),
    )
    found = cuts.cut_sheets(index)
    return one_block(
        "Cut lists",
        columns,
        (row for sheet in found for p in sheet.patterns for row in _pattern(index, sheet, p)),
        printed=16,
        frozen=4,
        apart=(1, 2),
    )


def _pattern(index: Index, sheet: cuts.CutSheet, pattern: cuts.Pattern) -> Iterator[Row]:
    sticks = pattern.sticks
    names = sticks[0] if len(sticks) == 1 else f"{sticks[0]} to {sticks[-1]}"
    left_out = pattern.left_out(sheet.lost)
    for group in pattern.groups:
        is_last = group is pattern.groups[-1]
        yield Row(
            (
                "",
                sheet.station,
                sheet.step_number,
                sheet.lot,
                sheet.tube,
                len(sticks),
                pattern.place,
                index.ruler.mark(pattern.length_nm),
                group.numbers,
                group.count,
                group.length,
                group.line,
                group.part,
                group.ends or "square",
                group.next_station,
                "; ".join(filter(None, (left_out, pattern.drop, pattern.watch))) if is_last else "",
                index.ruler.mark(group.length_nm),
                group.other,
                sheet.material,
                group.customer,
                names,
            )
        )
