"""`brightrun plan`: from a workbook to an audited plan folder."""

from __future__ import annotations

from dataclasses import dataclass, replace
from datetime import date
from pathlib import Path

from planner.confidence import EVEN, Spreads, confident_shop
from planner.errors import InputError
from planner.finisher.learned import learn
from planner.finisher.wear import belts_of
from planner.options import LotPolicy, Options
from planner.risk import solve as simulate
from planner.risk import week_of
from planner.stop import Stop
from planner_io.belt_report import belt_lines
from planner_io.console import (
    BAD_INPUT,
    Progress,
    say,
    stopping,
    tell,
    tell_findings,
)
from planner_io.folder import check_replaceable
from planner_io.logbook import read_log
from planner_io.planning import choose_start, plan_week, read_week, write_plan
from planner_io.risk_report import risk_lines
from planner_io.summary import summary_lines
from planner_io.workbook import Reading


@dataclass(frozen=True)
class Wish:
    """What was asked of `brightrun plan`."""

    orders: Path
    shop: Path | None
    out: Path | None
    seconds: float
    seed: int
    start: date | None
    days: int
    lots: LotPolicy
    keep_going: bool
    log: Path | None = None
    """Log of finisher runs to take times from."""
    confidence: int = EVEN


def plan(wish: Wish) -> None:
    """Plan a week and write its folder."""
    folder = wish.out or Path(f"plan-{wish.orders.stem}")
    check_replaceable(folder)
    try:
        reading = read_week(wish.orders, wish.shop, wish.keep_going)
    except InputError as problem:
        tell_findings(problem.findings)
        if any(finding.cell for finding in problem.findings):
            tell("Nothing is planned: correct the errors, or leave them out with --keep-going.")
        raise SystemExit(BAD_INPUT) from problem
    start = choose_start(wish.start, reading, date.today())
    tell(f"Planning from {start.day:%Y-%m-%d}, {start.because}.")
    reading, spreads = _aimed(reading, wish)
    options = Options(
        start=start.day,
        seconds=wish.seconds,
        seed=wish.seed,
        lots=wish.lots,
        confidence=wish.confidence,
        days=wish.days,
    )
    stop = Stop()
    with Progress() as progress, stopping(stop):
        made = plan_week(reading, options, stop, progress.report)
        write_plan(made, folder, progress.report)
    tell_findings(made.findings)
    sure = simulate(week_of(made, spreads), Stop(), wish.seed)
    belts = belt_lines(belts_of(made), made.shop.house.currency)
    for line in (*summary_lines(made, folder), *belts, *risk_lines(sure)):
        say(line)


def _aimed(reading: Reading, wish: Wish) -> tuple[Reading, Spreads]:
    """The week with the times that the log has taught, at the pace of the confidence asked for."""
    shop, spreads = reading.shop, Spreads()
    if wish.log is not None:
        found = read_log(wish.log, wish.shop or wish.orders, date.today())
        tell_findings(found.findings)
        lesson = learn(shop, found.runs)
        shop, spreads = lesson.shop, lesson.spreads
        tell(f"The finisher's times are learned from {len(found.runs)} logged runs.")
    return replace(reading, shop=confident_shop(shop, wish.confidence, spreads)), spreads
