"""What of the workbook is not in the plan, so that planned and left out add up to its rows."""

from __future__ import annotations

import re

from planner.errors import Severity
from planner.records import Plan


def unread_rows(plan: Plan) -> tuple[str, ...]:
    """Rows of the order sheet that could not be read as an order line, such as `Orders 14`.

    They are known by their findings alone: each has an error with a cell on a sheet where other
    order lines stand, and no order line as its subject.
    """
    lines = (*plan.orders, *plan.refused)
    sheets = {line.place.rpartition("!")[0] for line in lines if line.place}
    rows = {
        (finding.sheet, int(re.sub(r"\D", "", finding.cell)))
        for finding in plan.findings
        if finding.severity == Severity.ERROR
        and finding.subject is None
        and finding.sheet in sheets
        and finding.cell
    }
    return tuple(f"{sheet} {row}" for sheet, row in sorted(rows, key=lambda found: found[1]))
