"""What had begun when a week was planned again: it goes on, in a store of its own."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import replace
from datetime import datetime

from planner.held import Held, HeldWhy, Paused
from planner.hours import moment
from planner.records import Plan
from planner_io.taps import Stands, Tap, TapKind, counted, stands


def begun(plan: Plan, before: Iterable[Tap] = ()) -> tuple[Tap, ...]:
    """The taps that the floor need not make once more, on what had started or stands still.

    Those of `before`, which the store of the plan before kept, with their set-ups, pauses and
    people; where it has none that began as the plan says, those that follow from the plan.
    """
    tapped = counted(before)
    found = [
        tap
        for operation, by_plan in _by_plan(plan).items()
        for tap in _taps(by_plan, tapped.get(operation, []))
    ]
    return tuple(replace(tap, token=f"begun {n}") for n, tap in enumerate(found, start=1))


def is_known(plan: Plan, operation: str, now: Stands) -> bool:
    """Whether an operation is as the plan has it, so that it need not be told."""
    by_plan = _by_plan(plan).get(operation)
    if by_plan is None or now.done_at:
        return False
    was = stands(by_plan)[operation]
    if _minute(was.paused_at) != _minute(now.paused_at) or not _is_same_run(was, now):
        return False
    people = {one.operation: one.people for one in plan.replan.held} if plan.replan else {}
    return not now.who or set(now.who) == set(people.get(operation, now.who))


def _by_plan(plan: Plan) -> dict[str, list[Tap]]:
    """The taps that follow from the plan, by operation."""
    if plan.replan is None:
        return {}
    started = [one for one in plan.replan.held if one.why is HeldWhy.STARTED]
    taps = {one.operation: [_of_started(plan, one)] for one in started}
    return taps | {one.operation: _of_paused(plan, one) for one in plan.replan.paused}


def _taps(by_plan: list[Tap], tapped: list[Tap]) -> Iterator[Tap]:
    """What was tapped on an operation, if it is as the plan has it."""
    operation = by_plan[0].operation
    was, found = stands(by_plan)[operation], stands(tapped).get(operation, Stands())
    yield from tapped if _is_same_run(was, found) else by_plan


def _of_started(plan: Plan, held: Held) -> Tap:
    """Its run's start, or its set-up's where that is all that had begun."""
    is_running = plan.replan is not None and held.start_min <= plan.replan.now_min
    kind = TapKind.START if is_running else TapKind.SET_UP
    minute = held.start_min if is_running else held.setup_start_min
    return Tap("", held.operation, kind, moment(minute, plan.options.start))


def _of_paused(plan: Plan, paused: Paused) -> list[Tap]:
    start = plan.options.start
    return [
        Tap("", paused.operation, TapKind.START, moment(paused.start_min, start)),
        Tap("", paused.operation, TapKind.PAUSE, moment(paused.end_min, start)),
    ]


def _is_same_run(was: Stands, now: Stands) -> bool:
    """Whether a run, or its set-up where that is all, began or went on when the plan says."""
    if bool(was.start_at) != bool(now.start_at):
        return False
    at = _minute(was.start_at or was.set_up_at)
    since = now.stretches if was.start_at else (now.set_up_at,)
    return at in map(_minute, since)


def _minute(at: datetime | None) -> datetime | None:
    return at.replace(second=0, microsecond=0) if at else None
