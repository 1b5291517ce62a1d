"""Invariant 6, in a week that was planned again: what was done, begun or must stay has not moved.

Work that is done or has begun is as it was recorded, and a record is not a model: its minutes,
hours and people are not checked against one. So this file makes sure that such work lies before
the time of planning, and that everything else lies where its record says.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator
from fractions import Fraction
from itertools import pairwise

from planner.audit.facts import Breaches, Facts, breach, grouped
from planner.held import Held, HeldWhy, IssuedAt, Moved, Paused, Replan
from planner.records import Slot


def check_held(facts: Facts) -> Breaches:
    """All that moved against its record, and records that cannot be."""
    replan = facts.plan.replan
    if replan is None:
        return
    if replan.now_min != facts.plan.options.start_min:
        yield breach(6, "plan", "was made at another time than the first at which work may begin.")
    yield from _names(facts, replan)
    for one in replan.issued:
        if not one.setup_start_min <= one.start_min < one.end_min:
            yield breach(6, one.operation, "the times at which it was issued are not in order.")
    for held in replan.held:
        if held.operation in facts.slots:
            yield from _said(facts, held)
    yield from check_held_places(facts)
    yield from _moved(facts, replan)


def check_held_places(facts: Facts) -> Breaches:
    """Held work that does not lie where its record says."""
    replan = facts.plan.replan
    if replan is None:
        return
    issued = {one.operation: one for one in replan.issued}
    for held in replan.held:
        slot = facts.slots.get(held.operation)
        if slot is None:
            continue
        if held.operation in facts.past:
            yield from _past(facts, held, slot, issued.get(held.operation), replan.now_min)
        else:
            yield from _stays(facts, held, slot, issued.get(held.operation))
    for part in replan.parts:
        yield from _part(facts, part, replan.now_min)
    for paused in replan.paused:
        if paused.operation in facts.past:
            yield breach(6, paused.operation, "is paused, and done or running too.")
    yield from _went_on(facts, replan)


def _names(facts: Facts, replan: Replan) -> Breaches:
    for what, names in (
        ("held", [held.operation for held in replan.held]),
        ("issued", [one.operation for one in replan.issued]),
        ("paused", [one.operation for one in replan.paused]),
    ):
        for key, count in Counter(names).items():
            if key not in facts.operations:
                yield breach(6, key, f"is {what}, but there is no operation of that name.")
            elif count > 1:
                yield breach(6, key, f"is {what} {count} times, once is right.")
    for part in replan.resumed:
        if part.operation not in facts.operations:
            text = "is said to have gone on, but there is no operation of that name."
            yield breach(6, part.operation, text)


def _said(facts: Facts, held: Held) -> Breaches:
    """What no record of its kind says."""
    if not held.exact and held.why != HeldWhy.PINNED:
        yield breach(6, held.operation, f"is {held.why.value}, but to no minute.")
    count, done = facts.operations[held.operation].count, held.pieces
    if done is not None and (held.why != HeldWhy.STARTED or not 0 <= done <= count):
        yield breach(6, held.operation, f"is {held.why.value} with {done} of {count} done.")


def _past(facts: Facts, held: Held, slot: Slot, issued: IssuedAt | None, now_min: int) -> Breaches:
    """Done or started: as recorded, before now, and as issued unless recorded on the floor."""
    real = (slot.station, slot.people, slot.setup_start_min, slot.start_min, slot.end_min)
    recorded = (held.station, held.people, held.setup_start_min, held.start_min, held.end_min)
    if real != recorded:
        yield breach(6, held.operation, f"is {held.why.value}, but not where its record says.")
    if not held.setup_start_min <= held.start_min < held.end_min:
        yield breach(6, held.operation, "its recorded times are not in order.")
    done = held.why == HeldWhy.DONE
    if done and held.end_min > now_min:
        yield breach(6, held.operation, f"is done at {facts.clock(held.end_min)}, after now.")
    if not done and not held.setup_start_min <= now_min < held.end_min:
        yield breach(6, held.operation, "has started, but does not run at the time of planning.")
    told = (held.station, held.start_min, held.end_min)
    if not held.actual and (
        issued is None or told != (issued.station, issued.start_min, issued.end_min)
    ):
        yield breach(6, held.operation, "is recorded as it was issued, and was issued otherwise.")


def _went_on(facts: Facts, replan: Replan) -> Breaches:
    """What stood still went on after that, or once more for a while, with less and less to come."""
    known = {*facts.past, *(paused.operation for paused in replan.paused)}
    for part in replan.resumed:
        if part.operation not in known:
            yield breach(6, part.operation, "went on, and is neither done nor running nor paused.")
    parts = grouped(replan.parts, lambda part: part.operation)
    for before, after in (pair for ones in parts.values() for pair in pairwise(ones)):
        less = Fraction(after.left, after.of) < Fraction(before.left, before.of)
        if before.end_min > after.start_min or not less:
            yield breach(6, before.operation, "is said to have stood still twice at once, or idly.")
    for key, ones in parts.items():
        if key in facts.slots and facts.slots[key].start_min < ones[-1].end_min:
            yield breach(6, key, "goes on before the end of a part that was done of it.")


def _part(facts: Facts, paused: Paused, now_min: int) -> Breaches:
    """It lies after all that its run waits for and before now; some of it is left."""
    key, operation = paused.operation, facts.operations.get(paused.operation)
    if operation is None:
        return
    if not 0 < paused.left <= paused.of:
        yield breach(6, key, f"is paused with {paused.left} of {paused.of} left.")
    if not paused.setup_start_min <= paused.start_min < paused.end_min <= now_min:
        yield breach(6, key, "was paused at times that are not in order, or after now.")
    if paused.pieces is not None and not 0 <= paused.pieces < operation.count:
        yield breach(6, key, f"is paused with {paused.pieces} of {operation.count} done.")
    if paused.station not in {way.station for way in operation.alternatives}:
        yield breach(6, key, f"was begun on {paused.station}, where it cannot be done.")
    for before in operation.after:
        if facts.slots[before].end_min > paused.start_min:
            yield breach(6, key, f"was begun before {before} had ended.")


def _stays(facts: Facts, held: Held, slot: Slot, issued: IssuedAt | None) -> Breaches:
    """Locked or pinned: at its times, or within its span."""
    begins, ends = facts.clock(held.start_min), facts.clock(held.end_min)
    inside = held.start_min <= slot.start_min and slot.end_min <= held.end_min
    exact = (slot.start_min, slot.end_min) == (held.start_min, held.end_min)
    if not (exact if held.exact else inside):
        text = f"is {held.why.value} to {begins} – {ends}, and lies elsewhere."
        yield breach(6, held.operation, text)
    others = (held.exact or held.people) and held.people != slot.people
    if held.station not in ("", slot.station) or others:
        yield breach(6, held.operation, f"is {held.why.value} on another station or with others.")
    where = (held.station, held.start_min, held.end_min)
    if held.why == HeldWhy.LOCKED and (
        issued is None or where != (issued.station, issued.start_min, issued.end_min)
    ):
        yield breach(6, held.operation, "is locked elsewhere than it was issued.")


def _moved(facts: Facts, replan: Replan) -> Breaches:
    real = {moved.operation: moved for moved in _real_moves(facts, replan)}
    said = {moved.operation: moved for moved in replan.moved}
    for key in sorted(real.keys() | said.keys()):
        if real.get(key) != said.get(key):
            text = "moved, and is not among what moved." if key in real else "did not move as said."
            yield breach(6, key, text)


def _real_moves(facts: Facts, replan: Replan) -> Iterator[Moved]:
    for before in replan.issued:
        slot = facts.slots.get(before.operation)
        if slot is None or slot.operation in facts.past:
            continue
        if (slot.station, slot.start_min) != (before.station, before.start_min):
            after = IssuedAt(
                operation=slot.operation,
                station=slot.station,
                people=slot.people,
                setup_start_min=slot.setup_start_min,
                start_min=slot.start_min,
                end_min=slot.end_min,
            )
            yield Moved(operation=slot.operation, before=before, after=after)
