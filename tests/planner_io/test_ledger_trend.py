"""Ledgers of several weeks side by side."""

from datetime import timedelta
from pathlib import Path

from typer.testing import CliRunner

from planner.records import Plan
from planner.shop import What
from planner_io.cli import app
from planner_io.ledger_trend import OTHER, SAVED, TOTAL, WORTH, minutes_by_week, worth_of_a_minute
from planner_io.plan_file import NAME, plan_bytes
from tests.planner_io.plans import a_plan


def week_later(plan: Plan) -> Plan:
    """The same plan a week later, with half its ledger."""
    start = plan.options.start + timedelta(days=7)
    options = plan.options.model_copy(update={"start": start})
    return plan.model_copy(update={"options": options, "ledger": plan.ledger[:1]})


def test_each_week_adds_up_and_is_compared_with_due_date_order() -> None:
    plan = a_plan()
    table = minutes_by_week([plan, week_later(plan)])
    kinds = [what.value for what in What if what.value in table.columns]
    for row, one in zip(range(2), (plan, week_later(plan)), strict=True):
        assert table[TOTAL].iloc[row] == sum(each.minutes for each in one.ledger)
        assert table[kinds].iloc[row].sum() == table[TOTAL].iloc[row]
        due = next(each for each in one.yardsticks if each.name == OTHER)
        assert table[SAVED].iloc[row] == due.changeover_min - table[TOTAL].iloc[row]


def test_a_minute_is_worth_its_count_a_week() -> None:
    plan = a_plan()
    table = worth_of_a_minute([plan, plan])
    for what in {row.what for row in plan.ledger}:
        count = sum(row.count for row in plan.ledger if row.what is what)
        expected = round(count * plan.shop.house.minute_cents)
        assert table.loc[what.value, WORTH] == expected


def test_nothing_is_gained_where_a_change_takes_no_time() -> None:
    plan = a_plan()
    free = plan.ledger[0].model_copy(update={"what": What.CUTTER, "minutes": 0})
    table = worth_of_a_minute([plan.model_copy(update={"ledger": (*plan.ledger, free)})])
    assert What.CUTTER.value not in table.index
    assert What.BELT.value in table.index


def test_a_week_that_was_not_compared_has_a_dash(tmp_path: Path) -> None:
    plans = (("a", a_plan()), ("b", a_plan().model_copy(update={"yardsticks": ()})))
    for name, plan in plans:
        (tmp_path / name).mkdir()
        (tmp_path / name / NAME).write_bytes(plan_bytes(plan))
    ran = CliRunner().invoke(app, ["ledger", str(tmp_path / "a"), str(tmp_path / "b")])
    assert "NA" not in ran.stdout
    assert "–" in ran.stdout
    assert "2 of the plans begin on 2026-11-30" in ran.stderr


def test_the_command_prints_both_tables(tmp_path: Path) -> None:
    for name, plan in (("a", a_plan()), ("b", week_later(a_plan()))):
        (tmp_path / name).mkdir()
        (tmp_path / name / NAME).write_bytes(plan_bytes(plan))
    ran = CliRunner().invoke(app, ["ledger", str(tmp_path / "b"), str(tmp_path / "a")])
    assert ran.exit_code == 0
    first, second = (
        ran.stdout.index(plan.options.start.isoformat())
        for plan in (a_plan(), week_later(a_plan()))
    )
    assert first < second
    assert "What a minute less is worth a week" in ran.stdout
