"""What each command does and says; `cli` has their words and options."""

from __future__ import annotations

import json
from dataclasses import dataclass
from datetime import date
from pathlib import Path
from typing import Any

from planner.audit import audit as breaches
from planner.errors import InputError, Severity, input_error
from planner.options import LotPolicy, Options
from planner.stop import Stop
from planner_io.check_report import check_lines
from planner_io.console import (
    BAD_INPUT,
    Progress,
    say,
    stopping,
    tell,
    tell_findings,
)
from planner_io.folder import check_replaceable, write_file
from planner_io.plan_file import read_plan
from planner_io.planning import choose_start, plan_week, read_week, write_plan
from planner_io.summary import summary_lines
from planner_io.workbook import check_json, read_workbook, write_template


@dataclass(frozen=True)
class Wish:
    """What was asked of `brightrun plan`."""

    orders: Path
    shop: Path | None
    out: Path | None
    seconds: float
    seed: int
    start: date | None
    lots: LotPolicy
    keep_going: bool


def template(file: Path, force: bool) -> None:
    """Write a workbook to fill in."""
    if file.suffix.lower() != ".xlsx":
        raise input_error(f"{file}: a template is an .xlsx workbook; give it that ending.")
    if file.exists() and not force:
        raise input_error(f"{file}: it is there already; give another name, or --force.")
    write_file(file, write_template())
    say(f"{file} is ready: fill in the sheets, then run `brightrun check {file}`.")


def check(orders: Path, shop: Path | None, as_json: bool) -> None:
    """Say what a workbook was read as."""
    found = _found(orders, shop)
    if as_json:
        say(json.dumps(found, indent=1, ensure_ascii=False))
    else:
        for line in check_lines(found):
            say(line)
    if any(problem["severity"] == Severity.ERROR for problem in found["problems"]):
        raise SystemExit(BAD_INPUT)


def _found(orders: Path, shop: Path | None) -> dict[str, Any]:
    """What was read, also of a file that cannot be read at all."""
    try:
        return check_json(read_workbook(orders, shop))
    except InputError as unusable:
        problems = [
            finding.model_dump(mode="json", exclude={"subject"}) for finding in unusable.findings
        ]
        return {"orders": [], "readings": [], "problems": problems}


def plan(wish: Wish) -> None:
    """Plan a week and write its folder."""
    folder = wish.out or Path(f"plan-{wish.orders.stem}")
    check_replaceable(folder)
    try:
        reading = read_week(wish.orders, wish.shop, wish.keep_going)
    except InputError as problem:
        tell_findings(problem.findings)
        tell("Nothing is planned: correct the errors, or leave those rows out with --keep-going.")
        raise SystemExit(BAD_INPUT) from problem
    start = choose_start(wish.start, reading, date.today())
    tell(f"Planning from {start.day:%Y-%m-%d}, {start.because}.")
    options = Options(start=start.day, seconds=wish.seconds, seed=wish.seed, lots=wish.lots)
    stop = Stop()
    with Progress() as progress, stopping(stop):
        made = plan_week(reading, options, stop, progress.report)
        write_plan(made, folder, progress.report)
    tell_findings(made.findings)
    for line in summary_lines(made, folder):
        say(line)


def audit(folder: Path) -> None:
    """Check a plan from scratch."""
    found = breaches(read_plan(folder))
    if found:
        tell_findings(found)
        tell(f"{folder}: the plan breaks {len(found)} times what must hold; plan the week again.")
        raise SystemExit(BAD_INPUT)
    say(f"{folder}: the plan holds, all invariants are proven from scratch.")
