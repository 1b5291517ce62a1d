"""What a minute less at each kind of change is worth."""

from planner.records import Plan
from planner.shop import What
from planner_io.views.worth import minute_words, worth
from tests.planner_io.plans import a_plan


def without_minutes(plan: Plan, what: What) -> Plan:
    """The same plan with changes of a kind that take no time, as beside a longer one."""
    slots = tuple(
        slot.model_copy(
            update={
                "changes": tuple(
                    change.model_copy(update={"minutes": 0}) if change.what is what else change
                    for change in slot.changes
                )
            }
        )
        for slot in plan.slots
    )
    return plan.model_copy(update={"slots": slots})


def test_stations_are_apart_and_the_dearest_minute_comes_first() -> None:
    """Four belts of 5 min; the OD changes of finisher and saw are not the same work."""
    first, *rest = worth([a_plan()], 140)
    assert (first.station, first.what, first.times, first.each) == ("Finisher", What.BELT, 4, 5)
    assert first.cents == 4 * 140
    assert [row.station for row in rest if row.what is What.OD] == ["Finisher", "Saw"]
    assert {row.cents for row in rest} == {140}


def test_several_weeks_are_a_mean_week() -> None:
    plan = a_plan()
    assert worth([plan, plan], 140) == worth([plan], 140)
    half = worth([plan, without_minutes(plan, What.BELT)], 140)[0]
    assert (half.what, half.times, half.minutes, half.cents) == (What.BELT, 2, 10, 280)


def test_a_change_that_takes_no_time_cannot_take_less() -> None:
    kinds = {row.what for row in worth([without_minutes(a_plan(), What.BELT)], 140)}
    assert What.BELT not in kinds
    assert What.DIE in kinds


def test_what_a_minute_counts_names_its_setting() -> None:
    words = minute_words(a_plan().shop.house)
    assert words == "A minute counts $1.00 (Settings, Cost of a finisher minute)."
