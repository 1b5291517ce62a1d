"""Invariant 2, at the stations: each piece of work is where it can be done, with what it needs."""

from __future__ import annotations

from collections import Counter
from collections.abc import Mapping

from planner.audit.facts import Breaches, Facts, breach
from planner.orders import Step
from planner.records import Lot, Operation
from planner.shop import KIND_OF_STEP, Station, Tool, ToolKind, What
from planner.units import NM_PER_MM


def check_stations(facts: Facts) -> Breaches:
    """Work at a station of the wrong kind or range, or with the wrong things mounted."""
    for operation in facts.plan.operations:
        for way in operation.alternatives:
            yield from _way(facts, operation, facts.stations[way.station], way.state)
    yield from _saddles(facts)


def _way(
    facts: Facts, operation: Operation, station: Station, state: Mapping[What, str]
) -> Breaches:
    lot = facts.lots[operation.lot]
    if station.kind != KIND_OF_STEP[operation.step]:
        yield breach(2, operation.key, f"{station.name} is a {station.kind.value}.")
        return
    yield from _range(facts, operation, lot, station)
    if station.base and state.get(What.ATTACHMENT) != station.name:
        yield breach(2, operation.key, f"does not ask for {station.name} on {station.base}.")
    yield from _mounted(facts, operation, lot, station, state)


def _mounted(
    facts: Facts, operation: Operation, lot: Lot, station: Station, state: Mapping[What, str]
) -> Breaches:
    """The things that its kind of work needs mounted are, and are the right ones."""
    match operation.step:
        case Step.FINISH:
            return _finish(facts, operation, lot, station, state)
        case Step.SAW:
            return _od(operation, lot, state)
        case Step.NOTCH:
            return _notch(facts, operation, lot, station, state)
        case Step.BEND:
            return _bend(facts, operation, lot, station, state)
        case Step.TOUCH_UP:
            return iter(())


def _saddles(facts: Facts) -> Breaches:
    """Each of a line's saddles is cut by one of its notches."""
    cut = Counter[tuple[str | None, int]]()
    for operation in facts.plan.operations:
        if operation.step is Step.NOTCH:
            station = facts.stations[facts.slots[operation.key].station]
            saddles = saddles_cut(facts, operation, station, operation.at(station.name).state)
            cut.update((operation.line, od_nm) for od_nm in saddles)
    for blank in facts.plan.blanks:
        for od_nm in sorted(set(blank.saddles_nm)):
            times = cut[blank.line, od_nm]
            if times != 1:
                text = f"its saddles for OD {od_nm} nm are cut {times} times, once is right."
                yield breach(2, blank.line, text)


def _range(facts: Facts, operation: Operation, lot: Lot, station: Station) -> Breaches:
    if not station.od_min_nm <= lot.spec.od_nm <= station.od_max_nm:
        yield breach(2, operation.key, f"its OD is outside the range of {station.name}.")
    longest = longest_nm(facts, operation, lot)
    limits = [station.longest_nm]
    if operation.step == Step.FINISH:
        limits.append(station.finisher.longest_nm)
    for limit in limits:
        if limit is not None and longest > limit:
            over = (longest - limit) / NM_PER_MM
            yield breach(2, operation.key, f"is {over:.1f} mm too long for {station.name}.")


def longest_nm(facts: Facts, operation: Operation, lot: Lot) -> int:
    """The longest thing that the operation handles: a stick, or a blank."""
    sticks = facts.cut_lists[lot.key].sticks
    if operation.line is not None:
        return facts.blanks[operation.line].length_nm
    if operation.step == Step.FINISH and lot.saw_first:
        return max(facts.blanks[key].length_nm for key in lot.lines)
    if operation.step == Step.FINISH:
        return max((stick.length_nm for stick in sticks if not stick.finished), default=0)
    return max(stick.length_nm for stick in sticks)


def _od(operation: Operation, lot: Lot, state: Mapping[What, str]) -> Breaches:
    if state.get(What.OD) != str(lot.spec.od_nm):
        yield breach(2, operation.key, f"is set up for OD {state.get(What.OD)} nm, not its own.")


def _finish(
    facts: Facts, operation: Operation, lot: Lot, station: Station, state: Mapping[What, str]
) -> Breaches:
    yield from _od(operation, lot, state)
    if state.get(What.BELT) != operation.belt:
        yield breach(2, operation.key, f"mounts {state.get(What.BELT)}, not {operation.belt}.")
    if state.get(What.FAMILY) != lot.spec.family:
        yield breach(2, operation.key, f"{station.name} is not clean for {lot.spec.family.value}.")
    rails = {rail.name for rail in facts.shop.rails if lot.spec.family in rail.families}
    rail = state.get(What.RAIL)
    if (rails and rail not in rails) or (not rails and rail is not None):
        yield breach(2, operation.key, f"{lot.spec.family.value} must not slide on rail {rail}.")


def _notch(
    facts: Facts, operation: Operation, lot: Lot, station: Station, state: Mapping[What, str]
) -> Breaches:
    yield from _od(operation, lot, state)
    if not saddles_cut(facts, operation, station, state):
        text = "has no cutter or roller mounted for a saddle that the part has."
        yield breach(2, operation.key, text)


def saddles_cut(
    facts: Facts, operation: Operation, station: Station, state: Mapping[What, str]
) -> set[int]:
    """ODs of the line's saddles that the mounted cutter or roller is for, nm."""
    saddles = set(facts.blanks[operation.line or ""].saddles_nm)
    kinds = ((What.CUTTER, ToolKind.CUTTER), (What.ROLLER, ToolKind.ROLLER))
    cut = set[int]()
    for what, kind in kinds:
        if what not in state:
            continue
        tool = _tool(facts, station, kind, state[what])
        cut |= {tool.od_nm} if tool else {od for od in saddles if str(od) == state[what]}
    return cut & saddles


def _tool(facts: Facts, station: Station, kind: ToolKind, name: str) -> Tool | None:
    for tool in facts.shop.tools:
        if (tool.station, tool.kind, tool.name) == (station.name, kind, name):
            return tool
    return None


def _bend(
    facts: Facts, operation: Operation, lot: Lot, station: Station, state: Mapping[What, str]
) -> Breaches:
    die = _tool(facts, station, ToolKind.DIE, state.get(What.DIE, ""))
    blank = facts.blanks[operation.line or ""]
    if die is None:
        yield breach(2, operation.key, f"die {state.get(What.DIE)} does not fit {station.name}.")
    elif (die.od_nm, die.clr_nm) != (lot.spec.od_nm, blank.clr_nm):
        yield breach(2, operation.key, f"die {die.name} is for another OD or radius.")
