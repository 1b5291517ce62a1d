"""A week planned again while a run stood still."""

from __future__ import annotations

from planner.held import Paused
from planner.records import Plan
from tests.planner_io.plans import a_replanned_plan


def a_paused_plan(start: int = 430, since: int = 445) -> Plan:
    """A third of a pass was done on Monday from minute `start`, 7:10, to `since`, 7:25; its rest
    is planned again."""
    plan = a_replanned_plan()
    part = Paused(
        operation="L02.P1",
        station="Finisher",
        setup_start_min=start,
        start_min=start,
        end_min=since,
        left=30,
        of=45,
    )
    assert plan.replan
    replan = plan.replan.model_copy(update={"paused": (part,)})
    return plan.model_copy(update={"replan": replan})
