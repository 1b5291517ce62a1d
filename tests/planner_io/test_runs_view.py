"""What the run order says of each run."""

from __future__ import annotations

from planner.records import Plan, Slot
from planner_io.views.index import Index
from planner_io.views.runs import run
from tests.planner_io.plans import a_plan, a_replanned_plan


def first_three(plan: Plan) -> list[Slot]:
    """The first three steps of the finisher, as one run, each held by something else."""
    return [
        slot.model_copy(update={"run": 1, "held_by": f"why {slot.operation}"})
        for slot in plan.slots[:3]
    ]


def test_a_run_says_what_held_its_first_step() -> None:
    plan = a_plan()
    assert run(Index(plan), first_three(plan)).held_by == "why L01.P1"


def test_a_run_that_had_begun_says_what_holds_the_first_step_of_what_is_left() -> None:
    plan = a_replanned_plan()
    slots = first_three(plan)
    assert run(Index(plan), slots).held_by == "goes on with step 3: why L02.P1"
    assert run(Index(plan), slots[:2]).held_by == "why L01.P1"
    assert run(Index(plan), slots[2:]).held_by == "why L02.P1"
