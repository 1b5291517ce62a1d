"""What it would save, and delay, if two lots that are cut apart shared their sticks."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from itertools import pairwise

from planner.advice import Merger
from planner.cutting import Rack, Solve, problem_of
from planner.drafts import Desk, Draft
from planner.hours import DAY_MIN
from planner.orders import Step
from planner.records import CutList, Lot, Operation
from planner.stop import Status


def mergers(desk: Desk, draft: Draft, solve: Solve) -> tuple[Merger, ...]:
    """Neighbours in due order of one tube spec and recipe that are cheaper cut as one, the
    largest saving first.

    A pair is cut as one from what the other lots leave on the rack; the delay is the work on
    the later lot that must be done before the earlier one is sawn.
    """
    cuts = {cut_list.lot: cut_list for cut_list in draft.cut.cut_lists}
    pairs = list(_neighbours(draft.lots))
    problems = [
        problem_of(desk.shop, _joined(*pair), desk.blanks, _without_others(desk.rack, cuts, *pair))
        for pair in pairs
    ]
    found: list[Merger] = []
    for (early, late), result in zip(pairs, solve(problems), strict=True):
        apart = cuts[early.key].cost_cents + cuts[late.key].cost_cents
        if result.status is not Status.NO_PLAN and result.cost_cents < apart:
            found.append(
                Merger(
                    early=early.key,
                    late=late.key,
                    saves_cents=apart - result.cost_cents,
                    delays_min=_minutes_until_sawn(late, draft.operations),
                    days_apart=late.due_min // DAY_MIN - early.due_min // DAY_MIN,
                )
            )
    return tuple(sorted(found, key=lambda merger: (-merger.saves_cents, merger.early)))


def _neighbours(lots: Sequence[Lot]) -> Iterator[tuple[Lot, Lot]]:
    kinds: dict[tuple[object, ...], list[Lot]] = {}
    for lot in sorted(lots, key=lambda lot: (lot.due_min, lot.key)):
        kinds.setdefault((lot.spec, lot.recipe, lot.saw_first), []).append(lot)
    for kind in kinds.values():
        yield from pairwise(kind)


def _joined(early: Lot, late: Lot) -> Lot:
    update = {"key": f"{early.key}+{late.key}", "lines": early.lines + late.lines}
    return early.model_copy(update=update)


def _without_others(rack: Rack, cuts: Mapping[str, CutList], early: Lot, late: Lot) -> Rack:
    for key, cut_list in cuts.items():
        if key not in (early.key, late.key):
            rack = rack.without(cut_list.sticks)
    return rack


def _minutes_until_sawn(lot: Lot, operations: Sequence[Operation]) -> int:
    return sum(
        operation.alternatives[0].minutes
        for operation in operations
        if operation.lot == lot.key and operation.step in (Step.FINISH, Step.SAW)
    )
