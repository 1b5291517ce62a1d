"""Ledgers of several weeks side by side."""

from datetime import timedelta
from pathlib import Path

from typer.testing import CliRunner, Result

from planner.records import Plan
from planner.shop import What
from planner_io.cli import app
from planner_io.ledger_trend import (
    CHANGES,
    COST,
    DIFFERENCE,
    DONE,
    LATE,
    LATE_LINES,
    OTHER,
    SAVED,
    SAVED_COST,
    TOTAL,
    cost_by_week,
    minutes_by_week,
    taken_by_week,
    with_differences,
    worth_of_a_minute,
)
from planner_io.ledger_weeks import Timed, Week
from planner_io.plan_file import NAME, plan_bytes
from tests.planner_io.plans import a_plan


def week_later(plan: Plan) -> Plan:
    """The same plan a week later, with half its ledger."""
    start = plan.options.start + timedelta(days=7)
    options = plan.options.model_copy(update={"start": start})
    return plan.model_copy(update={"options": options, "ledger": plan.ledger[:1], "late": ()})


def a_week(plan: Plan, *timed: Timed) -> Week:
    return Week(plan.options.start.isoformat(), plan, timed=timed)


def two_weeks() -> tuple[Week, Week]:
    return a_week(a_plan()), a_week(week_later(a_plan()))


def ledger_of(folder: Path, plans: dict[str, Plan]) -> Result:
    """What the command says of plans in folders of these names, the last first."""
    for name, plan in plans.items():
        (folder / name).mkdir()
        (folder / name / NAME).write_bytes(plan_bytes(plan))
    return CliRunner().invoke(app, ["ledger", *(str(folder / name) for name in reversed(plans))])


def test_each_week_adds_up_by_kind() -> None:
    weeks = two_weeks()
    table = minutes_by_week(weeks)
    kinds = [what.value for what in What if what.value in table.columns]
    for row, week in enumerate(weeks):
        assert table[TOTAL].iloc[row] == sum(each.minutes for each in week.plan.ledger)
        assert table[kinds].iloc[row].sum() == table[TOTAL].iloc[row]
        assert table[CHANGES].iloc[row] == sum(each.count for each in week.plan.ledger)


def test_each_week_is_compared_with_due_date_order_in_minutes_and_money() -> None:
    """68 min at a dollar, 32 less than by due date; one line is 108 min late."""
    table = cost_by_week([a_week(a_plan())])
    row = table.iloc[0]
    assert (row[COST], row[OTHER], row[SAVED], row[SAVED_COST]) == (6_800, 100, 32, 3_200)
    assert (row[LATE_LINES], row[LATE], row[DONE]) == (1, 108, 1440 + 520)


def test_a_week_is_followed_by_its_difference_from_the_week_before() -> None:
    first, second = two_weeks()
    for table in (minutes_by_week([first, second, first]), cost_by_week([first, second, first])):
        shown = with_differences(table)
        assert list(shown.index) == [
            first.label,
            second.label,
            DIFFERENCE,
            first.label,
            DIFFERENCE,
        ]
        assert (shown.iloc[2] == shown.iloc[1] - shown.iloc[0]).all()
        assert (shown.iloc[4] == shown.iloc[3] - shown.iloc[1]).all()


def test_what_the_floor_took_is_summed_by_week_and_station() -> None:
    """Two of the finisher's four changeovers are timed: 5 + 12 planned, 9 + 10 taken."""
    timed = (Timed("Finisher", 5, 9), Timed("Finisher", 12, 10), Timed("Bender", 20, 20))
    week = a_week(a_plan(), *timed)
    table = taken_by_week([week, a_week(week_later(a_plan()))])
    assert list(table.index) == [(week.label, "Finisher"), (week.label, "Bender")]
    made = sum(slot.setup_min > 0 for slot in a_plan().slots if slot.station == "Finisher")
    assert table.iloc[0].tolist() == [2, made, 17, 19, 2]


def test_a_minute_is_worth_what_the_last_week_s_house_says() -> None:
    plan = a_plan()
    dearer = plan.shop.house.model_copy(update={"minute_cents": 250})
    shop = plan.shop.model_copy(update={"house": dearer})
    week = a_week(plan.model_copy(update={"shop": shop}))
    table = worth_of_a_minute([a_week(plan), week])
    assert table.index[0] == ("Finisher", "belt")
    assert table.iloc[0].tolist() == [4, 5, 1_000]


def test_a_week_that_was_not_compared_has_a_dash(tmp_path: Path) -> None:
    lone = week_later(a_plan()).model_copy(update={"yardsticks": ()})
    ran = ledger_of(tmp_path, {"a": a_plan(), "b": lone})
    assert "NA" not in ran.stdout
    assert "–" in ran.stdout


def test_the_command_prints_weeks_in_order_with_signs_and_money(tmp_path: Path) -> None:
    ran = ledger_of(tmp_path, {"a": a_plan(), "b": week_later(a_plan())})
    assert ran.exit_code == 0
    week, spent, saved, *_ = ran.stdout.splitlines()
    assert week == "Week of 2026-12-07"
    assert spent.strip().startswith("5 min in changeovers ($5.00, ")
    assert saved.strip().startswith("32 min less changeover than by due date (−32 %, $32.00 saved)")
    first, second, third, *_ = [line.split() for line in ran.stdout.splitlines()[8:]]
    assert (first[0], second[0]) == ("2026-11-30", "2026-12-07")
    assert third[0] == DIFFERENCE
    assert third[-2] == "−63"
    assert "$68.00" in ran.stdout
    assert "−$63.00" in ran.stdout
    assert "−1 h 48" in ran.stdout
    assert "day 2, 8:40" in ran.stdout
    assert "no changeover was timed on a tablet" in ran.stdout
    title = "What a minute less is worth a week, for each kind of change"
    assert f"{title}, in the mean of 2 weeks\n" in ran.stdout
    assert "   by due date   saved   saved cost   lines late   late, all lines" in ran.stdout


def test_two_ways_to_run_one_week_are_told_apart_by_their_folders(tmp_path: Path) -> None:
    ran = ledger_of(tmp_path, {"as it is": a_plan(), "second finisher": a_plan()})
    assert "2026-11-30 as it is" in ran.stdout
    assert "2026-11-30 second finisher" in ran.stdout
