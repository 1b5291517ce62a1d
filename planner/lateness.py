"""Order lines that end after they are due: what held each, and what would make it on time."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from datetime import date

from planner.hours import clock, day_name, duration, how_late, moment, when_minute
from planner.orders import OrderLine
from planner.records import LateLine, LineDone
from planner.schedule import Ahead, Behind, LateJob, Overtime, Remedy

MOST_HARMED = 2
"""Other lines that a sentence names."""


def late_lines(
    lines: Mapping[str, OrderLine], done: Sequence[LineDone], late: Sequence[LateJob], start: date
) -> tuple[LateLine, ...]:
    """The latest first."""
    jobs = {each.job: each for each in late}
    found = [
        LateLine(
            line=line.line,
            due=lines[line.line].due,
            done=moment(line.done_min, start),
            late_min=line.done_min - line.due_min,
            chain=jobs[line.line].chain if line.line in jobs else (),
            reason=_reason(line, jobs.get(line.line), start),
        )
        for line in done
        if line.done_min > line.due_min
    ]
    return tuple(sorted(found, key=lambda each: (-each.late_min, each.line)))


def _reason(line: LineDone, job: LateJob | None, start: date) -> str:
    told = ["due before the week begins"] if line.due_min <= 0 else []
    return "; ".join([*told, *([_sentence(job, start)] if job else [])])


def _sentence(job: LateJob, start: date) -> str:
    offers = "; or ".join(_words(remedy, start) for remedy in job.remedies)
    if job.unavoidable_min:
        alone = f"at least {how_late(job.unavoidable_min)} late even with the shop to itself"
        return f"{alone}, in these hours; on time with {offers}" if offers else alone
    if offers:
        return offers
    if job.first_late_min:
        return f"{how_late(job.first_late_min)} late even ahead of all other work"
    return "no single move or stretch of overtime makes it on time"


def _words(remedy: Remedy, start: date) -> str:
    match remedy:
        case Behind():
            return f"do {remedy.operation} after {remedy.behind}: no other line pays for it"
        case Overtime():
            long, where = duration(remedy.minutes), " and ".join(remedy.stations)
            first, who = moment(remedy.from_min, start), _who_stays(remedy)
            if remedy.daily:
                return f"{long} of overtime a day on {where}{who}, from {day_name(first)} on"
            at = f"{day_name(first)} from {clock(remedy.from_min)}"
            return f"{long} of overtime on {where}{who}, {at}"
        case Ahead():
            by = when_minute(remedy.start_min, start)
            return f"start it by {by}, before {remedy.before}{_price(remedy.harmed)}"


def _who_stays(overtime: Overtime) -> str:
    """For whom it is overtime, as the continuation of a sentence."""
    if overtime.people is None:
        return f" and for whoever runs {'it' if len(overtime.stations) == 1 else 'them'}"
    if not overtime.people:
        return ", where nobody has to stay"
    *others, last = overtime.people
    return f" and for {', '.join(others)} and {last}" if others else f" and for {last}"


def _price(harmed: Sequence[tuple[str, int]]) -> str:
    """What other lines pay."""
    if not harmed:
        return ": no other line pays for it"
    named = ", ".join(f"{line} by {how_late(late)}" for line, late in harmed[:MOST_HARMED])
    more = len(harmed) - MOST_HARMED
    rest = f" and {more} more" if more > 0 else ""
    return f", which delays {named}{rest}"
