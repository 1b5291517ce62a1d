"""Other ways to group order lines that are close to a given one, the most promising first.

A neighbour splits a lot, joins two of one tube spec and recipe, or hands a line from one to
another. What it promises is a guess in cents from what the run order shows: lateness that less
work before a due date could mend, waste on the sticks of small lots, changeovers made for them.
"""

from __future__ import annotations

from bisect import bisect_right
from collections import defaultdict
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from itertools import accumulate

from planner.drafts import UNDONE_CENTS, Desk, Draft
from planner.hours import DAY_MIN
from planner.lots import Grouping
from planner.operations import finals
from planner.orders import Step
from planner.records import CutList, Lot, Operation
from planner.schedule import Turns

NEAR = 3
"""A lot is joined with, or hands lines to, the next so many of its kind in due order."""
HOPE = 0.5
"""Share of the waste and of the changeovers of two lots that joining them may be hoped to save."""


@dataclass(frozen=True, slots=True)
class Neighbour:
    """Groups of lines to take away, those to put in their place, and the cents it may save."""

    away: Grouping
    instead: Grouping
    promise_cents: float
    """Apart from what its cut lists save or cost."""
    waste_cents: float = 0.0
    """What its cut lists may be hoped to save."""


@dataclass(frozen=True, slots=True)
class LotFigures:
    """What a run order shows of each lot and line."""

    lots: tuple[Lot, ...]
    """Those that may still change."""
    late_min: Mapping[str, int]
    """By line, minutes after its due date."""
    work_min: Mapping[str, int]
    """By lot, minutes until it is sawn and finished."""
    changes_min: Mapping[str, int]
    """By lot, minutes of changeover before its operations."""
    waste_cents: Mapping[str, float]
    """By lot, what its drops cost."""


def lot_figures(desk: Desk, draft: Draft, turns: Turns) -> LotFigures:
    """What lots and lines come to in a run order."""
    by_key = {operation.key: operation for operation in draft.operations}
    end = {turn.operation: turn.end_min for turn in turns}
    changes: dict[str, int] = defaultdict(int)
    for turn in turns:
        changes[by_key[turn.operation].lot] += turn.change_min
    stays = {lot.key for lot in desk.standing.lots}
    return LotFigures(
        lots=tuple(lot for lot in draft.lots if lot.key not in stays),
        late_min={
            line: max(0, end[last] - desk.due_min[line])
            for line, last in finals(draft.lots, draft.operations).items()
        },
        work_min=work_until_sawn(draft.operations),
        changes_min=changes,
        waste_cents={cut_list.lot: waste_cents(cut_list) for cut_list in draft.cut.cut_lists},
    )


def neighbours(desk: Desk, figures: LotFigures, groups: Grouping) -> list[Neighbour]:
    """All neighbours, the most promising first; the same ones in the same order every time."""
    kinds: dict[tuple[object, ...], list[Lot]] = defaultdict(list)
    for lot in figures.lots:
        kinds[lot.spec, lot.recipe, lot.saw_first].append(lot)
    relief = _Relief(desk, figures)
    found = [
        neighbour
        for lots in kinds.values()
        for number, lot in enumerate(lots)
        for neighbour in _of_lot(desk, figures, relief, lot, lots[number + 1 : number + 1 + NEAR])
    ]
    found += [
        Neighbour((group,), (_less(group, line), (line,)), UNDONE_CENTS)
        for group in _uncut(groups, figures)
        for line in group
    ]
    return sorted(
        found, key=lambda one: (-one.promise_cents - HOPE * one.waste_cents, one.away, one.instead)
    )


def _uncut(groups: Grouping, figures: LotFigures) -> list[tuple[str, ...]]:
    """Groups of several lines for which there is not enough tube; for some of them there may be."""
    cut = {lot.lines for lot in figures.lots}
    return [group for group in groups if group not in cut and len(group) > 1]


def _of_lot(
    desk: Desk, figures: LotFigures, relief: _Relief, lot: Lot, followers: Sequence[Lot]
) -> Iterator[Neighbour]:
    for first, second in _splits(desk, figures, lot):
        promise = relief.cents(lot, first, second) + _changes_cents(desk, figures, lot)
        yield Neighbour((lot.lines,), (first, second), promise)
    for other in followers:
        waste = figures.waste_cents[lot.key] + figures.waste_cents[other.key]
        saved = HOPE * min(_changes_cents(desk, figures, lot), _changes_cents(desk, figures, other))
        away = (lot.lines, other.lines)
        yield Neighbour(away, (lot.lines + other.lines,), saved, waste)
        for giver, taker in ((lot, other), (other, lot)):
            for line in giver.lines if len(giver.lines) > 1 else ():
                rest, promise = relief.without(giver, line)
                yield Neighbour(away, (rest, (*taker.lines, line)), promise, waste)


def _splits(
    desk: Desk, figures: LotFigures, lot: Lot
) -> Iterator[tuple[tuple[str, ...], tuple[str, ...]]]:
    """In two between due days, and each line that is late out on its own, ahead of the rest."""
    days = [desk.due_min[line] // DAY_MIN for line in lot.lines]
    between = {n for n in range(1, len(days)) if days[n] > days[n - 1]}
    for n in between:
        yield lot.lines[:n], lot.lines[n:]
    for n, line in enumerate(lot.lines):
        alone = (n == 0 and 1 in between) or (n == len(days) - 1 and n in between)
        if figures.late_min[line] and len(days) > 1 and not alone:
            yield (line,), _less(lot.lines, line)


def _less(lines: tuple[str, ...], line: str) -> tuple[str, ...]:
    return tuple(key for key in lines if key != line)


class _Relief:
    """Lateness that may go when some lines of a lot wait.

    What all late lines gain by some minutes is looked up in sums over those less late and those
    later, so that a neighbour takes no longer the more lines are late.
    """

    def __init__(self, desk: Desk, figures: LotFigures) -> None:
        self._desk, self._figures = desk, figures
        late = sorted(
            (minutes, desk.orders[key].weight) for key, minutes in figures.late_min.items()
        )
        self._late_min = [minutes for minutes, _ in late]
        self._gone = list(accumulate((minutes * weight for minutes, weight in late), initial=0))
        self._weight = list(accumulate((weight for _, weight in late), initial=0))
        self._length_nm: dict[str, int] = {}
        self._without: dict[tuple[str, str], tuple[tuple[str, ...], float]] = {}

    def cents(self, lot: Lot, first: Sequence[str], second: Sequence[str]) -> float:
        """What it is worth to the first lines, and to other lots, that the second ones wait."""
        minutes = self._figures.work_min[lot.key] * self._share(lot, second)
        gained = self._of(first, minutes)
        if max(self._desk.due_min[line] for line in second) > self._desk.due_min[lot.lines[0]]:
            gained += HOPE * (self._of_all(minutes) - self._of(lot.lines, minutes))
        return gained * self._desk.shop.house.late_cents_h / 60

    def without(self, lot: Lot, line: str) -> tuple[tuple[str, ...], float]:
        """A lot's other lines, and what it is worth to them and others that this one waits."""
        known = self._without.get((lot.key, line))
        if known is None:
            rest = _less(lot.lines, line)
            known = self._without[lot.key, line] = rest, self.cents(lot, rest, (line,))
        return known

    def _share(self, lot: Lot, lines: Sequence[str]) -> float:
        """Of the length of a lot's pieces, that of some lines."""
        if lot.key not in self._length_nm:
            self._length_nm[lot.key] = self._pieces_nm(lot.lines)
        return self._pieces_nm(lines) / self._length_nm[lot.key]

    def _pieces_nm(self, lines: Sequence[str]) -> int:
        blanks = self._desk.blanks
        return sum(blanks[line].length_nm * blanks[line].quantity for line in lines)

    def _of(self, lines: Sequence[str], minutes: float) -> float:
        """What some lines gain by so many minutes, weighted."""
        late, orders = self._figures.late_min, self._desk.orders
        return sum(orders[line].weight * min(late[line], minutes) for line in lines)

    def _of_all(self, minutes: float) -> float:
        less = bisect_right(self._late_min, minutes)
        return self._gone[less] + minutes * (self._weight[-1] - self._weight[less])


def _changes_cents(desk: Desk, figures: LotFigures, lot: Lot) -> float:
    return figures.changes_min[lot.key] * desk.shop.house.minute_cents


def work_until_sawn(operations: Sequence[Operation]) -> Mapping[str, int]:
    """By lot, the minutes of its passes and of sawing it."""
    work: dict[str, int] = defaultdict(int)
    for operation in operations:
        if operation.step in (Step.FINISH, Step.SAW):
            work[operation.lot] += operation.alternatives[0].minutes
    return work


def waste_cents(cut_list: CutList) -> float:
    """The share of the cut list's cost that does not end in pieces."""
    length = sum(stick.length_nm for stick in cut_list.sticks)
    pieces = sum(piece.length_nm for stick in cut_list.sticks for piece in stick.pieces)
    return cut_list.cost_cents * (1 - pieces / length)
