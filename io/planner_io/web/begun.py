"""What had begun when a week was planned again: it goes on, in a store of its own."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import replace
from datetime import datetime

from planner.held import Held, HeldWhy
from planner.hours import moment
from planner.records import Plan
from planner_io.store import Stands, Tap, TapKind, counted, stands


def begun(plan: Plan, before: Iterable[Tap] = ()) -> tuple[Tap, ...]:
    """The taps that the floor need not make once more, on started work.

    Those of `before`, which the store of the plan before kept, with their set-ups and pauses;
    where it has none that began as the plan says, the one tap that follows from the plan.
    """
    tapped = counted(before)
    held = plan.replan.held if plan.replan else ()
    started = (one for one in held if one.why is HeldWhy.STARTED)
    found = [tap for one in started for tap in _taps(plan, one, tapped.get(one.operation, []))]
    return tuple(replace(tap, token=f"begun {n}") for n, tap in enumerate(found, start=1))


def is_known(plan: Plan, operation: str, now: Stands) -> bool:
    """Whether an operation runs as the plan has it, so that it need not be told."""
    was = stands(begun(plan)).get(operation)
    if was is None or now.done_at or now.paused_at:
        return False
    return _since(now) == _since(was) and bool(now.start_at) == bool(was.start_at)


def _taps(plan: Plan, held: Held, tapped: list[Tap]) -> Iterator[Tap]:
    by_plan = _by_plan(plan, held)
    since = _since(stands(tapped).get(held.operation, Stands()))
    yield from tapped if since == by_plan.at else [by_plan]


def _by_plan(plan: Plan, held: Held) -> Tap:
    """Its run's start, or its set-up's where that is all that had begun."""
    is_running = plan.replan is not None and held.start_min <= plan.replan.now_min
    kind = TapKind.START if is_running else TapKind.SET_UP
    minute = held.start_min if is_running else held.setup_start_min
    return Tap("", held.operation, kind, moment(minute, plan.options.start))


def _since(found: Stands) -> datetime | None:
    """The minute in which its run began, or its set-up where that is all."""
    at = found.start_at or found.set_up_at
    return at.replace(second=0, microsecond=0) if at else None
