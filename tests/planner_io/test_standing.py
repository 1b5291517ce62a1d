"""What papers say of a run that stood still: what was done of it, and what was changed for that."""

from __future__ import annotations

from planner.ledger import ledger_rows
from planner.records import Plan
from planner.shop import What
from planner_io.packet.data import packet_data
from planner_io.packet.floor import TagKind
from planner_io.views.cards import set_up_cards
from planner_io.views.index import Index
from planner_io.views.pick_lists import PickList, pick_lists
from planner_io.views.standing import stands
from tests.planner_io.paused import a_paused_plan
from tests.planner_io.plans import MONDAY, a_change
from tests.planner_io.shops import inch

KEY = "L02.P1"


def a_plan() -> Plan:
    """The first changeover of what stands still took 17 minutes, on Monday at 6:53."""
    plan = a_paused_plan()
    assert plan.replan
    changed = (
        a_change(What.OD, str(inch(1.5)), str(inch(2)), 12),
        a_change(What.BELT, None, "P180 clean", 5),
    )
    (part,) = plan.replan.paused
    update = {"changes": changed, "setup_start_min": 413, "pieces": 1}
    again = plan.replan.model_copy(update={"paused": (part.model_copy(update=update),)})
    return plan.model_copy(update={"replan": again})


def finisher(plan: Plan) -> PickList:
    (found,) = [row for row in pick_lists(Index(plan)) if row.station == "Finisher"]
    return found


CHANGED = 'first changed over to Mon 30 Nov 6:53, 17 min: OD 1-1/2" → 2", belt P180 clean'
STANDS = f"paused Mon 30 Nov 7:25 with 1 done, this is the rest; {CHANGED}"


def test_the_rest_of_a_run_says_what_was_changed_for_its_first_part() -> None:
    (step,) = [step for step in finisher(a_plan()).steps if step.operation == KEY]
    assert step.stands == STANDS


def test_the_card_of_the_rest_says_so_too() -> None:
    index = Index(a_plan())
    (card,) = [each for each in set_up_cards(index) if KEY in each.run.operations]
    assert card.care[0] == f"Step {index.step_numbers[KEY]} {STANDS}."


def test_what_went_on_since_says_it_as_well() -> None:
    plan = a_plan()
    assert plan.replan
    went_on = plan.replan.model_copy(update={"resumed": plan.replan.paused, "paused": ()})
    assert stands(Index(plan.model_copy(update={"replan": went_on})), KEY) == CHANGED


def test_a_day_counts_the_changeovers_that_the_ledger_has_there() -> None:
    plan = a_plan()
    assert plan.replan
    found = finisher(plan)
    there = ledger_rows(plan.slots, MONDAY, plan.replan.parts)
    mine = sum(row.minutes for row in there if row.station == "Finisher" and row.day == MONDAY)
    assert found.changeover_min == mine
    assert found.parts == (
        "Part of step 3, L02, 1 of 2 sticks, was done Mon 30 Nov 7:10 to Mon 30 Nov 7:25, after a "
        "changeover of 17 min.",
    )


def test_the_printed_list_says_what_was_done_of_it() -> None:
    index = Index(a_plan())
    printed = str(packet_data(index, TagKind.BUNDLES)[0])
    assert finisher(index.plan).parts[0] in printed
