"""Invariant 5: every time is the model's to the minute, and what is late says so."""

from __future__ import annotations

from itertools import pairwise

from planner.audit.facts import Breaches, Facts, breach
from planner.audit.stations import longest_nm, saddles_cut
from planner.hours import due_minute
from planner.orders import Step
from planner.records import Alternative, LateLine, Lot, Operation, Slot
from planner.shop import RecipeStep, Station
from planner.times import (
    bend_s,
    finisher_people,
    notch_s,
    pass_s,
    planned_minutes,
    saw_s,
    touch_up_s,
)
from planner.wiping import is_oiled, oiled_items, wiping_s


def check_times(facts: Facts) -> Breaches:
    """All breaches of invariant 5."""
    for operation in facts.plan.operations:
        for way in operation.alternatives:
            yield from _way(facts, operation, way)
    yield from _completions(facts)
    yield from _late(facts)


def _way(facts: Facts, operation: Operation, way: Alternative) -> Breaches:
    station, slot = facts.stations[way.station], facts.slots[operation.key]
    is_done_here = way.station == slot.station
    where = "" if is_done_here else f" on {way.station}"
    seconds = _seconds(facts, operation, station)
    if seconds is None:
        yield breach(5, operation.key, f"its minutes{where} cannot be worked out from its lot.")
        return
    right = _left(facts, operation, planned_minutes(station, seconds))
    for minutes in {way.minutes, slot.minutes if is_done_here else way.minutes}:
        if minutes != right:
            text = f"takes {minutes} minutes{where}, the model gives {right}."
            yield breach(5, operation.key, text)
    people = _people(facts, operation, station)
    if way.people != people:
        text = f"is planned for {way.people} people{where}, it needs {people}."
        yield breach(5, operation.key, text)


def _left(facts: Facts, operation: Operation, minutes: int) -> int:
    """What is left of a run's minutes where a part of it was done before it stood still."""
    paused = facts.paused.get(operation.key)
    return -(-minutes * paused.left // paused.of) if paused else minutes


def _people(facts: Facts, operation: Operation, station: Station) -> int:
    if operation.step != Step.FINISH:
        return station.people
    return finisher_people(station, longest_nm(facts, operation, facts.lots[operation.lot]))


def _seconds(facts: Facts, operation: Operation, station: Station) -> float | None:
    lot, key = facts.lots[operation.lot], operation.line or ""
    match operation.step:
        case Step.FINISH:
            return _pass_s(facts, operation, lot, station)
        case Step.SAW:
            return saw_s(station, facts.cut_lists[lot.key].sticks)
        case Step.NOTCH:
            blank = facts.blanks[key]
            cut = saddles_cut(facts, operation, station, operation.at(station.name).state)
            return notch_s(station, blank.quantity * sum(od in cut for od in blank.saddles_nm))
        case Step.BEND:
            return bend_s(facts.shop, station, facts.orders[key], facts.blanks[key])
        case Step.TOUCH_UP:
            return touch_up_s(facts.orders[key])


def _pass_s(facts: Facts, operation: Operation, lot: Lot, station: Station) -> float | None:
    belts = {belt.name: belt for belt in facts.shop.belts}
    belt, step = belts.get(operation.belt or ""), _recipe_step(facts, operation, lot)
    if belt is None or step is None:
        return None
    sticks = [stick for stick in facts.cut_lists[lot.key].sticks if not stick.finished]
    lengths = [stick.length_nm for stick in sticks]
    if lot.saw_first:
        lengths = [piece.length_nm for stick in sticks for piece in stick.pieces]
    oiled = is_oiled(lot, facts.cut_lists[lot.key], facts.orders, oiled_items(facts.plan.stock))
    wiping = wiping_s(station, lot, oiled, len(lengths), operation.pass_no)
    return pass_s(facts.shop, station, belt, step, lot.spec, lengths) + wiping


def _recipe_step(facts: Facts, operation: Operation, lot: Lot) -> RecipeStep | None:
    steps = facts.shop.recipe(lot.recipe).steps if lot.recipe else ()
    done = [step for step in steps for _ in range(step.passes.get(lot.spec.surface, 0))]
    return done[operation.pass_no - 1] if 1 <= operation.pass_no <= len(done) else None


def done_minutes(facts: Facts) -> dict[str, int]:
    """Minute at which each order line is complete: its own last step, or its lot's."""
    ends: dict[str, int] = {}
    for lot in facts.plan.lots:
        operations = facts.of_lot(lot.key)
        for key in lot.lines:
            own = [o for o in operations if o.line == key]
            shared = [o for o in operations if o.line is None]
            ends[key] = max(facts.slots[o.key].end_min for o in (*own, *shared))
    return ends


def _completions(facts: Facts) -> Breaches:
    real = done_minutes(facts)
    for done in facts.plan.done:
        if done.done_min != real[done.line]:
            off = done.done_min - real[done.line]
            yield breach(5, done.line, f"is said to be complete {off} minutes off the truth.")
        due = due_minute(facts.orders[done.line].due, facts.plan.options.start)
        if done.due_min != due:
            yield breach(5, done.line, f"its due minute is {done.due_min}, not {due}.")
    for lot in facts.plan.lots:
        dues = [due_minute(facts.orders[key].due, facts.plan.options.start) for key in lot.lines]
        if lot.due_min != min(dues):
            yield breach(5, lot.key, f"its due minute is {lot.due_min}, not {min(dues)}.")


def _late(facts: Facts) -> Breaches:
    listed = {late.line: late for late in facts.plan.late}
    for key, done_min in done_minutes(facts).items():
        late_min = done_min - due_minute(facts.orders[key].due, facts.plan.options.start)
        if late_min > 0 and key not in listed:
            yield breach(5, key, f"is {late_min} minutes late and not in the late list.")
        elif late_min <= 0 and key in listed:
            yield breach(5, key, "is in the late list and not late.")
        elif late_min > 0:
            yield from _late_row(facts, listed[key], late_min, done_min)


def _late_row(facts: Facts, late: LateLine, late_min: int, done_min: int) -> Breaches:
    if late.late_min != late_min:
        yield breach(5, late.line, f"is listed {late.late_min} minutes late, it is {late_min}.")
    if late.due != facts.orders[late.line].due:
        yield breach(5, late.line, f"is listed as due {late.due}, which is not so.")
    if late.done != facts.moment(done_min):
        yield breach(5, late.line, f"is listed as done {late.done}, which is not so.")
    if not late.reason.strip():
        yield breach(5, late.line, "is late, and no word says what would make it on time.")
    if len(set(late.chain)) < len(late.chain):
        yield breach(5, late.line, "has a chain with an operation that is there twice.")
    if any(key not in facts.slots for key in late.chain):
        yield breach(5, late.line, "is held by operations that are not in the plan.")
    elif late.chain and facts.slots[late.chain[-1]].end_min != done_min:
        yield breach(5, late.line, "has a chain that does not lead to its last operation.")
    else:
        for before, after in pairwise(late.chain):
            if not _holds(facts, facts.slots[before], facts.slots[after]):
                yield breach(5, late.line, f"has a chain in which {before} does not hold {after}.")


def _holds(facts: Facts, before: Slot, after: Slot) -> bool:
    """Whether one could keep the other waiting: it comes first, and the other needs its tube, its
    place or its people."""
    is_shared = bool(set(before.people) & set(after.people))
    is_shared |= facts.place(before) == facts.place(after)
    is_shared |= before.operation in facts.operations[after.operation].after
    return is_shared and before.setup_start_min <= after.start_min
