"""The week in a few figures, for the cover."""

from __future__ import annotations

from dataclasses import dataclass

from planner.errors import Severity
from planner.hours import DAY_MIN, day_name, duration, how_late
from planner.records import FloorKind
from planner_io.views.accounts import difference
from planner_io.views.floors import is_proven
from planner_io.views.index import Index
from planner_io.views.left_out import unread_rows
from planner_io.views.lists import to_buy
from planner_io.views.ruler import per_cent, plural
from planner_io.views.sureness import share


@dataclass(frozen=True)
class Figure:
    """A number, what it is, and a word more; trouble is printed in red with its word."""

    number: str
    name: str
    more: str = ""
    trouble: bool = False


@dataclass(frozen=True)
class Summary:
    """What the cover says above the timeline."""

    shop: str
    week: str
    dates: str
    figures: tuple[Figure, ...]


def summary(index: Index) -> Summary:
    """The figures of a plan."""
    return Summary(
        shop=index.plan.shop.house.name,
        week=index.week_name,
        dates=dates(index),
        figures=(
            _lines(index),
            _late(index),
            _changeovers(index),
            _sticks(index),
            _problems(index),
        ),
    )


def dates(index: Index) -> str:
    """First and last day on which something is done."""
    last = max((slot.end_min - 1 for slot in index.plan.slots), default=0) // DAY_MIN
    first, end = day_name(index.start), index.day(last)
    return f"{first} to {day_name(end)} {end.year}" if last else f"{first} {end.year}"


def _lines(index: Index) -> Figure:
    pieces = sum(line.quantity for line in index.plan.orders)
    left_out = len(index.plan.refused) + len(unread_rows(index.plan))
    more = plural(pieces, "piece") + (f", {left_out} left out" if left_out else "")
    lines = len(index.plan.orders)
    name = "order line planned" if lines == 1 else "order lines planned"
    return Figure(str(lines), name, more, left_out > 0)


def _late(index: Index) -> Figure:
    if not index.plan.late:
        return Figure("0", "late", ", ".join(["every line on time", *_in_weeks(index)]))
    worst = max(row.late_min for row in index.plan.late)
    return Figure(str(len(index.plan.late)), "LATE", f"the latest by {how_late(worst)}", True)


def _in_weeks(index: Index) -> list[str]:
    """In how many simulated weeks that holds, unless in all of them or nobody simulated any."""
    risk = index.plan.risk
    if risk is None or risk.all_on_time == 1:
        return []
    return [f"in {share(risk.all_on_time)} of the simulated weeks"]


def _changeovers(index: Index) -> Figure:
    total = sum(slot.setup_min for slot in index.plan.slots)
    floors = [f for f in index.plan.floors if f.kind == FloorKind.CHANGEOVER and is_proven(f)]
    more = [f"{duration(floors[0].floor)} at the least"] if floors else []
    found = difference(index.plan.yardsticks)
    if found and not found.minutes:
        more.append(f"as much as {found.baseline}")
    elif found and found.share is not None:
        more.append(f"{per_cent(abs(found.share))} {found.side} than {found.baseline}")
    return Figure(duration(total), "in changeovers", ", ".join(more))


def _sticks(index: Index) -> Figure:
    sticks = sum(len(cut_list.sticks) for cut_list in index.plan.cut_lists)
    bought = sum(row.count for row in to_buy(index))
    name = "stick" if sticks == 1 else "sticks"
    return Figure(str(sticks), name, f"{bought} to buy" if bought else "all in stock")


def _problems(index: Index) -> Figure:
    errors = sum(f.severity == Severity.ERROR for f in index.plan.findings)
    warnings = len(index.plan.findings) - errors
    if errors:
        more = plural(warnings, "warning") if warnings else ""
        return Figure(str(errors), "error" if errors == 1 else "errors", more, True)
    return Figure(str(warnings), "warning" if warnings == 1 else "warnings", "no row was refused")
