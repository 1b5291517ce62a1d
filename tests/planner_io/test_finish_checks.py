"""Finish checks in the progress file: a lot out of range goes back, and the week goes on."""

from __future__ import annotations

from datetime import datetime, timedelta
from pathlib import Path

import pytest

from planner.errors import InputError
from planner.finisher.record import Verdict
from planner.orders import Step
from planner.records import Lot, Plan
from planner.times import passes
from planner_io.finish_checks import read_checks
from planner_io.plan_file import read_plan
from tests.planner_io.books import a_book, a_row
from tests.planner_io.test_cli import QUICK, Command, run
from tests.planner_io.workbook.sheets import Cell, a_table, a_workbook

__all__ = ["run"]


def a_progress(path: Path, *checks: dict[str, Cell]) -> Path:
    return a_workbook(path, Progress=[["Operation", "State"]], Checks=a_table(checks))


def an_issued_plan(run: Command, tmp_path: Path) -> tuple[Path, Plan]:
    rows = (a_row("1", Finish="Satin P240"), a_row("2", Finish=None, Length='30"'))
    book = a_book(tmp_path / "week.xlsx", *rows)
    assert run("plan", book, *QUICK, "--start", "2026-11-30", "--out", "first").status == 0
    return book, read_plan(Path("first"))


def finished_lot(plan: Plan) -> str:
    return next(lot.key for lot in plan.lots if lot.recipe is not None)


def steps_of(plan: Plan, lot: Lot) -> list[str]:
    """Grades of the belts that a lot needs, in order."""
    found = passes(plan.shop.recipe(lot.recipe or ""), lot.spec.surface)
    return list(dict.fromkeys(step.grade.label for _, step in found))


def long_lot(plan: Plan) -> Lot:
    """A lot that needs several belts."""
    return next(lot for lot in plan.lots if lot.recipe and len(steps_of(plan, lot)) > 2)


def just_finished(plan: Plan, lot: str) -> datetime:
    passes = {o.key for o in plan.operations if o.lot == lot and o.step is Step.FINISH}
    ended = max(slot.end_min for slot in plan.slots if slot.operation in passes)
    return datetime(2026, 11, 30) + timedelta(minutes=ended)


def test_a_lot_out_of_range_gets_its_passes_again_also_when_planned_a_third_time(
    run: Command, tmp_path: Path
) -> None:
    book, first = an_issued_plan(run, tmp_path)
    lot = finished_lot(first)
    file = a_progress(tmp_path / "progress.xlsx", {"Lot": lot, "Roughness": "38, 40, 75"})
    now = just_finished(first, lot)
    words = ("plan", book, *QUICK, "--now", f"{now:%Y-%m-%d %H:%M}")
    again = run(*words, "--after", "first", "--progress", file, "--out", "second")
    assert again.status == 0, again.err
    assert "back one grade" in again.err + again.out
    assert run("audit", "second").status == 0
    third = run(*words, "--after", "second", "--out", "third")
    assert third.status == 0, third.err
    counts = [
        sum(o.lot == lot and o.step is Step.FINISH for o in read_plan(Path(name)).operations)
        for name in ("first", "second", "third")
    ]
    assert counts[0] < counts[1] == counts[2]
    lines = [{line.key for line in read_plan(Path(n)).orders} for n in ("first", "third")]
    assert lines[0] == lines[1]


def test_checks_are_judged_by_the_recipe_of_the_lot(run: Command, tmp_path: Path) -> None:
    _, plan = an_issued_plan(run, tmp_path)
    lot = finished_lot(plan)
    recipe = plan.shop.recipe(next(each.recipe or "" for each in plan.lots if each.key == lot))
    middle = ((recipe.ra_low_uin or 0) + (recipe.ra_high_uin or 0)) / 2
    file = a_progress(
        tmp_path / "p.xlsx",
        {"Lot": lot.lower(), "Roughness": middle, "Looks": "good"},
        {"Lot": lot, "Looks": "marks"},
    )
    found = read_checks(file, plan)
    assert [check.judgement.verdict for check in found] == [Verdict.GOOD, Verdict.AGAIN]
    assert [check.goes_back for check in found] == [False, True]


@pytest.mark.parametrize(
    ("change", "cell"),
    [
        ({"Lot": "L77"}, "A2"),
        ({"Roughness": "rough"}, "B2"),
        ({"Roughness": "-3"}, "B2"),
        ({"Roughness": 1e6}, "B2"),
        ({"Looks": "lovely"}, "C2"),
        ({"Roughness": None, "Looks": None}, "B2"),
        ({"Roughness": None, "Reached": "P36"}, "D2"),
        ({"Roughness": None, "Reached": "rough"}, "D2"),
        ({"Reached": "first"}, "B2"),
    ],
)
def test_wrong_checks_are_named_by_cell(
    run: Command, tmp_path: Path, change: dict[str, Cell], cell: str
) -> None:
    _, plan = an_issued_plan(run, tmp_path)
    lot = long_lot(plan)
    row: dict[str, Cell] = {"Lot": lot.key, "Roughness": 30, "Looks": "good", **change}
    if row.get("Reached") == "first":
        row["Reached"] = steps_of(plan, lot)[0]
    with pytest.raises(InputError) as problem:
        read_checks(a_progress(tmp_path / "p.xlsx", row), plan)
    assert [finding.cell for finding in problem.value.findings] == [cell]


def test_a_lot_checked_on_the_way_goes_back_from_the_step_that_it_reached(
    run: Command, tmp_path: Path
) -> None:
    book, first = an_issued_plan(run, tmp_path)
    lot = long_lot(first)
    steps = steps_of(first, lot)
    check: dict[str, Cell] = {"Lot": lot.key, "Looks": "marks", "Reached": steps[1]}
    file = a_progress(tmp_path / "progress.xlsx", check)
    assert [found.reached for found in read_checks(file, first)] == [2]
    own = [o for o in first.operations if o.lot == lot.key and o.grade == steps[1]]
    ended = max(slot.end_min for slot in first.slots if slot.operation in {o.key for o in own})
    now = datetime(2026, 11, 30) + timedelta(minutes=ended)
    words = ("plan", book, *QUICK, "--now", f"{now:%Y-%m-%d %H:%M}")
    again = run(*words, "--after", "first", "--progress", file, "--out", "second")
    assert again.status == 0, again.err
    second = read_plan(Path("second"))
    grades = [o.grade for o in second.operations if o.lot == lot.key and o.step is Step.FINISH]
    assert list(dict.fromkeys(grades)) == steps
    back = grades.index(steps[1]) + len(own)
    assert grades[back] == steps[0]
    assert run("audit", "second").status == 0


def test_a_check_that_names_the_last_belt_is_one_of_the_end(run: Command, tmp_path: Path) -> None:
    _, plan = an_issued_plan(run, tmp_path)
    lot = long_lot(plan)
    row: dict[str, Cell] = {"Lot": lot.key, "Looks": "marks", "Reached": steps_of(plan, lot)[-1]}
    assert [check.reached for check in read_checks(a_progress(tmp_path / "p.xlsx", row), plan)] == [
        None
    ]


def test_a_progress_file_without_checks_sends_nothing_back(run: Command, tmp_path: Path) -> None:
    _, plan = an_issued_plan(run, tmp_path)
    file = a_workbook(tmp_path / "p.xlsx", Progress=[["Operation", "State"]])
    assert read_checks(file, plan) == ()
