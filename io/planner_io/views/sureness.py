"""How sure the plan is: chances of order lines, and the likely minutes of changeovers."""

from __future__ import annotations

from dataclasses import dataclass
from math import hypot

from planner.confidence import EVEN, factor_at
from planner.hours import duration, usual_spans, when, worked_between
from planner.orders import OrderLine
from planner.records import Plan
from planner.uncertainty import LikelyMinutes, LineChance
from planner_io.views.index import Index
from planner_io.views.ruler import plural
from planner_io.views.waits import Waits

UNSURE = 0.8
"""Lines with a smaller chance to be on time are listed, though the plan has them on time."""


@dataclass(frozen=True)
class UnsureRow:
    """An order line that the plan has on time and many simulated weeks have not."""

    order: OrderLine
    chance: str
    due: str
    spare: str
    """Working time between its planned end and its due time, in words."""
    likely: str
    """When it is done in 80 % of the simulated weeks, from and to."""
    waits: str
    """Who it waits for where it is not done in time, in words; empty where that is nobody."""


def chances(index: Index) -> dict[str, str]:
    """Each order line's chance to be on time, in words; empty where nobody simulated the plan."""
    risk = index.plan.risk
    return {line.line: share(line.chance) for line in risk.lines} if risk else {}


def share(chance: float) -> str:
    """A chance in whole per cent that never says certain of what is not.

    >>> share(0.637), share(0.9991), share(1.0), share(0.0004)
    ('64 %', 'over 99 %', '100 %', 'under 1 %')
    """
    if 0 < chance < 0.01:
        return "under 1 %"
    return "over 99 %" if 0.99 < chance < 1 else f"{100 * chance:.0f} %"


def unsure_rows(index: Index) -> tuple[UnsureRow, ...]:
    """Lines on time in the plan but in fewer than `UNSURE` of the weeks, in whole per cent as they
    are told, the least sure first."""
    risk = index.plan.risk
    if risk is None:
        return ()
    unsure = (line for line in risk.lines if round(line.chance, 2) < UNSURE)
    found = [line for line in unsure if line.line not in index.late]
    found.sort(key=lambda line: (line.chance, line.line))
    spare, waits = spare_minutes(index), Waits(index)
    return tuple(
        _row(index, line, spare[line.line], waits.words(line.line, line.high_min)) for line in found
    )


def _row(index: Index, line: LineChance, spare_min: int, wait: str) -> UnsureRow:
    order = index.orders[line.line]
    low, high = index.moment(line.low_min), index.moment(line.high_min)
    likely = f"{when(low)} to {when(high)}"
    spare = f"{duration(spare_min)} to spare"
    return UnsureRow(order, share(line.chance), when(order.due), spare, likely, wait)


def spare_minutes(index: Index) -> dict[str, int]:
    """Of each order line that is on time, the worked minutes from its end to its due time."""
    usual = usual_spans(index.plan.shop, index.start, index.plan.options.days)
    return {
        done.line: worked_between(usual, done.done_min, done.due_min)
        for done in index.plan.done
        if done.line not in index.late
    }


def likely_changeover(index: Index) -> str:
    """The likely minutes of changeovers in a sentence; empty where nobody simulated the plan."""
    risk = index.plan.risk
    if risk is None:
        return ""
    low, high = duration(risk.changeover_low_min), duration(risk.changeover_high_min)
    basis = "" if _is_logged(index.plan) else ", whose spreads are common practice"
    room = room_words(index.plan)
    return (
        f"Changeovers will likely take {low} to {high} in all: so it is in 80 % of "
        f"{risk.weeks:,} simulated weeks{basis}.{room and f' The plan has {room}.'}"
    )


def room_words(plan: Plan) -> str:
    """What minutes a plan at a chosen confidence has; empty for one at even odds."""
    asked = plan.options.confidence
    if asked == EVEN:
        return ""
    return (
        f"minutes that {asked} of 100 runs and changeovers keep (--confidence {asked}), more than "
        "they mostly take"
    )


def unsure_note(plan: Plan) -> str:
    """Why lines that the plan has on time may be late, and how to plan with more room."""
    risk = plan.risk
    if risk is None:
        return ""
    words = (
        f"nothing is late in {share(risk.all_on_time)} of {risk.weeks:,} simulated weeks",
        spreads_rest_on(plan),
        more_room(plan),
    )
    return " ".join(f"{each[0].upper()}{each[1:]}." for each in words if each)


def more_room(plan: Plan) -> str:
    """What a planner may do for lines that are not sure; empty where it is done already."""
    return "" if room_words(plan) else "planned with --confidence 80 the week has more room"


def spreads_rest_on(plan: Plan) -> str:
    """What the spreads of the simulated weeks rest on; empty where runs are logged."""
    if plan.risk is None or _is_logged(plan):
        return ""
    far = factor_at(90, max(hypot(it.run, it.run_shared) for it in plan.risk.spreads))
    return (
        f"no run is logged, so any run may take {100 - 100 / far:.0f} % less to "
        f"{100 * far - 100:.0f} % more (80 % of cases, by common practice)"
    )


def _is_logged(plan: Plan) -> bool:
    return any(likely.runs for likely in plan.likely)


def likely_minutes(index: Index) -> dict[str, str]:
    """How long each open pass is likely to take, by operation."""
    return {likely.operation: likely_words(likely) for likely in index.plan.likely}


def likely_words(likely: LikelyMinutes) -> str:
    """The likely minutes of a pass in words.

    >>> likely_words(
    ...     LikelyMinutes(operation="L1.P1", low_min=15, median_min=18, high_min=22, runs=14)
    ... )
    'about 18 min, 80 % between 15 and 22, from 14 runs'
    """
    basis = f"from {plural(likely.runs, 'run')}" if likely.runs else "no run on this belt logged"
    return (
        f"about {likely.median_min} min, 80 % between {likely.low_min} and {likely.high_min}, "
        f"{basis}"
    )
