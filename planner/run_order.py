"""From operations to the problem of the run order, as the schedule engine is asked it."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace

from planner import schedule
from planner.changeovers import Mounts, change_minutes, is_longest
from planner.held import Held, HeldWhy
from planner.hours import DAY_MIN, ahead_of, usual_spans, working
from planner.operations import finals
from planner.options import Options
from planner.orders import OrderLine, Step
from planner.records import Lot, Operation
from planner.shop import Shop, Station, What
from planner.standing import NOTHING, Standing

AGAIN = (
    {schedule.Term.VIOLATION: 1},
    {
        schedule.Term.LATENESS: 2,
        schedule.Term.CHANGEOVER: 1,
        schedule.Term.OVERTIME: 1,
        schedule.Term.DISTURBANCE: 1,
    },
    schedule.LEXICOGRAPHIC[-1],
)
"""What counts in a week that is planned again: the papers are out, so a few minutes of lateness
do not turn the floor upside down. A minute late counts as two of changeover, so that an
operation moves where that saves 15 minutes of lateness or 30 of changeover."""
SPENT = 100
"""Tightness of a line that ends just when it is due."""
NAMED = 2
"""Order lines of a lot that its operations are called by."""
NOTHING_MOUNTED = ""
"""What the engine takes as mounted where the shop does not say."""


def run_order_problem(
    shop: Shop,
    lots: Sequence[Lot],
    operations: Sequence[Operation],
    orders: Mapping[str, OrderLine],
    due_min: Mapping[str, int],
    options: Options,
    standing: Standing = NOTHING,
) -> schedule.Problem:
    """The engine's problem: stations, people and hours of the shop, operations, due dates, and
    what stays where it is."""
    lines = {lot.key: lot.lines for lot in lots}
    return schedule.Problem(
        stations=tuple(
            schedule.Station(
                station.name, base=_base_key(station), hours=_hours(shop, station.name, options)
            )
            for station in shop.stations
        ),
        operations=tuple(
            _with_standing(
                _operation(shop, operation, options, lines[operation.lot]), shop, options, standing
            )
            for operation in operations
        ),
        bases=tuple(_bases(standing.shop_now(shop), operations)),
        arcs=tuple(
            schedule.Arc(before, operation.key, holding=1)
            for operation in operations
            for before in operation.after
        ),
        jobs=tuple(_jobs(finals(lots, operations), orders, due_min, shop, options)),
        people=tuple(
            schedule.Person(person.name, person.stations, _hours(shop, person.name, options))
            for person in shop.people
        ),
        horizon_min=options.days * DAY_MIN,
        levels=_levels(shop, AGAIN if standing.lots else schedule.LEXICOGRAPHIC),
    )


def _levels(shop: Shop, levels: schedule.Levels) -> schedule.Levels:
    """The levels, with time to spare weighed against changeovers where the shop wants that."""
    worth = shop.house.spare_worth_min
    if not worth:
        return levels
    return tuple(
        {term: SPENT * weight for term, weight in level.items()} | {schedule.Term.TIGHTNESS: worth}
        if schedule.Term.CHANGEOVER in level
        else level
        for level in levels
    )


def _jobs(
    finals_of: Mapping[str, str],
    orders: Mapping[str, OrderLine],
    due_min: Mapping[str, int],
    shop: Shop,
    options: Options,
) -> Iterator[schedule.Job]:
    """Order lines with their due times, and the time to spare that the shop wants before them."""
    usual, spare_min = usual_spans(shop, options.start, options.days), shop.house.spare_min
    for key, final in finals_of.items():
        due = due_min[key]
        aim = ahead_of(usual, due, spare_min) if spare_min else None
        yield schedule.Job(key, due, (final,), orders[key].weight, spare_min, aim)


def _with_standing(
    operation: schedule.Operation, shop: Shop, options: Options, standing: Standing
) -> schedule.Operation:
    """The operation with where it was issued, or held where it must stay."""
    held, issued = standing.held.get(operation.key), standing.issued.get(operation.key)
    if held:
        return _held(operation, held, shop, options)
    if issued:
        told = schedule.Issued(
            issued.station, issued.start_min, options.move_charge_min, issued.setup_start_min
        )
        return replace(operation, issued=told)
    return operation


def _held(
    operation: schedule.Operation, held: Held, shop: Shop, options: Options
) -> schedule.Operation:
    """Done and started work has its times. What is locked or pinned has a window that only its
    own times fit, so that its changeover still finds its place within hours."""
    known = {person.name for person in shop.people}
    people = tuple(name for name in held.people if name in known)
    if held.why in (HeldWhy.DONE, HeldWhy.STARTED):
        done = held.why is HeldWhy.DONE
        gone = not shop.station(held.station).is_attended and _is_set_up(held, options)
        who = () if done or gone else people
        times = schedule.Fixed(held.start_min, held.end_min, held.station, who, done)
        told = schedule.Issued(held.station, held.start_min, 0, held.setup_start_min)
        return replace(operation, fixed=times, issued=told, release_min=0)
    return replace(
        operation,
        alternatives=tuple(
            replace(way, who=people)
            for way in operation.alternatives
            if held.station in ("", way.station)
        ),
        release_min=max(operation.release_min, held.start_min, options.start_min),
        latest_end_min=held.end_min,
    )


def _is_set_up(held: Held, options: Options) -> bool:
    """Whether the changeover of started work is over, so that a station that runs by itself
    has let its people go."""
    return held.start_min <= options.start_min


def attribute(station: Station, what: What) -> str:
    """Name of an attribute on its base: every station remembers its own, the base remembers
    which attachment is on."""
    return what.value if what is What.ATTACHMENT else f"{station.name}|{what.value}"


def _hours(shop: Shop, who: str, options: Options) -> tuple[schedule.Interval, ...]:
    return tuple(
        schedule.Interval(
            max(interval.start_min, options.start_min), interval.end_min, int(interval.overtime)
        )
        for interval in working(shop, who, options.start, options.days)
        if interval.end_min > options.start_min
    )


def _base_key(station: Station) -> str:
    return f"base {station.base}" if station.base else station.name


def _operation(
    shop: Shop, operation: Operation, options: Options, lines: Sequence[str]
) -> schedule.Operation:
    return schedule.Operation(
        operation.key,
        tuple(
            schedule.Alternative(
                way.station,
                way.minutes,
                crew=way.people,
                attended_min=None if shop.station(way.station).is_attended else 0,
                needs={
                    attribute(shop.station(way.station), what): value
                    for what, value in way.state.items()
                },
            )
            for way in operation.alternatives
        ),
        release_min=max(operation.release_min, options.start_min),
        name=_called(operation, lines),
    )


def _called(operation: Operation, lines: Sequence[str]) -> str:
    """What an operation is to a planner who has no papers yet: the step, the lot, order lines."""
    what = operation.step.value
    if operation.step is Step.FINISH:
        what = f"pass {operation.pass_no}"
    of = lines if operation.line is None else (operation.line,)
    more = f" and {len(of) - NAMED} more" if len(of) > NAMED else ""
    return f"{what} of lot {operation.lot} ({', '.join(of[:NAMED])}{more})"


def _bases(shop: Shop, operations: Sequence[Operation]) -> Iterator[schedule.Base]:
    values = _values(operations)
    stations: dict[str, list[Station]] = defaultdict(list)
    for station in shop.stations:
        stations[_base_key(station)].append(station)
    mounts = Mounts(shop)
    for key, group in stations.items():
        longest = any(is_longest(shop, station) for station in group)
        rules: dict[str, schedule.Rule] = {}
        mounted: dict[str, str] = {}
        for station in group:
            before = mounts.before(station)
            for what, found in values[station.name].items():
                name = attribute(station, what)
                rules[name] = _merged(rules.get(name), _rule(shop, station, what, found))
                mounted[name] = before.get(what, NOTHING_MOUNTED)
        yield schedule.Base(
            key,
            rules=tuple(rules.values()),
            combine=schedule.Combine.LONGEST if longest else schedule.Combine.SUM,
            mounted=mounted,
        )


def _values(operations: Sequence[Operation]) -> dict[str, dict[What, dict[str, None]]]:
    """By station and kind of change, every value that anything needs, in a stable order."""
    values: dict[str, dict[What, dict[str, None]]] = defaultdict(lambda: defaultdict(dict))
    for operation in operations:
        for way in operation.alternatives:
            for what, value in way.state.items():
                values[way.station][what][value] = None
    return values


def _rule(shop: Shop, station: Station, what: What, found: Mapping[str, None]) -> schedule.Rule:
    before: dict[str, None] = {NOTHING_MOUNTED: None, **found}
    mounted = Mounts(shop).before(station).get(what, NOTHING_MOUNTED)
    before[mounted] = None
    if what is What.ATTACHMENT:
        before |= dict.fromkeys(s.name for s in shop.stations if s.base == station.base)
    from_to = {
        (old, new): change_minutes(shop, station, what, old or None, new)
        for old in before
        for new in found
        if old != new
    }
    return schedule.Rule(attribute(station, what), max(from_to.values(), default=0), from_to)


def _merged(old: schedule.Rule | None, new: schedule.Rule) -> schedule.Rule:
    """One rule for an attribute that several stations of a base share."""
    if old is None:
        return new
    return schedule.Rule(
        new.attribute, max(old.minutes, new.minutes), {**old.from_to, **new.from_to}
    )
