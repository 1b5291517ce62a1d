"""Before the invariants, too: every list of the plan is in the order in which it is told."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Sequence
from datetime import date

from planner.audit.facts import Breaches, Facts, breach
from planner.records import FloorKind
from planner.shop import What

Listed = tuple[str, Sequence[str], Sequence[str]]
"""What is listed, as it stands there, and as it should."""


def check_listed(facts: Facts) -> Breaches:
    """Lists that have what they should have, but in another order."""
    for what, said, right in (*_work(facts), *_told(facts)):
        if list(said) != list(right) and Counter(said) == Counter(right):
            at = next(n for n, pair in enumerate(zip(said, right, strict=True)) if len({*pair}) > 1)
            text = f"are not in their order: {said[at]} stands where {right[at]} should."
            yield breach(0, what, text)


def _work(facts: Facts) -> Iterator[Listed]:
    """What is done: by the orders, the lots, or stations and time."""
    plan, lots = facts.plan, list(facts.lots)
    stations = list(facts.stations)
    lines = [line for lot in plan.lots for line in lot.lines]
    by_lot = sorted(plan.operations, key=lambda one: lots.index(one.lot))
    by_place = sorted(plan.slots, key=lambda one: (stations.index(one.station), one.start_min))
    yield "blanks", [one.line for one in plan.blanks], list(facts.orders)
    yield "cut lists", [one.lot for one in plan.cut_lists], lots
    yield "operations", [one.key for one in plan.operations], [one.key for one in by_lot]
    yield "slots", [one.operation for one in plan.slots], [one.operation for one in by_place]
    yield "completions", [one.line for one in plan.done], lines


def _told(facts: Facts) -> Iterator[Listed]:
    """What is told: the latest first, and as it stands in the stock and the shop."""
    plan = facts.plan
    late = sorted(plan.late, key=lambda one: (-one.late_min, one.line))
    bought = {one.stock for one in plan.buy}
    stations = (*(one.station for one in plan.slots), *(one.station for one in facts.parts))
    places = list(dict.fromkeys(stations))
    kinds = list(What)

    def of_ledger(row: tuple[str, date, What]) -> tuple[int, date, int]:
        return places.index(row[0]), row[1], kinds.index(row[2])

    rows = [(one.station, one.day, one.what) for one in plan.ledger if one.station in places]
    yield "late lines", [one.line for one in plan.late], [one.line for one in late]
    yield (
        "lines to buy",
        [one.stock for one in plan.buy],
        [item.key for item in plan.stock if item.key in bought],
    )
    by_place = sorted(rows, key=of_ledger)
    yield "ledger rows", list(map(_words, rows)), list(map(_words, by_place))
    yield "floors", [one.kind for one in plan.floors], list(FloorKind)


def _words(row: tuple[str, date, What]) -> str:
    station, day, what = row
    return f"{what.value} at {station} on {day}"
