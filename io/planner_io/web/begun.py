"""What had begun when a week was planned again: it goes on, under a store of its own."""

from __future__ import annotations

from collections.abc import Iterator

from planner.hours import moment
from planner.records import Held, HeldWhy, Plan
from planner_io.store import Tap, TapKind


def begun(plan: Plan) -> tuple[Tap, ...]:
    """The taps that the floor need not make once more: started work as the plan has it."""
    return tuple(_begun(plan))


def _begun(plan: Plan) -> Iterator[Tap]:
    if plan.replan is None:
        return
    for held in plan.replan.held:
        if held.why is HeldWhy.STARTED:
            yield _tap(plan, held, is_running=held.start_min <= plan.replan.now_min)


def _tap(plan: Plan, held: Held, *, is_running: bool) -> Tap:
    """Its run's start, or its set-up's where that is all that had begun."""
    kind = TapKind.START if is_running else TapKind.SET_UP
    minute = held.start_min if is_running else held.setup_start_min
    return Tap("", held.operation, kind, moment(minute, plan.options.start))
