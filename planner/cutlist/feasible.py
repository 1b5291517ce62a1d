"""What can be said before any search: pieces that no stick holds, stock that must end."""

from __future__ import annotations

from dataclasses import replace

from planner.cutlist.model import Model, Packing, Scaled, Slot, sticks_by_kind
from planner.cutlist.problem import Problem
from planner.cutlist.result import Reason


def reasons_before_search(problem: Problem) -> tuple[Reason, ...]:
    """Why no plan can exist, as far as lengths alone tell; empty if nothing is seen."""
    found = _too_long(problem)
    return tuple(found or _too_little(problem))


def _too_long(problem: Problem) -> list[Reason]:
    on_offer = [kind for kind in problem.stock if kind.count != 0]
    room = max((problem.room_nm(kind) for kind in on_offer), default=-1)
    longest = room - problem.kerf_nm
    found: list[Reason] = []
    for demand in problem.demands:
        if not demand.quantity or demand.length_nm <= longest:
            continue
        if not on_offer:
            text = "there is no stock of this tube: buy some, or enter what is on the rack"
            found.append(Reason((demand.key,), text))
            continue
        text = (
            "a piece of {} is too long for every stick on offer (the longest piece that fits is "
            "{}): buy longer stock or split the piece"
        )
        found.append(Reason((demand.key,), text, (demand.length_nm, max(longest, 0))))
    return found


def _too_little(problem: Problem) -> list[Reason]:
    """Compare all pieces with all sticks, and long pieces with the sticks that hold them."""
    if any(kind.count is None for kind in problem.stock) and _endless_holds_all(problem):
        return []
    demands = sorted(
        (d for d in problem.demands if d.quantity), key=lambda demand: -demand.length_nm
    )
    needed = 0
    for demand in demands:
        needed += (demand.length_nm + problem.kerf_nm) * demand.quantity
        offered = 0
        for kind in problem.stock:
            if problem.room_nm(kind) >= demand.length_nm + problem.kerf_nm:
                if kind.count is None:
                    offered = needed
                    break
                offered += problem.room_nm(kind) * kind.count
        if offered < needed:
            text = (
                "stock ends: pieces of {} and longer need {}, and the sticks that hold them have "
                "{}: buy more, or cut fewer"
            )
            return [Reason((demand.key,), text, (demand.length_nm, needed, offered))]
    return []


def _endless_holds_all(problem: Problem) -> bool:
    longest = max((d.length_nm for d in problem.demands if d.quantity), default=0)
    rooms = (problem.room_nm(kind) for kind in problem.stock if kind.count is None)
    return max(rooms, default=-1) >= longest + problem.kerf_nm


def with_shortage(model: Model) -> tuple[Model, int | None]:
    """Add a kind for sticks that are missing, dearer than all stock together.

    Only where the stock may end; returns the index of the added kind, or None.
    """
    endless = [model.room_of(k) for k, limit in enumerate(model.limits) if limit is None]
    if max(endless, default=-1) >= model.sizes[0]:
        return model, None
    total = sum(model.wanted)
    everything = sum(
        model.slots[model.slots_of[kind][-1]].cents * (total if limit is None else limit)
        for kind, limit in enumerate(model.limits)
        if model.slots_of[kind]
    )
    kind = len(model.limits)
    missing = Slot(kind, model.room, everything + 1)
    wider = replace(model, slots=(*model.slots, missing), limits=(*model.limits, None))
    return wider, kind


def reasons_after_search(
    problem: Problem, scaled: Scaled, model: Model, packing: Packing, is_proven: bool
) -> tuple[Reason, ...]:
    """Say how many sticks are missing when the stock ends: those of the model's last kind, which
    `with_shortage` added to the scaled one's."""
    kind = len(scaled.model.limits)
    sticks = sticks_by_kind(model, packing)[kind]
    longest = max(problem.room_nm(stock) for stock in problem.stock if stock.count != 0)
    how_sure = "proven" if is_proven else "as far as the search went"
    text = (
        f"stock ends ({how_sure}): {sticks} more stick{'s' if sticks > 1 else ''} with room for "
        "{} of pieces would do: buy them, or cut fewer"
    )
    keys = sorted(
        {
            demand.key
            for column in packing
            if model.slots[column.slot].kind == kind
            for demand in problem.demands
            if demand.length_nm in {scaled.lengths_nm[i] for i, _ in column.pieces}
        }
    )
    return (Reason(tuple(keys), text, (longest,)),)
