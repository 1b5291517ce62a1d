"""From the schedule engine's answer to the slots of the plan."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from dataclasses import replace

from planner import schedule
from planner.change import Change
from planner.changeovers import Mounts, changes, setup_minutes
from planner.errors import EngineError
from planner.held import Held, HeldWhy, Paused
from planner.records import Alternative, Operation, Slot
from planner.shop import Shop
from planner.standing import NOTHING, Standing


def slots_of(
    shop: Shop,
    operations: Sequence[Operation],
    placed: Sequence[schedule.Placed],
    standing: Standing = NOTHING,
) -> tuple[Slot, ...]:
    """The engine's answer as slots by station and time, every changeover by the shop's table, with
    what runs that stood still had mounted meanwhile.

    Raises EngineError where the engine counted other minutes than the table gives.
    """
    by_key = {operation.key: operation for operation in operations}
    mounts = Mounts(shop)
    runs: Counter[str] = Counter()
    found: list[Slot] = []
    moments: list[schedule.Placed | Paused] = [_as_held(item, standing) for item in placed]
    moments += standing.parts
    for item in sorted(moments, key=_by_time):
        station, way = shop.station(item.station), by_key[item.operation].at(item.station)
        changed = changes(mounts.before(station), way.state, station, shop)
        mounts.mount(station, way.state)
        if changed or not runs[item.station]:
            runs[item.station] += 1
        if isinstance(item, Paused):
            continue
        if not standing.is_done(item.operation):
            _check_minutes(item, changed)
        held_by = _held_by(item.why, standing.held.get(item.operation))
        found.append(_slot(item, way, changed, runs[item.station], held_by))
    rank = {station.name: number for number, station in enumerate(shop.stations)}
    return tuple(sorted(found, key=lambda slot: (rank[slot.station], slot.start_min)))


def _by_time(item: schedule.Placed | Paused) -> tuple[int, int]:
    if isinstance(item, Paused):
        return item.setup_start_min, item.start_min
    return item.changeover_start_min, item.start_min


def _check_minutes(item: schedule.Placed, changed: tuple[Change, ...]) -> None:
    if setup_minutes(changed) != item.changeover_min:
        raise EngineError(
            f"{item.operation}: the run order has {item.changeover_min} changeover minutes, "
            f"the shop's table {setup_minutes(changed)}"
        )


def _slot(
    item: schedule.Placed, way: Alternative, changed: tuple[Change, ...], run: int, held_by: str
) -> Slot:
    return Slot(
        operation=item.operation,
        station=item.station,
        people=item.people,
        changes=changed,
        setup_start_min=item.changeover_start_min,
        setup_min=setup_minutes(changed),
        start_min=item.start_min,
        end_min=item.end_min,
        minutes=way.minutes,
        pieces=item.pieces,
        run=run,
        held_by=held_by,
    )


def _as_held(item: schedule.Placed, standing: Standing) -> schedule.Placed:
    """Work that has begun, with the people and the changeover that it really had."""
    held = standing.held.get(item.operation)
    if held is None or not standing.is_past(item.operation):
        return item
    return replace(item, people=held.people, changeover_start_min=held.setup_start_min)


_STAYS = {
    HeldWhy.DONE: "it is done",
    HeldWhy.STARTED: "it had started",
    HeldWhy.LOCKED: "it is locked where it was issued",
    HeldWhy.PINNED: "the planner wants it there",
}


def _held_by(why: schedule.Why, held: Held | None) -> str:
    if held:
        return _STAYS[held.why]
    other = why.operation
    busy = f"the station was busy with {other}" if other else "the station was being set up for it"
    sentences = {
        schedule.Hold.STATION: busy,
        schedule.Hold.PREDECESSOR: f"{other} had not ended",
        schedule.Hold.RELEASE: "its material was not there earlier",
        schedule.Hold.PERSON: f"{why.person} was busy with {other}",
        schedule.Hold.HOURS: "the station or its people were off",
        schedule.Hold.FIXED: "its time was fixed",
        schedule.Hold.NOTHING: "nothing: it starts as early as anything may",
    }
    return sentences[why.hold]
