"""From a workbook to a plan folder: what `brightrun plan` does, apart from speaking."""

from __future__ import annotations

import os
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date, timedelta
from pathlib import Path

from planner.audit import assert_plan_valid
from planner.blanks import make_blanks
from planner.engines import Engines, Report
from planner.errors import Finding, InputError, Severity, has_errors
from planner.finisher.intervals import Known, nothing_logged, with_likely
from planner.options import Options
from planner.orders import OrderLine
from planner.plan import make_plan
from planner.records import Plan
from planner.risk import with_risk
from planner.stop import Stop
from planner_io import plan_file
from planner_io.folder import write_folder
from planner_io.packet import write_packet
from planner_io.week_book import write_week
from planner_io.workbook import Reading, read_workbook

FAR = timedelta(days=3 * 366)
"""Due dates further than this from the start of the plan are mistyped."""


@dataclass(frozen=True)
class Start:
    """The first day of a plan, and who says so."""

    day: date
    because: str


def choose_start(asked: date | None, reading: Reading, today: date) -> Start:
    """The day asked for, else the workbook's, else the next Monday after `today`.

    Raises InputError when order lines are due so far from it that one of the dates is wrong.
    """
    start = Start(today + timedelta(days=7 - today.weekday()), "next Monday")
    if asked is not None:
        start = Start(asked, "as asked for")
    elif reading.start is not None:
        start = Start(reading.start, "as the workbook says")
    far = [line for line in reading.orders if abs(line.due.date() - start.day) > FAR]
    if far:
        raise InputError(tuple(_far(line, start.day) for line in far))
    return start


def _far(line: OrderLine, start: date) -> Finding:
    message = (
        f"Line {line.key} is due on {line.due.date()}, years away from the plan's start on "
        f"{start}: correct its date, or the start."
    )
    return _of_line(line, Severity.ERROR, message)


def _past(line: OrderLine, start: date) -> Finding:
    message = (
        f"Line {line.key} was due on {line.due.date()}, before the plan begins on {start}, so it "
        "is late whatever is done: correct its date if it is mistyped."
    )
    return _of_line(line, Severity.WARNING, message)


def _of_line(line: OrderLine, severity: Severity, message: str) -> Finding:
    sheet, _, cell = line.place.rpartition("!")
    return Finding(
        severity=severity,
        message=message,
        sheet=sheet or None,
        cell=cell or None,
        subject=line.key,
    )


def read_week(orders: Path, shop: Path | None, keep_going: bool) -> Reading:
    """Read a workbook and find everything that speaks against planning it.

    Raises InputError with every finding if one is an error, unless told to keep going with
    the good rows.
    """
    reading = read_workbook(orders, shop)
    findings = (*reading.findings, *_of_blanks(reading))
    if has_errors(findings) and not (keep_going and reading.orders):
        raise InputError(findings)
    return reading


def _of_blanks(reading: Reading) -> Sequence[Finding]:
    return make_blanks(reading.orders, reading.stock, reading.shop).findings


def plan_week(
    reading: Reading,
    options: Options,
    stop: Stop,
    report: Report,
    known: Known | None = None,
) -> Plan:
    """The audited plan of a week; what was found in the workbook goes along with it.

    `known` is what a log has taught; None for nothing.

    Raises AuditError if the plan breaks an invariant.
    """
    engines = Engines(stop=stop, workers=os.cpu_count() or 1, report=report)
    plan = make_plan(reading.orders, reading.stock, reading.shop, options, engines)
    return proven(plan, reading, report, known)


def proven(plan: Plan, reading: Reading, report: Report, known: Known | None = None) -> Plan:
    """The plan with what was found in its workbook and how sure it is, once its audit has passed.

    Lines due before the workbook's own start were told when it was read.

    Raises AuditError if the plan breaks an invariant.
    """
    start, told = plan.options.start, reading.start or date.min
    past = (_past(line, start) for line in plan.orders if told <= line.due.date() < start)
    plan = plan.model_copy(update={"findings": (*reading.findings, *plan.findings, *past)})
    report("risk", 0.0, "")
    known = known or nothing_logged(reading.shop)
    plan = with_likely(with_risk(plan, known.spreads), known)
    report("audit", 0.0, "")
    assert_plan_valid(plan)
    return plan


def write_plan(plan: Plan, folder: Path, report: Report) -> None:
    """Write plan.json and the papers whole or not at all."""
    report("papers", 0.0, "")
    files = {
        plan_file.NAME: plan_file.plan_bytes(plan),
        "week.xlsx": write_week(plan),
        "packet.pdf": write_packet(plan),
    }
    write_folder(folder, files)
