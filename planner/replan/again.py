"""`replan`: from the plan that was issued and what happened since to the plan for the rest."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace

from planner.buying import release_minutes
from planner.changeovers import Mounts, changes
from planner.engines import Engines
from planner.errors import Finding, InputError, NoPlanError, Severity, input_error
from planner.held import Held, HeldWhy, Paused
from planner.hours import DAY_MIN, moment
from planner.operations import Given, make_operations
from planner.options import Options
from planner.orders import OrderLine
from planner.plan import plan_on
from planner.progress import Progress, State
from planner.records import Operation, Plan
from planner.replan.clock import Clock
from planner.replan.history import happened
from planner.replan.kept import Kept, keep_lots
from planner.replan.lines import Lines, begun_of, sort_lines
from planner.replan.paused import rests
from planner.replan.pins import Scene, place_pins
from planner.replan.scrap import Lost, Scrapped, made_again
from planner.shop import Mounted, Shop
from planner.standing import Standing, issued_at
from planner.stock import StockItem
from planner.wiping import oiled_items


def replan(
    issued: Plan,
    orders: Sequence[OrderLine],
    stock: Sequence[StockItem],
    shop: Shop,
    options: Options,
    progress: Sequence[Progress] = (),
    engines: Engines | None = None,
    scrapped: Sequence[Scrapped] = (),
) -> Plan:
    """Plan the rest of a week, from minute `options.start_min` of the issued plan on.

    `orders` are all of the week as they are wanted now, `stock` is what the week began with, and
    `shop` is the shop as it is now. The plan covers the same days as the issued one, done work
    included, so that it can be proved by itself. What was `scrapped` comes on top of the orders,
    as does what the issued plan has of it.

    Raises InputError for progress that cannot be, or a shop that cannot go on with what has
    begun; NoPlanError where held work leaves no plan.
    """
    options = _options(issued, options)
    lost = made_again(orders, issued, scrapped)
    clock = Clock(shop, options.start, options.days)
    history = happened(issued, clock, options.start_min, progress)
    past, paused = history.held, history.paused
    parts = (*history.resumed, *paused.values())
    firm = {*past, *paused, *_asked(progress), *(one.operation for one in lost.scrap)}
    stays = {one.lot for one in issued.operations if {one.key, one.lot} & firm}
    lines = _lines(issued, lost, firm, stays, options)
    kept = keep_lots(issued, lines, stays, stock, shop)
    operations = _operations(kept, lines, shop, options, paused)
    _check_past((*past.values(), *parts), operations)
    slots = {slot.operation: slot for slot in issued.slots}
    scene = Scene(shop, clock, options.start_min, slots, operations, past)
    pins = place_pins(scene, progress)
    mounted, parts = _mounted(scene, parts)
    standing = _standing(issued, lines, kept, scene, pins)
    standing = replace(
        standing,
        mounted=mounted,
        scrap=lost.scrap,
        paused=parts[len(history.resumed) :],
        resumed=parts[: len(history.resumed)],
        findings=(*lost.told(lines.remade), *history.guessed, *standing.findings),
    )
    try:
        return plan_on(standing, lines.orders, kept.stock, shop, options, engines or Engines())
    except NoPlanError as problem:
        raise NoPlanError([_in_words(f, pins, clock) for f in problem.findings]) from problem


def _standing(
    issued: Plan, lines: Lines, kept: Kept, scene: Scene, pins: Mapping[str, Held]
) -> Standing:
    slots = scene.slots
    return Standing(
        lots=kept.lots,
        cut_lists=kept.cut_lists,
        blanks=kept.blanks,
        operations=tuple(scene.operations.values()),
        held={**scene.past, **pins},
        issued={key: issued_at(slots[key]) for key in scene.operations if key in slots},
        first_lot=1 + max(_number(lot.key) for lot in issued.lots),
        findings=(*lines.findings, *kept.findings),
    )


def _options(issued: Plan, options: Options) -> Options:
    """The same first day, so that minutes mean the same, and as many days from now on."""
    first = issued.options.start_min
    if options.start_min < first:
        words = Clock(issued.shop, issued.options.start, issued.options.days).words
        begins, now = words(first), words(options.start_min)
        if issued.replan:
            text = f"The plan was issued at {begins}, after the time given as now, {now}: give a"
            raise input_error(f"{text} later time.")
        raise input_error(
            f"The plan that was issued begins nothing before {begins}, and is to be planned again "
            f"at {now}: give {begins} or later as now, or plan the week afresh from {now} on."
        )
    days = max(issued.options.days, options.days + options.start_min // DAY_MIN)
    return options.model_copy(update={"start": issued.options.start, "days": days})


def _asked(progress: Sequence[Progress]) -> set[str]:
    """Operations that the planner locks or pins."""
    wanted = (State.LOCK, State.PIN)
    return {key for row in progress if row.state in wanted for key in row.operations}


def _lines(
    issued: Plan,
    lost: Lost,
    firm: set[str],
    stays: set[str],
    options: Options,
) -> Lines:
    touched = {
        operation.line
        for operation in issued.operations
        if operation.line is not None and operation.key in firm
    }
    far = moment(options.days * DAY_MIN - 1, options.start)
    begun = begun_of(issued, stays, touched, far, lost.since)
    return sort_lines(issued, lost.orders, begun)


def _operations(
    kept: Kept, lines: Lines, shop: Shop, options: Options, paused: Mapping[str, Paused]
) -> dict[str, Operation]:
    """The operations of the lots that stay, as the shop does them now; of those that stand still
    what is left."""
    orders = {line.key: line for line in lines.orders}
    made: dict[str, Operation] = {}
    for lot, cut_list in zip(kept.lots, kept.cut_lists, strict=True):
        there = release_minutes(kept.stock, options.start, lot.ordered_day)
        given = Given(shop, orders, kept.blanks, there, oiled_items(kept.stock))
        whole = make_operations(given, [lot], [cut_list])
        made |= {one.key: one for one in rests(whole, paused)}
    return made


def _check_past(past: Sequence[Held | Paused], operations: Mapping[str, Operation]) -> None:
    """Raise InputError where the shop has no way any more to do what has begun."""
    wrong = [
        Finding(
            severity=Severity.ERROR,
            message=f"{held.operation} has begun on {held.station}, but the shop as it is now does "
            "not do it there: put the station, its range and the recipe back as they were.",
            subject=held.operation,
        )
        for held in past
        if held.station not in _stations(operations.get(held.operation))
    ]
    if wrong:
        raise InputError(wrong)


def _stations(operation: Operation | None) -> set[str]:
    return {way.station for way in operation.alternatives} if operation else set()


def _mounted(
    scene: Scene, parts: Sequence[Paused]
) -> tuple[tuple[Mounted, ...], tuple[Paused, ...]]:
    """What stands on the stations after the work and the parts that are done; the parts with what
    was changed for them, in their order."""
    mounts = Mounts(scene.shop)
    changed: dict[Paused, Paused] = {}
    done: list[Held | Paused] = [h for h in scene.past.values() if h.why is HeldWhy.DONE]
    for one in sorted([*done, *parts], key=lambda one: (one.setup_start_min, one.start_min)):
        station = scene.shop.station(one.station)
        state = scene.operations[one.operation].at(one.station).state
        if isinstance(one, Paused):
            for_it = changes(mounts.before(station), state, station, scene.shop)
            changed[one] = one.model_copy(update={"changes": for_it})
        mounts.mount(station, state)
    return mounts.rows(), tuple(changed[part] for part in parts)


def _number(lot: str) -> int:
    """The number in a lot's key, such as 7 in `L07`."""
    return int("".join(letter for letter in lot if letter.isdigit()) or 0)


def _in_words(finding: Finding, pins: Mapping[str, Held], clock: Clock) -> Finding:
    """A refusal of the run order about something held, as the planner would say it."""
    held = pins.get(finding.subject or "")
    if held is None:
        return finding
    where = f" on {held.station}" if held.station else ""
    message = (
        f"{held.operation} is {held.why.value} to {clock.words(held.start_min)} – "
        f"{clock.words(held.end_min)}{where}, but what is before it does not let it end in time: "
        "unlock it, or pin it later."
    )
    return finding.model_copy(update={"message": message})
