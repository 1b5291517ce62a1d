"""What `brightrun plan --after` does: the rest of a week, from the plan folder issued before."""

from __future__ import annotations

import os
from collections import Counter
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field, replace
from datetime import datetime
from pathlib import Path

from planner.engines import Announce, Engines
from planner.errors import input_error
from planner.finisher.intervals import Known
from planner.finisher.rework import carry_on, send_back
from planner.held import HeldWhy, IssuedAt
from planner.hours import due_minute, when_minute
from planner.options import Options
from planner.records import Plan
from planner.replan import Progress, replan
from planner.replan.lines import pieces_issued
from planner.replan.scrap import Scrapped
from planner.stop import Stop
from planner_io.finish_checks import read_checks
from planner_io.plan_file import read_plan
from planner_io.planning import proven
from planner_io.progress import read_progress
from planner_io.views.ruler import plural
from planner_io.workbook import Reading

MOST_ROWS = 12
"""Moved operations that are listed; the papers have all of them."""


@dataclass(frozen=True)
class Asked:
    """What was asked of planning again, as typed."""

    after: Path | None = None
    now: datetime | None = None
    progress: Path | None = None
    move_charge_min: int = 30


@dataclass(frozen=True)
class Again:
    """An issued plan, when it is planned again, and what happened until then."""

    issued: Plan
    now: datetime
    progress: tuple[Progress, ...]
    said: tuple[str, ...]
    """What the progress file was read as, where that left a choice, and what is doubtful in it."""
    scrapped: tuple[Scrapped, ...] = ()
    """Rows of it that say what was lost."""
    back: Mapping[str, int | None] = field(default_factory=dict[str, int | None])
    """Lots that go back one grade, as a check of their finish says, each with the step that it
    had reached; None for its last one."""

    def pieces(self) -> Mapping[str, int]:
        """The pieces of each issued line, by key."""
        return pieces_issued(self.issued)

    def options(self, options: Options) -> Options:
        """The options of the new plan: the issued plan's first day, from now on."""
        start = self.issued.options.start
        minute = max(0, due_minute(self.now, start))
        return options.model_copy(update={"start": start, "start_min": minute})


def read_again(asked: Asked, clock: datetime) -> Again | None:
    """Read the issued plan and the progress; None when the week is planned for the first time.

    `clock` is what counts as now when it was not said. Raises InputError for what cannot be
    read, with every cell of it.
    """
    if asked.after is None:
        given = {"--now": asked.now, "--progress": asked.progress}
        for name, value in given.items():
            if value is not None:
                raise input_error(
                    f"{name} belongs to planning a week again: give the folder of the plan that "
                    "was issued with --after DIR."
                )
        return None
    issued = read_plan(asked.after)
    now = (asked.now or clock).replace(second=0, microsecond=0)
    if asked.progress is None:
        return Again(issued, now, (), ())
    found = read_progress(asked.progress, issued, now)
    checks = read_checks(asked.progress, issued)
    said = (
        *found.readings,
        *(str(finding) for finding in found.findings),
        *(check.words for check in checks),
    )
    back = {check.lot: check.reached for check in checks if check.goes_back}
    return Again(issued, now, found.rows, said, found.scrapped, back)


def plan_again(
    reading: Reading,
    again: Again,
    options: Options,
    stop: Stop,
    announce: Announce,
    known: Known | None = None,
) -> Plan:
    """The audited plan of the rest of the week; what was found in the workbook goes along.

    Raises AuditError if the plan breaks an invariant.
    """
    engines = Engines(stop=stop, workers=os.cpu_count() or 1, announce=announce)
    orders, shop = carry_on(again.issued, reading.orders, reading.shop)
    back = send_back(again.issued, orders, shop, again.back, options.start_min)
    scrapped = [replace(row, scrap=back.lost(row.scrap)) for row in again.scrapped]
    plan = replan(
        back.issued,
        back.orders,
        reading.stock,
        back.shop,
        options,
        (*again.progress, *back.progress),
        engines,
        scrapped,
    )
    return proven(plan, reading, announce, known)


def again_lines(plan: Plan) -> Iterator[str]:
    """What stayed and what moved, in a few lines; nothing for the first plan of a week."""
    if plan.replan is None:
        return
    counts = Counter(held.why for held in plan.replan.held)
    held = [f"{counts[why]} {why.value}" for why in HeldWhy if counts[why]]
    if plan.replan.paused:
        held.append(f"{len(plan.replan.paused)} paused, with the rest planned again")
    begun = counts[HeldWhy.DONE] + counts[HeldWhy.STARTED]
    rest, moved = len(plan.replan.issued) - begun, plan.replan.moved
    yield f"Held         {', '.join(held) or 'nothing'}"
    yield f"Moved        {len(moved)} of {plural(rest, 'issued operation')} not yet begun"
    for one in moved[:MOST_ROWS]:
        yield f"             {one.operation}: {_at(plan, one.before)} → {_at(plan, one.after)}"
    if len(moved) > MOST_ROWS:
        yield f"             and {len(moved) - MOST_ROWS} more, in the papers"


def _at(plan: Plan, place: IssuedAt) -> str:
    return f"{place.station} {when_minute(place.start_min, plan.options.start)}"
