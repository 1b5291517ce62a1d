"""Invariant 2: coarse to fine, finished before it is cut or bent, and never finished once bent."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise

from planner.abrasives import in_order
from planner.audit.facts import OF_THE_LOT, Breaches, Facts, breach
from planner.orders import Step
from planner.records import Blank, Lot, Operation
from planner.shop import RecipeStep


def check_order_of_work(facts: Facts) -> Breaches:
    """All breaches of invariant 2."""
    for lot in facts.plan.lots:
        yield from _passes(facts, lot)
        yield from _saw(facts, lot)
        for key in lot.lines:
            blank = facts.blanks[key]
            yield from _steps(facts, blank)
            yield from _one_after_another(facts, lot, blank)
    for operation in facts.plan.operations:
        yield from _labels(operation)


def _passes(facts: Facts, lot: Lot) -> Breaches:
    passes = sorted(facts.of_lot(lot.key, Step.FINISH), key=lambda operation: operation.pass_no)
    wanted = [step.grade for step in _wanted_steps(facts, lot)]
    labels = [operation.grade for operation in passes]
    if labels != [grade.label for grade in wanted]:
        right = ", ".join(grade.label for grade in wanted) or "none"
        yield breach(2, lot.key, f"its passes are {', '.join(labels) or 'none'}, not {right}.")
    for number, operation in enumerate(passes, start=1):
        if (operation.pass_no, operation.passes) != (number, len(passes)):
            yield breach(2, operation.key, f"is pass {number} of {len(passes)}, not as numbered.")
        yield from _belt(facts, lot, operation)
        if operation.count != _finished_pieces(facts, lot):
            right_count = _finished_pieces(facts, lot)
            yield breach(2, operation.key, f"finishes {operation.count} of {right_count} pieces.")
    yield from _coarse_to_fine(facts, lot, passes)
    yield from _before(facts, passes)
    yield from _afters(_shared(facts, lot), ())


def _shared(facts: Facts, lot: Lot) -> list[Operation]:
    """The operations of the lot as a whole, in the order in which they wait for each other."""
    passes = sorted(facts.of_lot(lot.key, Step.FINISH), key=lambda operation: operation.pass_no)
    saws = facts.of_lot(lot.key, Step.SAW)
    return [*saws, *passes] if lot.saw_first else [*passes, *saws]


def _wanted_steps(facts: Facts, lot: Lot) -> list[RecipeStep]:
    """The lot's passes: the recipe's steps as often as the incoming surface needs."""
    if lot.recipe is None or not _finished_pieces(facts, lot):
        return []
    steps = facts.shop.recipe(lot.recipe).steps
    return [step for step in steps for _ in range(step.passes.get(lot.spec.surface, 0))]


def _finished_pieces(facts: Facts, lot: Lot) -> int:
    sticks = [stick for stick in facts.cut_lists[lot.key].sticks if not stick.finished]
    return sum(len(stick.pieces) for stick in sticks) if lot.saw_first else len(sticks)


def _belt(facts: Facts, lot: Lot, operation: Operation) -> Breaches:
    belts = {belt.name: belt for belt in facts.shop.belts}
    belt = belts.get(operation.belt or "")
    if belt is None:
        yield breach(2, operation.key, f"its belt {operation.belt} is none of the shop's.")
        return
    if belt.grade.label != operation.grade:
        yield breach(2, operation.key, f"its belt {belt.name} is not {operation.grade}.")
    if lot.spec.family not in belt.families:
        yield breach(2, operation.key, f"its belt {belt.name} must not touch {lot.spec.family}.")


def _coarse_to_fine(facts: Facts, lot: Lot, passes: Sequence[Operation]) -> Breaches:
    """Each belt as fine as the one before or finer, but where a check sent the lot back."""
    back = [number for number, step in enumerate(_wanted_steps(facts, lot), 1) if step.again]
    belts = {belt.name: belt.grade for belt in facts.shop.belts}
    for before, after in pairwise(sorted(passes, key=lambda o: facts.slots[o.key].start_min)):
        grades = belts.get(before.belt or ""), belts.get(after.belt or "")
        if grades[0] is None or grades[1] is None or grades[0] == grades[1]:
            continue
        if after.pass_no in back and before.pass_no == after.pass_no - 1:
            continue
        if not in_order(grades[0], grades[1]):
            text = f"its belt is {grades[1].label} after {grades[0].label}: not coarse to fine."
            yield breach(2, after.key, text)


def _before(facts: Facts, chain: Sequence[Operation]) -> Breaches:
    """Each of the operations must have ended before the next one begins."""
    for before, after in pairwise(chain):
        yield from _ended(facts, before, after)


def _ended(facts: Facts, before: Operation, after: Operation) -> Breaches:
    early = facts.slots[before.key].end_min - facts.slots[after.key].start_min
    if early > 0:
        yield breach(2, after.key, f"begins {early} minutes before {before.key} has ended.")


def _saw(facts: Facts, lot: Lot) -> Breaches:
    saws = facts.of_lot(lot.key, Step.SAW)
    if len(saws) != 1:
        yield breach(2, lot.key, f"is sawn {len(saws)} times, once is right.")
    sticks = len(facts.cut_lists[lot.key].sticks)
    for saw in saws:
        if saw.count != sticks:
            yield breach(2, saw.key, f"saws {saw.count} of {sticks} sticks.")
        for finish in facts.of_lot(lot.key, Step.FINISH):
            pair = (saw, finish) if lot.saw_first else (finish, saw)
            yield from _ended(facts, *pair)


def _steps(facts: Facts, blank: Blank) -> Breaches:
    steps = blank.steps
    bent_at = steps.index(Step.BEND) if Step.BEND in steps else len(steps)
    if Step.FINISH in steps[bent_at:]:
        yield breach(2, blank.line, "is finished after bending: bent tube cannot go through.")
    finish_at = [steps.index(Step.FINISH)] if Step.FINISH in steps else []
    cut_first = [step for at in finish_at for step in steps[:at] if step != Step.SAW]
    if cut_first:
        yield breach(2, blank.line, f"is finished after {cut_first[0].value}.")
    line = facts.orders[blank.line]
    if (line.recipe is not None) != (Step.FINISH in steps):
        yield breach(2, blank.line, "is finished without a recipe, or has one and is not.")


def _one_after_another(facts: Facts, lot: Lot, blank: Blank) -> Breaches:
    """The line's own steps are all there, in its order, and begin when the lot's have ended."""
    own = [operation for operation in facts.of_lot(lot.key) if operation.line == blank.line]
    own.sort(key=lambda operation: facts.slots[operation.key].start_min)
    bench = any(station.kind == "bench" for station in facts.shop.stations)
    wanted = [
        step for step in blank.steps if step not in OF_THE_LOT and (step != Step.TOUCH_UP or bench)
    ]
    found = [
        operation.step
        for number, operation in enumerate(own)
        if operation.step != Step.NOTCH or number == 0 or own[number - 1].step != Step.NOTCH
    ]
    if found != wanted:
        names = ", ".join(step.value for step in found) or "nothing"
        right = ", ".join(step.value for step in wanted) or "nothing"
        yield breach(2, blank.line, f"after the saw it gets {names}, where {right} is right.")
    yield from _before(facts, own)
    yield from _afters(own, tuple(each.key for each in _shared(facts, lot)[-1:]))
    shared = [operation for operation in facts.of_lot(lot.key) if operation.line is None]
    for before in shared:
        for after in own:
            yield from _ended(facts, before, after)
    yield from _counts(blank, own)


def _counts(blank: Blank, own: Sequence[Operation]) -> Breaches:
    for operation in own:
        if operation.count != blank.quantity:
            yield breach(2, operation.key, f"is for {operation.count} of {blank.quantity} pieces.")
    notches = sum(operation.step == Step.NOTCH for operation in own)
    if notches != len(set(blank.saddles_nm)):
        right = len(set(blank.saddles_nm))
        yield breach(2, blank.line, f"is set up for {notches} kinds of saddle, {right} are needed.")


def _labels(operation: Operation) -> Breaches:
    pass_of = (operation.pass_no, operation.passes, operation.belt, operation.grade)
    if operation.step != Step.FINISH and pass_of != (0, 0, None, ""):
        yield breach(2, operation.key, "names a pass or a belt and is no finishing.")


def _afters(chain: Sequence[Operation], first: tuple[str, ...]) -> Breaches:
    """Each operation of the chain names the one before it, the first one what came before all."""
    before = first
    for operation in chain:
        if operation.after != before:
            said, right = ", ".join(operation.after) or "nothing", ", ".join(before) or "nothing"
            yield breach(2, operation.key, f"is said to wait for {said}, {right} is right.")
        before = (operation.key,)
