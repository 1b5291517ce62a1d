"""`brightrun plan`: from a workbook to an audited plan folder."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from pathlib import Path

from planner.errors import InputError
from planner.options import LotPolicy, Options
from planner.stop import Stop
from planner_io.console import (
    BAD_INPUT,
    Progress,
    say,
    stopping,
    tell,
    tell_findings,
)
from planner_io.folder import check_replaceable
from planner_io.planning import choose_start, plan_week, read_week, write_plan
from planner_io.summary import summary_lines


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
