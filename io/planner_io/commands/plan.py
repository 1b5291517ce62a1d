"""`brightrun plan`: from a workbook to an audited plan folder."""

from __future__ import annotations

from dataclasses import dataclass, field, replace
from datetime import date, datetime
from pathlib import Path

from planner.confidence import EVEN, confident_shop
from planner.errors import InputError, has_errors, input_error
from planner.finisher.intervals import Known, known_from, nothing_logged
from planner.finisher.learned import learn
from planner.options import LotPolicy, Options
from planner.records import Plan
from planner.stop import Stop
from planner_io.again import Again, Asked, again_lines, plan_again, read_again
from planner_io.belt_report import belt_lines
from planner_io.checks_sheet import CHECKS
from planner_io.console import (
    BAD_INPUT,
    LEFT_OUT,
    Progress,
    say,
    stopping,
    tell,
    tell_findings,
)
from planner_io.folder import check_replaceable
from planner_io.letter_checks import unprintable
from planner_io.logbook import read_log
from planner_io.logbook_sheet import LOG
from planner_io.planning import plan_week, read_week, write_plan
from planner_io.progress import has_progress
from planner_io.progress_sheet import PROGRESS
from planner_io.risk_report import risk_lines
from planner_io.starts import choose_start
from planner_io.summary import left_out_words, summary_lines
from planner_io.views.ruler import plural
from planner_io.workbook import NOT_USED, Reading
from planner_io.workbook.columns import SheetSpec


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
    again: Asked = field(default_factory=Asked)
    """What to plan again from, if anything."""
    font: Path | None = None
    """Font file for letters that the papers' own type lacks."""


OR_LEAVE_OUT = ", or leave them out with --keep-going"


def plan(wish: Wish) -> None:
    """Plan a week and write its folder."""
    folder = wish.out or Path(f"plan-{wish.orders.stem}")
    check_replaceable(folder)
    wish = _with_own_progress(wish)
    again = read_again(wish.again, datetime.now())
    reading = _read(wish, again)
    start = _first_day(wish, reading, again)
    reading, known = _aimed(reading, wish)
    options = Options(
        start=start,
        seconds=wish.seconds,
        seed=wish.seed,
        lots=wish.lots,
        confidence=wish.confidence,
        days=wish.days,
        move_charge_min=wish.again.move_charge_min,
    )
    stop = Stop()
    with Progress() as progress, stopping(stop):
        if again is None:
            made = plan_week(reading, options, stop, progress.announce, known)
        else:
            rest = again.options(options)
            made = plan_again(reading, again, rest, stop, progress.announce, known)
        write_plan(made, folder, progress.announce, wish.font)
    _tell_plan(made, folder)


def _read(wish: Wish, again: Again | None) -> Reading:
    """The week as it is read, with all that is found and told of it; ends the command where that
    cannot be planned."""
    begins = wish.start if again is None else _own_first_day(wish, again)
    issued = again.pieces() if again else None
    try:
        reading = read_week(
            wish.orders,
            wish.shop,
            wish.keep_going,
            begins,
            issued,
            _elsewhere(wish),
            date.today(),
        )
    except InputError as problem:
        tell_findings(problem.findings)
        if any(finding.cell for finding in problem.findings):
            other = "; no row is left without them" if wish.keep_going else OR_LEAVE_OUT
            tell(f"Nothing is planned: correct the errors{other}.")
        raise SystemExit(BAD_INPUT) from problem
    _tell_readings(wish, reading)
    letters = unprintable(reading, wish.font)
    return replace(reading, findings=(*reading.findings, *letters))


def _tell_plan(made: Plan, folder: Path) -> None:
    """What was found and what the plan comes to; ends the command with its own exit status where
    something is left out."""
    tell_findings(made.findings)
    summary = (*summary_lines(made, folder), *again_lines(made))
    for line in (*summary, *belt_lines(made), *risk_lines(made)):
        say(line)
    if has_errors(made.findings):
        tell(f"{left_out_words(made)}; the exit status is {LEFT_OUT}.")
        raise SystemExit(LEFT_OUT)


def _with_own_progress(wish: Wish) -> Wish:
    """The wish with the progress in the orders workbook itself, where no other file is given."""
    if wish.again.after is None or wish.again.progress or not has_progress(wish.orders):
        return wish
    tell(f"What was done is read from the sheet {PROGRESS.title} of {wish.orders}.")
    return replace(wish, again=replace(wish.again, progress=wish.orders))


def _elsewhere(wish: Wish) -> list[SheetSpec]:
    """Sheets of the orders workbook that are read for something else than orders."""
    progress = [PROGRESS, CHECKS] if wish.again.progress == wish.orders else []
    return progress + ([LOG] if wish.log == wish.orders else [])


def _tell_readings(wish: Wish, reading: Reading) -> None:
    """That some cells could be meant otherwise, and where they are told; and what is not read."""
    if count := len(reading.readings):
        shop = f" --shop {wish.shop}" if wish.shop else ""
        tell(
            f"{plural(count, 'reading')} could be meant otherwise: `brightrun check {wish.orders}"
            f"{shop}` lists them."
        )
    for each in reading.readings:
        if NOT_USED in each:
            tell(each)


def _own_first_day(wish: Wish, again: Again) -> date:
    """The first day of a week that is planned again, by which its workbook's dates are read."""
    if wish.start is not None:
        raise input_error("A week that is planned again keeps its first day: leave --start out.")
    return again.issued.options.start


def _first_day(wish: Wish, reading: Reading, again: Again | None) -> date:
    """The first day of the plan; a week that is planned again keeps its own."""
    if again is None:
        start = choose_start(wish.start, reading, date.today())
        tell(f"Planning from {start.day:%Y-%m-%d}, {start.because}.")
        return start.day
    tell(f"Planning again from {again.now:%Y-%m-%d %H:%M} on.")
    for line in again.said:
        tell(line)
    return again.issued.options.start


def _aimed(reading: Reading, wish: Wish) -> tuple[Reading, Known]:
    """The week with the times that the log has taught, at the pace of the confidence asked for."""
    shop, known = reading.shop, nothing_logged(reading.shop)
    if wish.log is not None:
        found = read_log(wish.log, wish.shop or wish.orders, date.today())
        tell_findings(found.findings)
        lesson = learn(shop, found.runs)
        shop, known = lesson.shop, known_from(reading.shop, lesson)
        tell(f"The finisher's times are learned from {len(found.runs)} logged runs.")
    return replace(reading, shop=confident_shop(shop, wish.confidence, known.spreads)), known
