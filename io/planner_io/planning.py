"""From a workbook to a plan folder: what `brightrun plan` does, apart from speaking."""

from __future__ import annotations

import os
from collections.abc import Mapping, Sequence
from datetime import date
from pathlib import Path

from planner.audit import assert_plan_valid
from planner.engines import Announce, Engines
from planner.errors import InputError, has_errors
from planner.finisher.intervals import Known, nothing_logged, with_likely
from planner.options import Options
from planner.plan import make_plan
from planner.records import Plan
from planner.risk import with_risk
from planner.stop import Stop
from planner_io import plan_file
from planner_io.folder import write_folder
from planner_io.packet import write_packet
from planner_io.starts import due_before
from planner_io.week_book import write_week
from planner_io.workbook import Reading, blanks_of, read_workbook
from planner_io.workbook.columns import SheetSpec


def read_week(
    orders: Path,
    shop: Path | None,
    keep_going: bool,
    start: date | None = None,
    issued: Mapping[str, int] | None = None,
    elsewhere: Sequence[SheetSpec] = (),
    today: date | None = None,
) -> Reading:
    """Read a workbook and find everything that speaks against planning it from `start` on;
    `issued`, `elsewhere` and `today` as in `read_workbook`.

    Raises InputError with every finding if one is an error, unless told to keep going with
    the good rows.
    """
    reading = read_workbook(orders, shop, start, issued, elsewhere, today)
    made = blanks_of(reading)
    findings = (*reading.findings, *made.findings)
    if has_errors(findings) and not (keep_going and made.blanks):
        raise InputError(findings)
    return reading


def plan_week(
    reading: Reading,
    options: Options,
    stop: Stop,
    announce: Announce,
    known: Known | None = None,
) -> Plan:
    """The audited plan of a week; what was found in the workbook goes along with it.

    `known` is what a log has taught; None for nothing.

    Raises AuditError if the plan breaks an invariant.
    """
    engines = Engines(stop=stop, workers=os.cpu_count() or 1, announce=announce)
    plan = make_plan(reading.orders, reading.stock, reading.shop, options, engines)
    return proven(plan, reading, announce, known)


def proven(plan: Plan, reading: Reading, announce: Announce, known: Known | None = None) -> Plan:
    """The plan with what was found in its workbook and how sure it is, once its audit has passed.

    Raises AuditError if the plan breaks an invariant.
    """
    past = due_before(plan.orders, reading, plan.options.start)
    plan = plan.model_copy(update={"findings": (*reading.findings, *plan.findings, *past)})
    announce("risk", 0.0, "")
    known = known or nothing_logged(reading.shop)
    plan = with_likely(with_risk(plan, known.spreads), known)
    announce("audit", 0.0, "")
    assert_plan_valid(plan)
    return plan


def write_plan(plan: Plan, folder: Path, announce: Announce, font: Path | None = None) -> None:
    """Write plan.json and the papers whole or not at all; `font` as in `write_packet`."""
    announce("papers", 0.0, "")
    files = {
        plan_file.NAME: plan_file.plan_bytes(plan),
        "week.xlsx": write_week(plan),
        "packet.pdf": write_packet(plan, font=font),
    }
    write_folder(folder, files)
