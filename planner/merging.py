"""What it would save, and delay, if two lots that are cut apart shared their sticks."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from itertools import pairwise

from planner.advice import Merger
from planner.cutting import Solve, cut_list_problem
from planner.drafts import Desk, Draft
from planner.hours import DAY_MIN
from planner.neighbours import waste_cents, work_until_sawn
from planner.records import CutList, Lot, Stick
from planner.stop import Status

MOST_PAIRS = 100
"""Pairs that are cut as one, those with the most waste on their sticks first: what is told is
advice, and the papers of a big book need no more of it."""


def mergers(desk: Desk, draft: Draft, solve: Solve) -> tuple[Merger, ...]:
    """Neighbours in due order of one tube spec and recipe that are cheaper cut as one, the
    largest saving first.

    A pair is cut as one from what the other lots leave on the rack; the delay is the work on
    the later lot that must be done before the earlier one is sawn.
    """
    cuts = {cut_list.lot: cut_list for cut_list in draft.cut.cut_lists}
    left = desk.rack.without([stick for one in cuts.values() for stick in one.sticks])
    pairs = _wasteful(_neighbours(draft.lots), cuts)
    problems = [
        cut_list_problem(
            desk.shop, _joined(*pair), desk.blanks, left.with_back(_sticks(cuts, pair))
        )
        for pair in pairs
    ]
    work_min = work_until_sawn(draft.operations)
    found: list[Merger] = []
    for (early, late), result in zip(pairs, solve(problems), strict=True):
        apart = cuts[early.key].cost_cents + cuts[late.key].cost_cents
        if result.status is not Status.NO_PLAN and result.cost_cents < apart:
            found.append(
                Merger(
                    early=early.key,
                    late=late.key,
                    saves_cents=apart - result.cost_cents,
                    delays_min=work_min[late.key],
                    days_apart=late.due_min // DAY_MIN - early.due_min // DAY_MIN,
                )
            )
    return tuple(sorted(found, key=lambda merger: (-merger.saves_cents, merger.early)))


Pair = tuple[Lot, Lot]


def _wasteful(pairs: Iterable[Pair], cuts: Mapping[str, CutList]) -> list[Pair]:
    def waste(pair: Pair) -> tuple[float, str]:
        return -sum(waste_cents(cuts[lot.key]) for lot in pair), pair[0].key

    return sorted(pairs, key=waste)[:MOST_PAIRS]


def _sticks(cuts: Mapping[str, CutList], pair: Pair) -> list[Stick]:
    return [stick for lot in pair for stick in cuts[lot.key].sticks]


def _neighbours(lots: Sequence[Lot]) -> Iterator[Pair]:
    kinds: dict[tuple[object, ...], list[Lot]] = {}
    for lot in sorted(lots, key=lambda lot: (lot.due_min, lot.key)):
        kinds.setdefault((lot.spec, lot.recipe, lot.saw_first), []).append(lot)
    for kind in kinds.values():
        yield from pairwise(kind)


def _joined(early: Lot, late: Lot) -> Lot:
    update = {"key": f"{early.key}+{late.key}", "lines": early.lines + late.lines}
    return early.model_copy(update=update)
