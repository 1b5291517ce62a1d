"""Invariant 6: costs, floors, ledger and buy list are what the plan itself comes to."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator
from datetime import date, timedelta

from planner.audit.facts import Breaches, Facts, breach
from planner.audit.times import done_minutes
from planner.changeovers import setup_minutes
from planner.held import Paused
from planner.hours import DAY_MIN, due_minute
from planner.material import Prices
from planner.records import BuyLine, CutList, Floor, FloorKind, Slot
from planner.shop import What
from planner.stop import Status
from planner.yardsticks import THIS_PLAN, Yardstick


def check_figures(facts: Facts) -> Breaches:
    """All breaches of invariant 6."""
    for cut_list in facts.plan.cut_lists:
        yield from _cost(facts, cut_list)
    yield from _ledger(facts)
    yield from _yardstick(facts)
    yield from _floors(facts)
    yield from _buy(facts)


def cost_cents(facts: Facts, cut_list: CutList) -> int:
    """What the sticks cost, each with its finishing, less the worth of a drop that is kept and of
    the finish on it."""
    prices = Prices(facts.shop, facts.plan.stock, facts.lots[cut_list.lot])
    return prices.cost_cents(cut_list.sticks)


def _cost(facts: Facts, cut_list: CutList) -> Breaches:
    real = cost_cents(facts, cut_list)
    if cut_list.cost_cents != real:
        text = f"its cut list costs {real} cents and says {cut_list.cost_cents}."
        yield breach(6, cut_list.lot, text)
    if cut_list.floor_cents > real:
        over = cut_list.floor_cents - real
        yield breach(6, cut_list.lot, f"its floor lies {over} cents above its cost.")
    yield from _claim(cut_list.lot, cut_list.status, cut_list.floor_cents == real)


def _claim(subject: str, status: Status, meets_floor: bool) -> Breaches:
    if status == Status.NO_PLAN:
        yield breach(6, subject, "says that it has no plan, and has one.")
    if status == Status.PROVEN and not meets_floor:
        yield breach(6, subject, "says that it is proven, and lies above its floor.")
    if status in (Status.GAP, Status.LIMIT) and meets_floor:
        yield breach(6, subject, f"says {status.value}, and is proven, as it meets its floor.")


def _changes(facts: Facts) -> Iterator[tuple[str, date, What, int]]:
    start = facts.plan.options.start
    changed: list[Slot | Paused] = [*facts.plan.slots, *facts.parts]
    for slot in changed:
        day = start + timedelta(days=slot.setup_start_min // DAY_MIN)
        yield from ((slot.station, day, change.what, change.minutes) for change in slot.changes)


def _ledger(facts: Facts) -> Breaches:
    minutes: Counter[tuple[str, date, What]] = Counter()
    counts: Counter[tuple[str, date, What]] = Counter()
    for station, day, what, taken in _changes(facts):
        minutes[station, day, what] += taken
        counts[station, day, what] += 1
    rows = Counter((row.station, row.day, row.what) for row in facts.plan.ledger)
    for station, day, what in sorted(counts.keys() | rows.keys()):
        place = (station, day, what)
        listed = [row for row in facts.plan.ledger if (row.station, row.day, row.what) == place]
        said = " and ".join(_spent(row.minutes, row.count) for row in listed)
        right = _spent(minutes[place], counts[place])
        if said != right:
            text = (
                f"the ledger for {what.value} on {day} says {said or 'nothing'}, {right} is right."
            )
            yield breach(6, station, text)


def _spent(minutes: int, changes: int) -> str:
    return f"{minutes} minutes ({changes} ×)"


def real_yardstick(facts: Facts, name: str = THIS_PLAN) -> Yardstick:
    """What the plan's slots come to."""
    by_what: Counter[What] = Counter()
    spent = sum(setup_minutes(part.changes) for part in facts.parts)
    for _, _, what, minutes in _changes(facts):
        by_what[what] += minutes
    late = _late(facts)
    return Yardstick(
        name=name,
        changeover_min=spent + sum(slot.setup_min for slot in facts.plan.slots),
        by_what=dict(by_what),
        late_lines=len(late),
        late_min=sum(late.values()),
        weighted_late_min=sum(facts.orders[key].weight * late[key] for key in late),
    )


def _late(facts: Facts) -> dict[str, int]:
    start = facts.plan.options.start
    late = {
        key: done - due_minute(facts.orders[key].due, start)
        for key, done in done_minutes(facts).items()
    }
    return {key: minutes for key, minutes in late.items() if minutes > 0}


def _yardstick(facts: Facts) -> Breaches:
    if not facts.plan.yardsticks:
        yield breach(6, "this plan", "has no yardstick.")
        return
    first = facts.plan.yardsticks[0]
    for text in unlike(first, real_yardstick(facts)):
        yield breach(6, THIS_PLAN, text)
    if first.placings:
        yield breach(6, THIS_PLAN, "its yardstick has placings beside the plan's own slots.")
    for one in facts.plan.yardsticks:
        for text in _impossible(facts, one):
            yield breach(6, one.name, text)


def unlike(said: Yardstick, real: Yardstick) -> Iterator[str]:
    """Where a yardstick says something else than it comes to."""
    for name in ("name", "changeover_min", "late_lines", "late_min", "weighted_late_min"):
        given, right = getattr(said, name), getattr(real, name)
        if given != right:
            yield f"its yardstick says {name} {given}, {right} is right."
    for what in What:
        given, right = said.by_what.get(what, 0), real.by_what.get(what, 0)
        if given != right:
            yield f"its yardstick says {given} minutes of {what.value}, {right} is right."


def _impossible(facts: Facts, one: Yardstick) -> Iterator[str]:
    """What no run order of this week can come to."""
    if sum(one.by_what.values()) != one.changeover_min or min(one.by_what.values(), default=0) < 0:
        yield "its changeover minutes do not add up by kind."
    if not 0 <= one.late_lines <= min(one.late_min, len(facts.orders)):
        yield f"{one.late_lines} lines cannot be {one.late_min} minutes late in all."
    if (one.late_lines == 0) != (one.late_min == 0):
        yield f"it says {one.late_lines} lines and {one.late_min} minutes late."
    weights = [line.weight for line in facts.plan.orders]
    if not min(weights) * one.late_min <= one.weighted_late_min <= max(weights) * one.late_min:
        yield f"{one.late_min} minutes late cannot weigh {one.weighted_late_min}."
    for floor in facts.plan.floors:
        if floor.kind is FloorKind.LATENESS and one.weighted_late_min < floor.floor:
            yield f"its lateness, {one.weighted_late_min}, lies below the floor of any order."


def _floors(facts: Facts) -> Breaches:
    real = real_yardstick(facts)
    values = {
        FloorKind.LATENESS: real.weighted_late_min,
        FloorKind.CHANGEOVER: real.changeover_min,
        FloorKind.MATERIAL: sum(cost_cents(facts, one) for one in facts.plan.cut_lists),
    }
    kinds = [floor.kind for floor in facts.plan.floors]
    if sorted(kinds) != sorted(FloorKind):
        yield breach(6, "floors", f"are of {', '.join(kinds) or 'nothing'}: one of each is right.")
    for floor in facts.plan.floors:
        yield from _floor(floor, values[floor.kind])
    claimed = sum(one.floor_cents for one in facts.plan.cut_lists)
    for floor in facts.plan.floors:
        if floor.kind is FloorKind.MATERIAL and floor.floor != claimed:
            text = f"its floor is {floor.floor}, those of the cut lists add up to {claimed}."
            yield breach(6, floor.kind.value, text)
    order = {FloorKind.LATENESS, FloorKind.CHANGEOVER}
    met = {floor.kind for floor in facts.plan.floors if floor.floor == values[floor.kind]}
    yield from _claim("run order", facts.plan.status, order <= met)


def _floor(floor: Floor, value: int) -> Breaches:
    if floor.value != value:
        text = f"is said to be {floor.value} in this plan, {value} is right."
        yield breach(6, floor.kind.value, text)
    if floor.floor < 0:
        yield breach(6, floor.kind.value, f"its floor is {floor.floor}, nothing is below zero.")
    if floor.floor > value:
        text = f"its floor lies {floor.floor - value} above what the plan has."
        yield breach(6, floor.kind.value, text)


def _buy(facts: Facts) -> Breaches:
    lots: dict[str, list[str]] = {}
    for cut_list in facts.plan.cut_lists:
        for stick in cut_list.sticks:
            if facts.stock[stick.stock].count is None:
                lots.setdefault(stick.stock, []).append(cut_list.lot)
    listed = Counter(line.stock for line in facts.plan.buy)
    for key in sorted(lots.keys() | listed.keys()):
        if listed[key] != (1 if key in lots else 0):
            yield breach(6, key, f"is in the buy list {listed[key]} times.")
    for line in facts.plan.buy:
        yield from _buy_line(facts, line, lots.get(line.stock, []))


def _buy_line(facts: Facts, line: BuyLine, lots: list[str]) -> Breaches:
    """`lots` has the lot of each stick to buy."""
    if line.count != len(lots):
        text = f"{line.count} sticks are to be bought, {len(lots)} are needed."
        yield breach(6, line.stock, text)
    price = facts.stock[line.stock].price_cents * len(lots)
    if line.price_cents != price:
        text = f"costs {price} cents to buy, the buy list says {line.price_cents}."
        yield breach(6, line.stock, text)
    if sorted(line.lots) != sorted(set(lots)):
        yield breach(6, line.stock, "is bought for other lots than are cut from it.")
    starts = [facts.slots[o.key].start_min for lot in lots for o in facts.of_lot(lot)]
    if starts and line.needed_by != facts.moment(min(starts)):
        text = f"is needed by {facts.moment(min(starts))}, not {line.needed_by}."
        yield breach(6, line.stock, text)
