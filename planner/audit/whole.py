"""Before the invariants: every name in the plan means exactly one thing that is in the plan."""

from __future__ import annotations

from collections import Counter
from collections.abc import Collection, Iterable, Iterator

from planner.audit.facts import OF_THE_LOT, Breaches, breach
from planner.hours import DAY_MIN
from planner.orders import Step
from planner.records import Plan


def whole(plan: Plan) -> Breaches:
    """Names that are missing, unknown or used twice."""
    yield from _used_twice(plan)
    yield from _unknown_names(plan)
    yield from _missing(plan)
    yield from _silent(plan)
    yield from _out_of_days(plan)


def _used_twice(plan: Plan) -> Breaches:
    refused = [line.key for line in plan.refused]
    for what, keys in (
        ("order line", [line.key for line in plan.orders] + refused),
        ("blank of order line", [blank.line for blank in plan.blanks]),
        ("stock item", [item.key for item in plan.stock]),
        ("lot", [lot.key for lot in plan.lots]),
        ("order line in a lot", [key for lot in plan.lots for key in lot.lines]),
        ("cut list of lot", [cut_list.lot for cut_list in plan.cut_lists]),
        ("operation", [operation.key for operation in plan.operations]),
        ("slot of operation", [slot.operation for slot in plan.slots]),
        ("station", [station.name for station in plan.shop.stations]),
        ("person", [person.name for person in plan.shop.people]),
        ("recipe", [recipe.name for recipe in plan.shop.recipes]),
        ("belt", [belt.name for belt in plan.shop.belts]),
        ("rail", [rail.name for rail in plan.shop.rails]),
        ("completion of order line", [done.line for done in plan.done]),
        ("late row of order line", [late.line for late in plan.late]),
        ("yardstick", [one.name for one in plan.yardsticks]),
    ):
        yield from (
            breach(0, key, f"{what} is there {count} times, once is right.")
            for key, count in Counter(keys).items()
            if count > 1
        )


def _unknown_names(plan: Plan) -> Breaches:
    orders = {line.key for line in plan.orders}
    lots = {lot.key for lot in plan.lots}
    stations = {station.name for station in plan.shop.stations}
    recipes = {recipe.name for recipe in plan.shop.recipes}
    operations = {operation.key for operation in plan.operations}
    stock = {item.key for item in plan.stock}
    people = {person.name for person in plan.shop.people}
    for what, known, names in (
        ("order line", orders, _order_names(plan)),
        ("lot", lots, _lot_names(plan)),
        ("recipe", recipes, (lot.recipe for lot in plan.lots if lot.recipe is not None)),
        ("recipe", recipes, (line.recipe for line in plan.orders if line.recipe is not None)),
        ("stock item", stock, _stock_names(plan)),
        ("station", stations, _station_names(plan)),
        ("operation", operations, _operation_names(plan)),
        ("person", people, (name for slot in plan.slots for name in slot.people)),
    ):
        yield from _not_in(what, known, names)


def _not_in(what: str, known: Collection[str], names: Iterable[str]) -> Breaches:
    for name in sorted(set(names) - set(known)):
        yield breach(0, name, f"is named in the plan, but there is no {what} of that name.")


def _order_names(plan: Plan) -> Iterator[str]:
    yield from (blank.line for blank in plan.blanks)
    yield from (key for lot in plan.lots for key in lot.lines)
    yield from (operation.line for operation in plan.operations if operation.line is not None)
    yield from (done.line for done in plan.done)
    yield from (late.line for late in plan.late)
    for tried in plan.lots_tried:
        yield from (line for lines in tried.instead for line in lines)
    for cut_list in plan.cut_lists:
        yield from (piece.line for stick in cut_list.sticks for piece in stick.pieces)


def _lot_names(plan: Plan) -> Iterator[str]:
    yield from (cut_list.lot for cut_list in plan.cut_lists)
    yield from (operation.lot for operation in plan.operations)
    yield from (lot for tried in plan.lots_tried for lot in tried.lots)
    yield from (lot for merger in plan.mergers for lot in (merger.early, merger.late))


def _stock_names(plan: Plan) -> Iterator[str]:
    yield from (stick.stock for cut_list in plan.cut_lists for stick in cut_list.sticks)
    yield from (line.stock for line in plan.buy)


def _station_names(plan: Plan) -> Iterator[str]:
    yield from (slot.station for slot in plan.slots)
    yield from (row.station for row in plan.ledger)
    yield from (card.station for card in plan.cards)
    for operation in plan.operations:
        yield from (way.station for way in operation.alternatives)


def _operation_names(plan: Plan) -> Iterator[str]:
    yield from (slot.operation for slot in plan.slots)
    yield from (key for operation in plan.operations for key in operation.after)
    yield from (key for card in plan.cards for key in card.operations)


def _missing(plan: Plan) -> Breaches:
    orders = [line.key for line in plan.orders]
    lots = [lot.key for lot in plan.lots]
    in_lots = {key for lot in plan.lots for key in lot.lines}
    for what, keys, there in (
        ("blank", orders, {blank.line for blank in plan.blanks}),
        ("lot", orders, in_lots),
        ("completion", orders, {done.line for done in plan.done}),
        ("cut list", lots, {cut_list.lot for cut_list in plan.cut_lists}),
        ("operation", lots, {operation.lot for operation in plan.operations}),
        (
            "slot",
            [operation.key for operation in plan.operations],
            {slot.operation for slot in plan.slots},
        ),
    ):
        yield from (breach(0, key, f"has no {what}.") for key in keys if key not in there)
    if not plan.orders:
        yield breach(0, "plan", "has no order line.")
    yield from (breach(0, lot.key, "has no order line.") for lot in plan.lots if not lot.lines)
    yield from _impossible(plan)


def _silent(plan: Plan) -> Breaches:
    told = {finding.subject for finding in plan.findings}
    for line in plan.refused:
        if line.key not in told:
            yield breach(0, line.key, "is refused, and no finding says why.")


def _out_of_days(plan: Plan) -> Breaches:
    """Work on other days than those of the plan, whose hours would not be known."""
    days = range(plan.options.days * DAY_MIN + 1)
    for slot in plan.slots:
        pieces = (minute for piece in slot.pieces for minute in piece)
        changed = slot.setup_start_min + slot.setup_min
        times = (slot.setup_start_min, changed, slot.start_min, slot.end_min, *pieces)
        if any(minute not in days for minute in times):
            yield breach(0, slot.operation, f"is not within the plan's {plan.options.days} days.")


def _impossible(plan: Plan) -> Breaches:
    lines = {lot.key: lot.lines for lot in plan.lots}
    ways = {
        operation.key: {way.station for way in operation.alternatives}
        for operation in plan.operations
    }
    for operation in plan.operations:
        own = (None,) if operation.step in OF_THE_LOT else lines.get(operation.lot, ())
        if operation.line not in own:
            yield breach(
                0, operation.key, f"{operation.step.value} is no work of {operation.line}."
            )
        if len(ways[operation.key]) < len(operation.alternatives):
            yield breach(0, operation.key, "has two ways at one station.")
    for slot in plan.slots:
        if slot.station not in ways.get(slot.operation, {slot.station}):
            yield breach(0, slot.operation, f"is put on {slot.station}, which is none of its own.")
    for cut_list in plan.cut_lists:
        if not cut_list.sticks:
            yield breach(0, cut_list.lot, "its cut list has no stick.")
        for stick in cut_list.sticks:
            if not stick.pieces:
                yield breach(0, stick.tag, "is a stick of a cut list, and no piece is cut from it.")
    for blank in plan.blanks:
        if Step.SAW not in blank.steps or len(set(blank.steps)) < len(blank.steps):
            yield breach(0, blank.line, "its steps do not name the saw, or one of them twice.")
